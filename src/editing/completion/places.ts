import type { Board, Card, Instance, Machine, PinMap } from '../../machine/types.ts';
import { allowedPlaces } from './allowances.ts';
import type { Candidate } from './candidate.ts';
import { claimed, claimText, mapsOfCage, mapsOfCard } from './claims.ts';
import type { Cursor } from './cursor.ts';
import type { Slot } from './grammar.ts';
import { otherItems } from './grammar.ts';
import { ribbonEnds } from './ribbons.ts';
import { withVectors } from './vectors.ts';

/** A connector that a path may lead to, by its path as it is written there. */
interface Reachable {
  readonly path: string;
  readonly pins: PinMap;
  readonly detail: string;
  readonly kind: 'slot' | 'port';
}

/** Contacts, connectors and names for the places of wires, straps, cuts, ribbons, cables and readings. */
export function places(cursor: Cursor, slot: Slot): Candidate[] {
  const { form, stem } = cursor;
  if (form?.id === 'allow') return allowedPlaces(cursor, slot);
  if (form?.id === 'end') return ribbonEnds(cursor);
  if (slot.first !== undefined) return rangeOfPath(cursor, slot.first);
  const path = stem.replace(/\.$/, '');
  const isSupply = form?.id === 'strap' && cursor.scope.supply !== undefined;
  const next = isSupply ? supplyRails(cursor) : path === '' ? roots(cursor) : within(cursor, path);
  const said = new Set(otherItems(slot).map(({ first }) => first));
  return next.filter(({ label }) => !said.has(stem + label));
}

/** Connectors by their paths: within the block, or of the whole machine. */
function reachable({ scope, analysis: { machine } }: Cursor): Reachable[] {
  const { card, backplane } = scope;
  if (card !== undefined) {
    return [...card.edges, ...card.ports].map(({ name, pins }) => ({
      path: name,
      pins,
      kind: 'port',
      detail: `${pins.connector.name}, ${pins.connector.labels.length} contacts`,
    }));
  }
  const prefix = backplane === undefined ? '' : `${backplane.name}.`;
  return machine.instances
    .filter((one) => one.path.startsWith(prefix) && (backplane === undefined || one.backplane === backplane))
    .map((one) => ({ path: one.path.slice(prefix.length), pins: one.pins, ...toldOf(one) }));
}

const toldOf = ({ kind, slot, pins }: Instance): Pick<Reachable, 'kind' | 'detail'> =>
  kind === 'slot'
    ? { kind: 'slot', detail: slot?.board ? `slot with ${slot.board.name}` : 'slot' }
    : { kind: 'port', detail: `${pins.connector.name}, ${pins.connector.labels.length} contacts` };

/** What a path may begin with. */
function roots(cursor: Cursor): Candidate[] {
  const { scope, analysis, form } = cursor;
  const { machine } = analysis;
  const { card, backplane } = scope;
  if (card !== undefined) {
    return [
      ...onward(reachable(cursor), '', 'place'),
      ...chipsOf(cursor, card, scope.board),
      ...(form?.id === 'wire'
        ? []
        : withVectors(claimed(mapsOfCard(machine, card), form?.id === 'strap' ? -1 : 1))),
    ];
  }
  if (backplane !== undefined) {
    // A cut mostly goes through a line, a strap joins rails.
    const order = { signal: form?.id === 'strap' ? -1 : -2, rail: form?.id === 'strap' ? -2 : -1 };
    const named = claimed(mapsOfCage(backplane), 1).map((one) =>
      form?.id === 'wire' ? one : { ...one, rank: one.kind === 'signal' ? order.signal : order.rail },
    );
    const names = withVectors(named);
    return [...onward(reachable(cursor), '', 'place'), ...names];
  }
  const owners: Candidate[] = [
    ...machine.boards.map(
      ({ name, card: its, slot }): Candidate => ({
        label: name,
        kind: 'board',
        rank: 0,
        detail: [its.title === '' ? its.name : its.title, slot && `slot ${slot.label}`]
          .filter(Boolean)
          .join(', '),
      }),
    ),
    ...machine.backplanes.map(
      ({ name }): Candidate => ({ label: name, kind: 'backplane', rank: 0, detail: 'backplane' }),
    ),
    ...machine.supplies
      .filter(({ ports }) => ports.length > 0)
      .map(({ name }): Candidate => ({ label: name, kind: 'supply', rank: 0, detail: 'supply' })),
  ];
  const paths = owners.map((one) => ({ ...one, insert: `${one.label}.`, retrigger: true as const }));
  if (form?.id !== 'reading') return paths;
  // The cage is what readings are mostly taken at; a bare name is the supply's or the backplane's line.
  const cagesFirst = paths.map((one) => (one.kind === 'backplane' ? one : { ...one, rank: 1 }));
  const power = machine.supplies.flatMap(({ rails, grounds }) => [
    ...grounds.map((label): Candidate => ({ label, kind: 'ground', rank: 2, detail: 'ground' })),
    ...rails.map(({ name }): Candidate => ({ label: name, kind: 'rail', rank: 2, detail: 'rail' })),
  ]);
  const lines = claimed(machine.backplanes.flatMap(mapsOfCage), 3);
  return [...cagesFirst, ...power, ...lines.filter(({ label }) => !power.some((one) => one.label === label))];
}

