import { familyNamed, partNamed, regulatorNamed } from '../knowledge/lookup.ts';
import { alwaysDrives } from '../knowledge/ordinary.ts';
import type { Family, LogicInput, LogicOutput, Part, Regulator } from '../knowledge/types.ts';
import { keeping } from '../machine/keep.ts';
import type { Card, CardUse, Machine } from '../machine/types.ts';

/** What is known of a chip or family by its name: the file's own tables first, then the shipped ones. */
export interface Known {
  readonly name: string;
  readonly input?: LogicInput;
  readonly output?: LogicOutput;
  readonly part?: Part;
  readonly family?: Family;
}

export function knownPart(machine: Machine, name: string): Known | undefined {
  const asked = askedOf(machine);
  if (asked.has(name)) return asked.get(name);
  const known = lookUp(machine, name);
  asked.set(name, known);
  return known;
}

/** Names are read slowly, and there is one for each board and line. */
const askedOf = keeping((_: Machine) => new Map<string, Known | undefined>());

function lookUp(machine: Machine, name: string): Known | undefined {
  const { families, parts } = machine.ownParts;
  const key = name.toUpperCase();
  const family = families.get(key) ?? familyNamed(name);
  const part = parts.get(key) ?? (family ? undefined : partNamed(name));
  const found = part ?? family;
  if (found === undefined) return undefined;
  return {
    name: found.name,
    ...(found.input ? { input: found.input } : {}),
    ...(found.output ? { output: found.output } : {}),
    ...(part ? { part } : {}),
    ...(family ? { family } : {}),
  };
}

export function knownRegulator(machine: Machine, name: string): Regulator | undefined {
  return machine.ownParts.regulators.get(name.toUpperCase()) ?? regulatorNamed(name);
}

/**
 * Whether the part's own output is known, rather than taken for that of an ordinary gate of its family: an unlisted
 * 74LS257 is three-state all the same.
 */
export function outputIsKnown({ part, output }: Known): boolean {
  if (part === undefined || output === undefined) return false;
  if (part.family === undefined) return true;
  return output !== familyNamed(part.family)?.output || alwaysDrives(part.name, part.family);
}

/**
 * How a part pulls a line: as an open collector, but for one that is certain to be a totem-pole (a 7404 in the socket of
 * a 7406). Three-state parts pull too: data tied low, and enabled to pull.
 */
export function pulledBy(known: Known | undefined): 'open-collector' | 'totem-pole' {
  const totemPole = known?.output?.kind === 'totem-pole' && outputIsKnown(known);
  return totemPole ? 'totem-pole' : 'open-collector';
}

/** The kind of output behind a use: as said, else by its part; undefined where neither tells. */
export function outputKind(machine: Machine, use: CardUse): LogicOutput['kind'] | undefined {
  if (use.output !== undefined) return use.output;
  const known = use.part === undefined ? undefined : knownPart(machine, use.part);
  return use.kind === 'pulls' ? pulledBy(known) : known?.output?.kind;
}

/** The parts by which a card drives and hears its lines, each once. */
export const usedParts = ({ uses }: Card): ReadonlySet<string> => partsIn(uses);

const partsIn = keeping((uses: Card['uses']): ReadonlySet<string> => {
  const used = new Set<string>();
  for (const { part } of uses) if (part !== undefined) used.add(part);
  return used;
});
