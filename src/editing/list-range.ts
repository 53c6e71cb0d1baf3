import type { Document, Value } from '../language/tree.ts';
import type { Machine } from '../machine/types.ts';
import type { Place } from './place.ts';
import type { Refactoring } from './refactorings.ts';
import { readings } from './roles.ts';
import { isRange, labelsAround, namesOf, placesOf, writtenPlaces, writtenVectors } from './tables.ts';

/** `D0, D1, D2` ⇄ `D0..D2`: the list at a place, names in their order, contacts in that of their connector. */
export function listsAndRanges(machine: Machine, document: Document, place: Place): Refactoring[] {
  const { entry, attribute, offset, inComment } = place;
  if (entry === undefined || inComment) return [];
  const { statement } = entry;
  const values = attribute?.values ?? statement.subject;
  const [first, last] = [values[0], values.at(-1)];
  if (first === undefined || last === undefined) return [];
  const [from, to] = [entry.offset + first.from, entry.offset + last.to];
  if (offset < from || offset > to) return [];
  const written = bothWays(machine, place, values);
  if (written === undefined) return [];
  const now = document.text.slice(from, to);
  const offers = [
    {
      title: 'write as ranges',
      text: written.ranges,
      applies: written.ranges.split(',').length < values.length,
    },
    { title: 'write the ranges out', text: written.list, applies: values.some(isRange) },
  ];
  return offers
    .filter(({ text, applies }) => applies && text !== now)
    .map(({ title, text }) => ({ title, kind: 'refactor.rewrite', splices: [{ from, to, text }] }));
}

function bothWays(
  machine: Machine,
  { entry, attribute, around }: Place,
  values: readonly Value[],
): { readonly ranges: string; readonly list: string } | undefined {
  const { form } = entry!.statement;
  const kind = form === 'numbers' ? undefined : readings[form]?.[attribute?.key ?? '']?.kind;
  if (values.some((value) => value.kind !== 'item')) return undefined;
  if (kind === 'contact') {
    const labels = labelsAround(machine, around);
    const places = labels && placesOf(values, labels);
    if (labels === undefined || places === undefined) return undefined;
    return { ranges: writtenPlaces(places, labels), list: places.map((at) => labels[at]!).join(', ') };
  }
  const names = kind === 'name' || kind === 'label' || kind === 'slot' ? namesOf(values) : undefined;
  return names && { ranges: writtenVectors(names), list: names.join(', ') };
}
