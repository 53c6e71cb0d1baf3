import type { Item } from '../../language/tree.ts';
import { items, subjects } from '../../language/tree.ts';
import type { Connector, PinMap } from '../../machine/types.ts';
import type { Candidate } from './candidate.ts';
import { claimText } from './claims.ts';
import type { Cursor } from './cursor.ts';
import { otherItems, type Slot } from './grammar.ts';

/** Contacts at the left of a table's `=`, and those that other lines name. */
export function contacts(cursor: Cursor, slot: Slot): Candidate[] {
  const { form, scope } = cursor;
  const connector = scope.pins?.connector ?? scope.connector;
  switch (form?.id) {
    case 'entry':
      return scope.pins === undefined ? [] : freeContacts(cursor, scope.pins, slot);
    case 'feed':
      return feedContacts(cursor, slot);
    case 'end':
      return [];
    case 'key':
      return connector ? neighbours(connector.labels, slot) : [];
    case 'slots':
      return slotKeys(cursor, slot);
    case 'numbers':
      return connector ? numberings(connector) : [];
    default:
      return connector ? allContacts(connector, slot) : [];
  }
}

/** Contacts of which nothing is said on another line, in the connector's order: the next free run first. */
function freeContacts(cursor: Cursor, pins: PinMap, slot: Slot): Candidate[] {
  const { elsewhere, scope } = cursor;
  const { connector } = pins;
  const said = scope.port?.bus ? pins.own : pins.claims;
  // The in and out contacts of a chain are two lists of one line.
  const line = [...subjects(slot.statement), ...items(slot.statement, 'out')];
  const taken = new Set(line.flatMap((item) => indicesOf(item, connector)));
  const isFree = (index: number): boolean =>
    !taken.has(index) && !(said[index] && elsewhere(said[index].source)) && !pins.pulled.has(index);
  const all = connector.labels.map((_, index) => index);
  const free = all.filter(isFree);
  // What is said of some slots only leaves the contact free in the others.
  const elsewhereFree = all.filter(
    (index) => !taken.has(index) && !isFree(index) && said[index]?.slots !== undefined,
  );
  const inherited = (index: number): string => {
    const claim = scope.port?.bus ? pins.claims[index] : undefined;
    return claim === undefined || claim === said[index] ? 'free' : `the bus: ${claimText(claim)}`;
  };
  const one = (index: number, rank: number): Candidate => ({
    label: connector.labels[index]!,
    kind: 'contact',
    rank,
    detail: inherited(index),
  });
  if (slot.first !== undefined) return runEnds(slot.first, connector, isFree).map((index) => one(index, 0));
  const inOthers = elsewhereFree.map((index) => ({ ...one(index, 3), detail: 'said in some slots only' }));
  const [first] = free;
  if (first === undefined) return inOthers;
  return [
    ...inOthers,
    one(first, 0),
    ...freeRuns(first, connector, isFree),
    ...free.slice(1).map((index) => one(index, 2)),
  ];
}

/** Ranges from the next free contact on: as far as all are free, and every second where its neighbours are not. */
function freeRuns(first: number, connector: Connector, isFree: (index: number) => boolean): Candidate[] {
  const { labels } = connector;
  const reach = (step: number): number => {
    let last = first;
    while (isFree(last + step) && sameRow(labels, first, last + step)) last += step;
    return last;
  };
  const candidate = (last: number, step: number): Candidate => ({
    label: `${labels[first]}..${labels[last]}${step > 1 ? ` step ${step}` : ''}`,
    kind: 'contact',
    rank: 1,
    detail: `${(last - first) / step + 1} free contacts`,
  });
  const [next, second] = [reach(1), reach(2)];
  const runs: Candidate[] = [];
  if (next > first) runs.push(candidate(next, 1));
  const alternates = connector.shape === 'header' || next === first;
  if (alternates && second > first + 2) runs.push(candidate(second, 2));
  return runs;
}

/** Indices that may end a range, the farthest of the run first, then what lies behind a gap. */
function runEnds(
  start: string,
  { labels, indexOf }: Connector,
  isFree: (index: number) => boolean,
): number[] {
  const first = indexOf.get(start);
  if (first === undefined) return [];
  let last = first;
  while (isFree(last + 1) && sameRow(labels, first, last + 1)) last++;
  const run = Array.from({ length: last - first }, (_, i) => last - i);
  const others = labels.map((_, index) => index).filter((index) => index > last && isFree(index));
  return [...run, ...others];
}