/** What stands behind a path: its contacts where it is a connector, else what leads on. */
function within(cursor: Cursor, path: string): Candidate[] {
  const all = reachable(cursor);
  const connector = all.find((one) => one.path === path);
  if (connector !== undefined) return contactsOf(cursor, connector.pins);
  const board = cursor.scope.card ? undefined : boardOf(cursor, path);
  if (board !== undefined)
    return [...onward(all, `${path}.`, 'place'), ...chipsOf(cursor, board.card, board)];
  const led = onward(all, `${path}.`, 'place');
  return led.length > 0 ? led : chipPins(cursor, path);
}

const boardOf = ({ analysis: { machine } }: Cursor, name: string): Board | undefined =>
  machine.boards.find((board) => board.name === name);

/** The next name of each path that begins so, each once. */
function onward(all: readonly Reachable[], before: string, kind: 'place'): Candidate[] {
  const found = new Map<string, Candidate>();
  for (const { path, detail, kind: its } of all) {
    if (!path.startsWith(before)) continue;
    const [label = ''] = path.slice(before.length).split('.');
    if (found.has(label)) continue;
    const isWhole = before + label === path;
    found.set(label, {
      label,
      kind: isWhole ? its : kind,
      rank: 0,
      detail,
      insert: `${label}.`,
      retrigger: true,
    });
  }
  return [...found.values()];
}

/** The contacts of a connector with what they are; in a cable stretches of one name first. */
function contactsOf({ form }: Cursor, { connector, claims }: PinMap): Candidate[] {
  const singles = connector.labels.map((label, index): Candidate => {
    const claim = claims[index];
    const isSaid = claim !== undefined && claim.name !== '';
    return {
      label,
      kind: 'contact',
      rank: isSaid ? 0 : 1,
      detail: claim ? claimText(claim) : 'nothing said',
    };
  });
  return form?.id === 'join' ? [...stretches({ connector, claims }), ...singles] : singles;
}

function stretches({ connector: { labels }, claims }: Pick<PinMap, 'connector' | 'claims'>): Candidate[] {
  const found: Candidate[] = [];
  for (let from = 0; from < labels.length; from++) {
    const name = claims[from]?.name ?? '';
    let to = from;
    while (name !== '' && claims[to + 1]?.name === name) to++;
    if (to === from) continue;
    found.push({
      label: `${labels[from]}..${labels[to]}`,
      kind: 'contact',
      rank: 0,
      detail: `${to - from + 1} of ${name}`,
    });
    from = to;
  }
  return found;
}

function rangeOfPath(cursor: Cursor, first: string): Candidate[] {
  const dot = first.lastIndexOf('.');
  const pins = reachable(cursor).find(({ path }) => path === first.slice(0, Math.max(dot, 0)))?.pins;
  const from = pins?.connector.indexOf.get(first.slice(dot + 1));
  if (pins === undefined || from === undefined) return [];
  return pins.connector.labels.flatMap((label, index): Candidate[] => {
    const claim = pins.claims[index];
    const isSame = claim?.name === pins.claims[from]?.name;
    return index > from
      ? [{ label, kind: 'contact', rank: isSame ? 0 : 1, detail: claim ? claimText(claim) : 'nothing said' }]
      : [];
  });
}

// ---- chips ----

/** Chips of a card, and those that the text names by a pin only. */
function chipsOf({ analysis: { machine } }: Cursor, card: Card, board: Board | undefined): Candidate[] {
  const found = new Map<string, Candidate>();
  for (const { names, part } of card.chips)
    for (const label of names) found.set(label, { label, kind: 'label', rank: 1, detail: part });
  for (const name of pinsNamed(machine, card, board)) {
    const label = name.slice(0, name.indexOf('.'));
    if (!found.has(label)) found.set(label, { label, kind: 'label', rank: 1, detail: 'named by its pin' });
  }
  return [...found.values()].map((one) => ({ ...one, insert: `${one.label}.`, retrigger: true }));
}

/** Pins of a chip: `U3.` in a card or board block, `GAUGE.U3.` elsewhere. */
function chipPins(cursor: Cursor, path: string): Candidate[] {
  const { scope, analysis } = cursor;
  const [owner = '', ...rest] = path.split('.');
  const board = scope.card ? scope.board : boardOf(cursor, owner);
  const card = scope.card ?? board?.card;
  if (card === undefined) return [];
  const chip = scope.card ? path : rest.join('.');
  return pinsNamed(analysis.machine, card, board)
    .filter((name) => name.startsWith(`${chip}.`))
    .map((name) => ({
      label: name.slice(chip.length + 1),
      kind: 'contact',
      rank: 0,
      detail: `pin of ${chip}`,
    }));
}

/** Pins of chips that the text speaks of on a board, or on the boards of a card: `U3.4`. */
function pinsNamed(machine: Machine, card: Card, board: Board | undefined): string[] {
  const connectors = new Set([...card.edges, ...card.ports].map(({ name }) => name));
  const boards = board ? [board] : machine.boards.filter((one) => one.card === card);
  const names = boards.flatMap((one) => [...(machine.boardNames.get(one)?.keys() ?? [])]);
  return [...new Set(names)].filter(
    (name) => name.includes('.') && !connectors.has(name.slice(0, name.indexOf('.'))),
  );
}

function supplyRails({ scope: { supply } }: Cursor): Candidate[] {
  return supply!.rails.map(({ name }) => ({
    label: name,
    kind: 'rail',
    rank: 0,
    detail: `rail of ${supply!.name}`,
  }));
}
