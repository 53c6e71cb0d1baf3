import type { Reading } from '../machine/types.ts';
import { spokenAmount, spokenEvidence } from './explain.ts';
import type { Step } from './types.ts';

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