/** Whether two labels count in one row: `1` and `22`, `A` and `Z`, `a1` and `a32`, not `22` and `A`. */
function sameRow(labels: readonly string[], one: number, other: number): boolean {
  const row = (index: number): string | undefined => {
    const label = labels[index];
    if (label === undefined) return undefined;
    return /\d$/.test(label) ? label.replace(/\d+$/, '') : `letters ${label.length}`;
  };
  return row(other) !== undefined && row(one) === row(other);
}

/** Indices of an item's contacts; none where the connector does not have them. */
export function indicesOf({ first, last, step = 1 }: Item, { indexOf }: Connector): number[] {
  const from = indexOf.get(first);
  const to = last === undefined ? from : indexOf.get(last);
  if (from === undefined || to === undefined || step < 1) return [];
  const by = from <= to ? step : -step;
  return Array.from({ length: Math.floor((to - from) / by) + 1 }, (_, i) => from + i * by);
}

function feedContacts({ scope }: Cursor, slot: Slot): Candidate[] {
  const rail = slot.statement.subject[0];
  const name = rail?.kind === 'item' ? rail.first : '';
  const taken = new Set(otherItems(slot).map(({ first }) => first));
  return (scope.backplane?.buses ?? []).flatMap(({ place, bus }) =>
    bus.pins.connector.labels.flatMap((label, index): Candidate[] => {
      const claim = bus.pins.claims[index];
      if (taken.has(label)) return [];
      const isRail = claim?.name === name;
      const full = scope.backplane!.buses.length > 1 && place !== '' ? `${place}.${label}` : label;
      return [
        {
          label: full,
          kind: 'contact',
          rank: isRail ? 0 : 1,
          detail: claim ? claimText(claim) : 'nothing said',
        },
      ];
    }),
  );
}

/** Contacts for a key: the second of two is the one behind the first. */
function neighbours(labels: readonly string[], slot: Slot): Candidate[] {
  const [one] = otherItems(slot);
  const after = slot.index > 0 && one ? labels.indexOf(one.first) + 1 : -1;
  return labels.map((label, index) => ({ label, kind: 'contact', rank: index === after ? 0 : 1 }));
}

function slotKeys({ analysis: { machine } }: Cursor, slot: Slot): Candidate[] {
  const on = slot.statement.attributes.find(({ key }) => key === 'on')?.values ?? [];
  const names = on.flatMap((value) => (value.kind === 'item' ? [value.first] : []));
  const bus = machine.buses.find(({ name }) => names.includes(name));
  return bus ? neighbours(bus.pins.connector.labels, slot) : [];
}

function allContacts({ labels }: Connector, slot: Slot): Candidate[] {
  const taken = new Set(otherItems(slot).map(({ first }) => first));
  const left = slot.first === undefined ? labels : labels.slice(labels.indexOf(slot.first) + 1);
  return left.filter((label) => !taken.has(label)).map((label) => ({ label, kind: 'contact', rank: 0 }));
}

/** Usual labels of a connector of that shape. */
function numberings({ shape, rows, positions }: Connector): Candidate[] {
  const one = (label: string, detail: string): Candidate => ({ label, kind: 'value', rank: 0, detail });
  if (rows === 1) return [one(`1..${positions}`, 'one row')];
  const letters = shape === 'edge' && rows === 2 && positions <= 22 ? LETTERS[positions - 1] : undefined;
  const byRow = Array.from(
    { length: rows },
    (_, row) => `${'abcdefgh'[row]}1..${'abcdefgh'[row]}${positions}`,
  );
  return [
    ...(letters
      ? [one(`1..${positions}, A..${letters}`, 'component side in numbers, wiring side in letters')]
      : []),
    one(`1..${rows * positions}`, 'row by row'),
    ...(shape === 'din' && rows <= 8 ? [one(byRow.join(', '), 'row by row')] : []),
  ];
}

/** Letters of a wiring side, without G I O Q. */
const LETTERS = 'ABCDEFHJKLMNPRSTUVWXYZ';
