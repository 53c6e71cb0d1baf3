import { items, subjects } from '../../language/tree.ts';
import type { Connector } from '../../machine/types.ts';
import type { Library } from '../../machine/uses.ts';
import type { Candidate, TextChange } from './candidate.ts';
import { saidNames } from './claims.ts';
import type { Cursor } from './cursor.ts';
import { otherItems, type Slot } from './grammar.ts';
import { rangeEnds, withVectors } from './vectors.ts';

/** Names of supplies. One that has the rail of a feed comes first. */
export function supplies({ analysis: { machine } }: Cursor, slot: Slot): Candidate[] {
  const rail = subjects(slot.statement)[0]?.first;
  return machine.supplies.map(({ name, rails, grounds }) => ({
    label: name,
    kind: 'supply',
    rank: rails.some((one) => one.name === rail) || grounds.includes(rail ?? '') ? 0 : 1,
    detail: [...rails.map((one) => one.name), ...grounds].join(', '),
  }));
}

export const connectorText = ({ shape, rows, positions, labels }: Connector): string =>
  `${shape} ${rows === 1 ? positions : `${rows} x ${positions}`}, ${labels.length} contacts`;

/** Connectors: edges for a bus, others for a port. */
export function connectors({ analysis: { machine }, form }: Cursor): Candidate[] {
  const forBus = form?.id === 'bus';
  const isUsual = ({ shape }: Connector): boolean => forBus === (shape === 'edge' || shape === 'din');
  return machine.connectors.map((one) => ({
    label: one.name,
    kind: 'connector',
    rank: isUsual(one) ? 0 : 1,
    detail: connectorText(one),
  }));
}

/** Buses of the machine, and those of published tables, which bring their `use` line along. */
export function buses(cursor: Cursor, slot: Slot): Candidate[] {
  const { machine } = cursor.analysis;
  const group = slot.values.slice(0, slot.index).findLast(({ kind }) => kind === 'item' || kind === 'word');
  const behind = group?.kind === 'item' ? group.first : undefined;
  // `on MAIN …`: the bus is said, and what stood here would be a second name.
  if (behind !== undefined && machine.buses.some(({ name }) => name === behind)) return [];
  const known: Candidate[] = machine.buses.map(({ name, pins }) => ({
    label: name,
    kind: 'bus',
    rank: 0,
    detail: `bus on ${pins.connector.name}, ${pins.connector.labels.length} contacts`,
  }));
  return [...known, ...publishedBuses(cursor)];
}

interface Table {
  readonly id: string;
  readonly bus: string;
  readonly connector: string;
}

/** The published tables: each has one bus. */
export function publishedTables({ published, publishedNames }: Library): Table[] {
  return publishedNames.flatMap((id) => {
    const bus = published(id)?.root.entries.find(({ statement }) => statement.form === 'bus')?.statement;
    const [name, connector] = bus ? [subjects(bus)[0]?.first, items(bus, 'on')[0]?.first] : [];
    return name !== undefined && connector !== undefined ? [{ id, bus: name, connector }] : [];
  });
}

function publishedBuses(cursor: Cursor): Candidate[] {
  const { machine, library } = cursor.analysis;
  return publishedTables(library)
    .filter(({ bus }) => !machine.buses.some(({ name }) => name === bus))
    .map(({ id, bus, connector }) => ({
      label: bus,
      kind: 'bus',
      rank: 2,
      detail: `published table ${id}, on ${connector}`,
      also: [useLine(cursor, id)],
    }));
}

/** A `use` behind the file's last one, or behind its first lines. */
function useLine({ document }: Cursor, id: string): TextChange {
  const { root, lines } = document;
  const heads = root.entries.filter(({ statement }) => ['pinout', 'title', 'use'].includes(statement.form));
  const last = heads.at(-1);
  const line = last && lines[last.line];
  const at = line === undefined ? 0 : line.start + line.text.length + line.eol.length;
  const use = `use published "${id}"`;
  return {
    from: at,
    to: at,
    text: line !== undefined && line.eol === '' ? `\n${use}` : `${use}${line?.eol ?? '\n'}`,
  };
}

/** Backplanes: those that no `fitted` block describes first. */
export function backplanes({ analysis: { machine }, form }: Cursor): Candidate[] {
  return machine.backplanes.map(({ name, slots, described }) => ({
    label: name,
    kind: 'backplane',
    rank: form?.id === 'fitted' && described ? 1 : 0,
    detail: `${slots.length} slots`,
  }));
}

/** Cards: those that are nowhere yet first; for a slot, those made for its bus. */
export function cards({ analysis: { machine }, scope: { backplane }, elsewhere }: Cursor): Candidate[] {
  const placed = new Set(machine.boards.filter(({ source }) => elsewhere(source)).map(({ card }) => card));
  const buses = new Set(backplane?.buses.map(({ bus }) => bus));
  return machine.cards.map((card) => {
    const fits =
      backplane === undefined ? card.edges.length === 0 : card.edges.some(({ bus }) => bus && buses.has(bus));
    const rank = (placed.has(card) ? 1 : 0) + (fits ? 0 : 2);
    const where = placed.has(card) ? 'placed already' : 'not placed yet';
    return { label: card.name, kind: 'card', rank, detail: [card.title, where].filter(Boolean).join(', ') };
  });
}

/** Connectors of the card for `at`: ports first, then edges. */
export function ports({ scope }: Cursor): Candidate[] {
  const owner = scope.card ?? scope.backplane;
  const edges = scope.card?.edges ?? [];
  const one = (name: string, connector: Connector, rank: number): Candidate => ({
    label: name,
    kind: 'port',
    rank,
    detail: `${connector.name}, ${connectorText(connector)}`,
  });
  return [
    ...(owner?.ports ?? []).map(({ name, pins }) => one(name, pins.connector, 0)),
    ...edges.map(({ name, pins }) => one(name, pins.connector, 1)),
  ];
}

