import { potentialAt } from '../analysis/potential.ts';
import type { Evidence, Reading } from '../machine/types.ts';
import { claimOf, spokenAmount, spokenEvidence } from './explain.ts';
import type { Step, View } from './types.ts';

/** What the meter showed: `open`, `0.2 ohm`, `5.02 V`. */
export function spokenReading({ open, ohms, volts }: Reading): string {
  if (open) return 'open';
  if (ohms !== undefined) return spokenAmount(ohms, 'ohm');
  return spokenAmount(volts ?? 0, 'V');
}

/** A reading as one of the statements that explain a finding. */
export function readingStep(reading: Reading): Step {
  return {
    contact: `${reading.fromText} to ${reading.toText}`,
    signal: spokenReading(reading),
    evidence: spokenEvidence(reading.evidence),
    source: reading.source,
  };
}

/** What makes a place a line of its own, and where that is said. */
export interface Line {
  readonly name: string;
  readonly power: boolean;
  readonly node: number;
  readonly evidence: Evidence;
}

/** The place's own named claim, else the first of its net, else the rail or ground of a supply that it is. */
export function lineAt(view: View, node: number): Line | undefined {
  const own = claimOf(view, node);
  const at =
    own !== undefined && own.name !== ''
      ? { claim: own, contact: node }
      : view.nets.at(node).claims.find(({ claim }) => claim.name !== '');
  if (at !== undefined) {
    const { name, kind, evidence } = at.claim;
    return { name, power: kind === 'rail' || kind === 'ground', node: at.contact, evidence };
  }
  const potential = potentialAt(view.machine, view.nets, node);
  return potential && { name: potential.name, power: true, node, evidence: {} };
}
