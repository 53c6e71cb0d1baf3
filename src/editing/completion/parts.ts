import { spokenAmount } from '../../checks/explain.ts';
import { families } from '../../knowledge/families.ts';
import { familyNamed, partNamed, regulatorNamed } from '../../knowledge/lookup.ts';
import { parts } from '../../knowledge/parts.ts';
import { regulators } from '../../knowledge/regulators.ts';
import type { Family, LogicOutput, Part, Regulator } from '../../knowledge/types.ts';
import { has, items, quantity, subjects } from '../../language/tree.ts';
import { measure } from '../../language/units.ts';
import { voltsOfName } from '../../machine/names.ts';
import type { Machine, Output } from '../../machine/types.ts';
import type { Candidate } from './candidate.ts';
import type { Cursor } from './cursor.ts';
import type { Slot } from './grammar.ts';

/** Parts, families and regulators that can do what the line says; those that the machine uses for it first. */
export function partNames(cursor: Cursor, slot: Slot): Candidate[] {
  const { form, analysis } = cursor;
  const { machine } = analysis;
  switch (form?.id) {
    case 'makes':
      return regulatorsFor(machine, slot);
    case 'like':
      return [...ownFamilies(machine), ...families.map((one) => familyOf(one, 1))];
    case 'chip':
      return [...ownParts(machine), ...usedChips(cursor), ...chipParts()];
    case 'family':
    case 'parttable':
      return [];
    default:
      return drivers(cursor, slot);
  }
}

const ownFamilies = ({ ownParts: { families: own } }: Machine): Candidate[] =>
  [...own.values()].map((one) => ({ ...familyOf(one, 0), detail: 'a family of this machine' }));

const ownParts = ({ ownParts: { parts: own } }: Machine): Candidate[] =>
  [...own.values()].map(({ name }) => ({
    label: name,
    kind: 'part',
    rank: 0,
    detail: 'a part of this machine',
  }));

const familyOf = ({ name, title }: Family, rank: number): Candidate => ({
  label: name,
  kind: 'family',
  rank,
  detail: title,
});

// ---- drivers and receivers ----

/** How well something does what the line says: the lower the better; undefined where it cannot. */
function fitness(form: string, wanted: Output | undefined, one: Part | Family): number | undefined {
  const { input, output, title } = one;
  if (form === 'receives')
    return input === undefined ? undefined : /receiver|buffer|Schmitt/.test(title) ? 1 : 2;
  if (output === undefined || (form === 'transceives' && input === undefined)) return undefined;
  if (wanted !== undefined && output.kind !== wanted) return undefined;
  if (form === 'pulls') return output.kind === 'open-collector' ? 1 : undefined;
  if (output.kind === 'open-collector' && wanted === undefined) return form === 'drives' ? 3 : undefined;
  const isTransceiver = /transceiver/.test(title);
  if (form === 'transceives') return isTransceiver ? 1 : output.kind === 'three-state' ? 2 : undefined;
  return isTransceiver ? 2 : /buffer|driver/.test(title) ? 1 : 2;
}

const OUTPUTS: readonly Output[] = ['three-state', 'totem-pole', 'open-collector'];

function drivers(cursor: Cursor, slot: Slot): Candidate[] {
  const { form, analysis } = cursor;
  const { machine } = analysis;
  const job = form!.id === 'starts' || form!.id === 'passes' ? 'drives' : form!.id;
  const wanted = OUTPUTS.find((one) => has(slot.statement, one));
  const used = usedFor(cursor, form!.id).map((one) => ({ ...one, rank: 0 }));
  const able = <T extends Part | Family>(
    list: Iterable<T>,
    more: number,
    told: (one: T) => Candidate,
  ): Candidate[] =>
    [...list].flatMap((one) => {
      const fit = fitness(job, wanted, one);
      return fit === undefined ? [] : [{ ...told(one), rank: fit + more }];
    });
  // A family alone says what an input is; of an output its kind would be a guess.
  const behind = job === 'receives' ? -1.5 : 2;
  return once([
    ...able(machine.ownParts.parts.values(), 0, partOf).map((one) => ({ ...one, rank: -1 })),
    ...used,
    ...able(parts, 0, partOf),
    ...able(machine.ownParts.families.values(), behind, (one) => familyOf(one, 0)),
    ...able(families, behind, (one) => familyOf(one, 0)),
  ]);
}

const partOf = ({ name, title, output }: Part): Candidate => ({
  label: name,
  kind: 'part',
  rank: 0,
  detail: [title, sinking(output)].filter(Boolean).join(', '),
});