/** Names for a new port: the next `J`; for an edge: places of the slots that carry its bus. */
export function newPorts(cursor: Cursor): Candidate[] {
  const { scope, form, analysis, elsewhere } = cursor;
  const { machine } = analysis;
  const owner = scope.card ?? scope.backplane ?? scope.supply;
  if (owner === undefined) return [];
  if (form?.id === 'edge') {
    const names = machine.backplanes.flatMap(({ buses }) => buses.map(({ place }) => place).filter(Boolean));
    return [...new Set(names)].map((label) => ({
      label,
      kind: 'port',
      rank: 1,
      detail: 'as on the backplane',
    }));
  }
  const taken = new Set(owner.ports.filter(({ source }) => elsewhere(source)).map(({ name }) => name));
  const spoken = [...portsNamed(cursor)].filter((name) => !taken.has(name));
  return [
    ...spoken.map(
      (label): Candidate => ({ label, kind: 'port', rank: 0, detail: 'named, not yet declared' }),
    ),
    { label: nextOf(scope.supply ? 'P' : 'J', taken), kind: 'port', rank: 1, detail: 'next free name' },
  ];
}

/** Connectors that the block's own lines speak of, and the ends of ribbons. */
function portsNamed({ scope: { card, backplane, supply }, analysis: { machine } }: Cursor): Set<string> {
  const edges = new Set(card?.edges.map(({ name }) => name));
  const own = [...(card?.uses ?? []), ...(card?.takes ?? [])].map(({ at }) => at);
  const biased = (card?.biases ?? []).map(({ place }) => (place?.word === 'at' ? place.of : undefined));
  const owners = [
    backplane?.name,
    supply?.name,
    ...machine.boards.flatMap((one) => (one.card === card ? [one.name] : [])),
  ];
  const ends = machine.ribbons.flatMap((ribbon) =>
    ribbon.ends.map(({ place }) => (owners.includes(place.split('.')[0]) ? place.split('.')[1] : undefined)),
  );
  const all = [...own, ...biased, ...ends].filter(
    (name): name is string => name !== undefined && !edges.has(name),
  );
  return new Set(all);
}

/** The first of `J1`, `J2` … that is not taken. */
function nextOf(letter: string, taken: ReadonlySet<string>): string {
  for (let n = 1; ; n++) if (!taken.has(`${letter}${n}`)) return `${letter}${n}`;
}

/** Names that tell boards of one card apart, or the part that a board may lack. */
export function newNames({ scope, form, analysis: { machine }, elsewhere }: Cursor, slot: Slot): Candidate[] {
  if (form?.id === 'slot' || form?.id === 'loose') {
    const card =
      form.id === 'slot' ? items(slot.statement, 'is')[0]?.first : subjects(slot.statement)[0]?.first;
    if (card === undefined) return [];
    const taken = new Set(machine.boards.filter(({ source }) => elsewhere(source)).map(({ name }) => name));
    const free = [...'ABCDEFGH'].map((letter) => `${card}-${letter}`).filter((name) => !taken.has(name));
    return free
      .slice(0, 2)
      .map((label, rank) => ({ label, kind: 'board', rank, detail: `a name for this ${card}` }));
  }
  if (form?.id === 'chip') {
    const chips = new Set(scope.card?.chips.flatMap((one) => (elsewhere(one.source) ? one.names : [])));
    return [{ label: nextOf('U', chips), kind: 'label', rank: 0, detail: 'next free name' }];
  }
  const biases = [
    ...machine.cards.flatMap((card) => card.biases),
    ...machine.backplanes.flatMap((one) => one.biases),
  ];
  const mine = (scope.card ?? scope.backplane)?.biases ?? [];
  const here = new Set(mine.flatMap(({ as, source }) => (as !== undefined && elsewhere(source) ? [as] : [])));
  const usual = biases.flatMap(({ as }) => (as !== undefined && !here.has(as) ? [as] : []));
  // Lines of one removable part share its name.
  return [...new Set([nextOf('RN', here), ...here, ...usual])].map((label) => ({
    label,
    kind: 'label',
    rank: here.has(label) ? 1 : 0,
    detail: here.has(label) ? 'the same part as another line' : 'a part that a board may lack',
  }));
}

/** Parts of the card that a board may be without. */
export function removable({ scope: { card, board } }: Cursor, slot: Slot): Candidate[] {
  if (card === undefined) return [];
  const gone = board?.without ?? new Set<string>();
  const chips = card.chips.flatMap(({ names, part }) =>
    names.map((label): Candidate => ({ label, kind: 'label', rank: 0, detail: part })),
  );
  const packs = card.biases.flatMap(({ as, word }): Candidate[] =>
    as === undefined ? [] : [{ label: as, kind: 'label', rank: 0, detail: word }],
  );
  const all = [...new Map([...chips, ...packs].map((one) => [one.label, one])).values()];
  if (slot.first !== undefined) return rangeEnds(slot.first, all);
  const said = new Set(saidNames(otherItems(slot)));
  const left = all.filter(({ label }) => !said.has(label));
  return withVectors(left.map((one) => (gone.has(one.label) ? { ...one, rank: 1 } : one)));
}

/** The next free name of a ribbon or cable. */
export function newRibbons({ form, analysis: { machine }, elsewhere }: Cursor): Candidate[] {
  const taken = new Set(machine.ribbons.filter(({ source }) => elsewhere(source)).map(({ name }) => name));
  const kind = form?.id === 'cable' ? 'cable' : 'ribbon';
  return [{ label: nextOf(kind === 'cable' ? 'C' : 'W', taken), kind, rank: 0, detail: 'next free name' }];
}