/** The most that an output sinks. */
function sinking(output: LogicOutput | undefined): string {
  const most = output?.low.at(-1);
  return most === undefined ? '' : `sinks ${spokenAmount(most.current, 'A')}`;
}

/** Parts that the machine uses for the same job, the most used first. */
function usedFor({ analysis: { machine }, elsewhere }: Cursor, form: string): Candidate[] {
  const counts = new Map<string, number>();
  for (const { uses } of machine.cards) {
    let line: unknown;
    for (const { kind, part, source } of uses) {
      if (kind !== form || part === undefined || source === line || !elsewhere(source)) continue;
      line = source;
      counts.set(part, (counts.get(part) ?? 0) + 1);
    }
  }
  return ranked(counts).map((name) => named(machine, name));
}

const ranked = (counts: ReadonlyMap<string, number>): string[] =>
  [...counts].sort(([, a], [, b]) => b - a).map(([name]) => name);

/** A part or family as it is printed on the board. */
function named(machine: Machine, name: string): Candidate {
  const own = machine.ownParts;
  const key = name.toUpperCase();
  const family = own.families.get(key) ?? familyNamed(name);
  if (family !== undefined) return { ...familyOf(family, 0), label: name };
  const part = own.parts.get(key) ?? partNamed(name);
  return part
    ? { ...partOf(part), label: name }
    : { label: name, kind: 'part', rank: 0, detail: 'used in this machine' };
}

function once(list: readonly Candidate[]): Candidate[] {
  const best = new Map<string, Candidate>();
  for (const one of list) {
    const known = best.get(one.label);
    if (known === undefined || known.rank > one.rank) best.set(one.label, one);
  }
  return [...best.values()];
}

// ---- chips ----

/** Chips that other cards name, and those of the tables whose rails matter. */
function usedChips({ analysis: { machine }, elsewhere }: Cursor): Candidate[] {
  const counts = new Map<string, number>();
  for (const { chips } of machine.cards)
    for (const { part, source } of chips)
      if (elsewhere(source)) counts.set(part, (counts.get(part) ?? 0) + 1);
  return ranked(counts).map((name) => {
    const part = machine.ownParts.parts.get(name.toUpperCase()) ?? partNamed(name);
    return { ...(part ? chipOf(part, 1) : named(machine, name)), label: name, rank: 1 };
  });
}

const chipParts = (): Candidate[] => parts.map((one) => chipOf(one, one.rails === undefined ? 3 : 2));

function chipOf({ name, title, rails = [] }: Part, rank: number): Candidate {
  const needs = rails.map(({ volts }) => spokenAmount(volts, 'V')).join(', ');
  return { label: name, kind: 'part', rank, detail: needs === '' ? title : `${title}: ${needs}` };
}

// ---- regulators ----

/** Regulators that give the rail from what the line names: of that polarity and voltage first. */
function regulatorsFor(machine: Machine, { statement }: Slot): Candidate[] {
  const said = quantity(statement, 'voltage');
  const rail = subjects(statement)[0]?.first ?? '';
  const from = items(statement, 'from')[0]?.first;
  const volts = (said && measure(said, 'voltage')?.low) ?? voltsOfName(rail) ?? railVolts(machine, rail);
  const input = from === undefined ? undefined : (voltsOfName(from) ?? railVolts(machine, from));
  const sign = Math.sign(volts ?? input ?? 0);
  const one = ({ name, title, polarity, output, maxInput }: Regulator, own: boolean): Candidate[] => {
    if (sign !== 0 && polarity !== sign) return [];
    const gives = output === undefined ? 1 : volts === undefined || Math.abs(output - volts) < 0.3 ? 0 : 3;
    const stands = input === undefined || Math.abs(input) <= maxInput ? 0 : 2;
    const detail = own ? 'a regulator of this machine' : `${title}, up to ${maxInput} V in`;
    return [{ label: name, kind: 'regulator', rank: gives + stands - (own ? 1 : 0), detail }];
  };
  const used = machine.cards
    .flatMap(({ makes }) => makes)
    .flatMap(({ part }) => (part !== undefined && !known.has(part) ? [part] : []))
    .flatMap((part) => {
      const regulator = regulatorNamed(part);
      return regulator ? one({ ...regulator, name: part }, false) : [];
    });
  return once([
    ...[...machine.ownParts.regulators.values()].flatMap((own) => one(own, true)),
    ...regulators.flatMap((tabled) => one(tabled, false)),
    ...used,
  ]);
}

const known = new Set(regulators.map(({ name }) => name));

/** V of a rail that is declared under a name that says none. */
function railVolts({ railNames }: Machine, name: string): number | undefined {
  const [rail] = railNames.rails.get(name) ?? [];
  return rail?.low;
}
