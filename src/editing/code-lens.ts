import { percentKnown, tallyOf } from '../analysis/tally.ts';
import { countsOf } from '../checks/severities.ts';
import type { Finding } from '../checks/types.ts';
import type { Entry } from '../language/tree.ts';
import { subjects } from '../language/tree.ts';
import type { Backplane, Board, Bus, Card, Machine, Ribbon, Source } from '../machine/types.ts';
import { harmless } from '../reports/places.ts';
import { placesOf } from './declared.ts';
import { counted } from './markdown.ts';
import type { Analysis } from './project.ts';
import { spokenCounts } from './status.ts';

/** A line of small print over a statement. */
export interface Lens {
  /** The heading that it stands over. */
  readonly from: number;
  readonly to: number;
  readonly title: string;
  /** The places that it counts: a click lists them. */
  readonly places: readonly Source[];
}

/** How far the buses, backplanes, cards, ribbons and fitted blocks of a file have come. */
export function lensesIn(
  { machine, documents, findings }: Pick<Analysis, 'machine' | 'documents' | 'findings'>,
  file: string,
): Lens[] {
  const document = documents.get(file);
  if (document === undefined) return [];
  const declared = placesOf(machine, file);
  const boards = boardsByCard(machine);
  return document.root.entries.flatMap((entry) => {
    const from = entry.offset + entry.statement.from;
    const to = entry.offset + entry.statement.to;
    const lens: LensOf = (title, places = []) => ({ from, to, title: titled(title), places });
    const place = declared.get(from);
    switch (place?.kind) {
      case 'bus':
        return ofBus(place.of, lens, findingsOnBus(place.of, findings, file, entry, document.lines));
      case 'backplane':
        return [lens(spokenSlots(place.of), sourcesOf(place.of.slots))];
      case 'card': {
        const its = boards.get(place.of) ?? [];
        return [lens(spokenBoards(its), sourcesOf(its))];
      }
      case 'ribbon':
        return [lens(spokenEnds(place.of), endsOf(place.of))];
    }
    return entry.statement.form === 'fitted' ? ofFitted(machine, entry, lens, findings) : [];
  });
}

const sourcesOf = (list: readonly { readonly source: Source }[]): Source[] =>
  list.map(({ source }) => source);

type LensOf = (title: string, places?: readonly Source[]) => Lens;

function ofBus({ pins }: Bus, lens: LensOf, findings: readonly Finding[]): Lens[] {
  const tally = tallyOf(pins);
  const open = [
    ...new Set(pins.claims.flatMap((claim) => (claim?.kind === 'unknown' ? [claim.source] : []))),
  ];
  const parts = [
    `${tally.known} known`,
    ...(tally.unknown > 0 ? [`${tally.unknown} unknown`] : []),
    ...(tally.unsaid > 0 ? [`${tally.unsaid} unsaid`] : []),
  ];
  const title = `${counted(tally.contacts, 'contact')}: ${parts.join(', ')} (${percentKnown(tally)} %)`;
  return [lens(title, open), ...findingsLens(lens, findings)];
}

function findingsLens(lens: LensOf, findings: readonly Finding[], where = ''): Lens[] {
  if (findings.length === 0) return [];
  return [lens(spokenCounts(countsOf(findings)) + where, sourcesOf(findings))];
}

/** Findings on the lines of a bus, and those that name it. */
function findingsOnBus(
  { name }: Bus,
  findings: readonly Finding[],
  file: string,
  { offset, block }: Entry,
  lines: readonly { readonly start: number }[],
): Finding[] {
  const end = block === undefined ? offset : lines[block.end]!.start;
  return findings.filter(
    ({ source, about }) =>
      about.includes(name) || (source.file === file && source.from >= offset && source.from < end),
  );
}

/** More than this of a title no line has room for. */
const LONGEST = 200;

/** A title that fits over a line, whatever its names are. */
const titled = (text: string): string =>
  harmless(text.length > LONGEST ? `${text.slice(0, LONGEST)}…` : text);

/** `8 slots: 4 fitted, 4 empty`. */
export function spokenSlots({ slots }: Pick<Backplane, 'slots'>): string {
  const count = (state: string): number => slots.filter((slot) => slot.state === state).length;
  const parts = (['fitted', 'empty', 'unsaid'] as const).flatMap((state) =>
    count(state) > 0 ? [`${count(state)} ${state}`] : [],
  );
  return `${counted(slots.length, 'slot')}: ${parts.join(', ')}`;
}

function boardsByCard({ boards }: Machine): ReadonlyMap<Card, readonly Board[]> {
  const found = new Map<Card, Board[]>();
  for (const board of boards) {
    const list = found.get(board.card);
    if (list) list.push(board);
    else found.set(board.card, [board]);
  }
  return found;
}

/** More boards than one reads over a line. */
const MOST = 6;

/** `fitted twice: RAM-A in CAGE.2, RAM-B in CAGE.3`. */
export function spokenBoards(boards: readonly Board[]): string {
  const [only, other] = boards;
  if (only === undefined) return 'not fitted';
  if (other === undefined) return only.slot ? `fitted in ${slotOf(only)}` : 'loose, outside any slot';
  const times = boards.length === 2 ? 'twice' : `${boards.length} times`;
  const shown = boards.slice(0, MOST).map((one) => `${one.name} ${one.slot ? `in ${slotOf(one)}` : 'loose'}`);
  const rest = boards.length - shown.length;
  return `fitted ${times}: ${shown.join(', ')}${rest > 0 ? ` and ${rest} more` : ''}`;
}

const slotOf = ({ slot }: Board): string => `${slot!.backplane.name}.${slot!.label}`;

/** `GAUGE.J1 to DISPLAY.J1`: the ends in their order along it. */
export const spokenEnds = ({ ends }: Pick<Ribbon, 'ends'>): string =>
  ends.length === 0
    ? 'no ends'
    : ends
        .map(
          ({ instance, place, unplugged }) => (instance?.path ?? place) + (unplugged ? ' (unplugged)' : ''),
        )
        .join(' to ');

const endsOf = ({ ends }: Ribbon): Source[] =>
  ends.flatMap(({ instance }) => (instance ? [instance.port.source] : []));

function ofFitted(
  machine: Machine,
  { statement }: Entry,
  lens: LensOf,
  findings: readonly Finding[],
): Lens[] {
  const name = subjects(statement)[0]?.first;
  const boards = machine.boards.filter(({ slot }) => slot?.backplane.name === name);
  if (boards.length === 0) return [];
  const known = new Set(boards.map((board) => board.name));
  const concerned = new Set<string>();
  const on = findings.filter((finding) => {
    const its = namesIn(finding).filter((one) => known.has(one));
    for (const one of its) concerned.add(one);
    return its.length > 0;
  });
  if (on.length === 0) return [lens(`no findings on its ${counted(boards.length, 'board')}`)];
  return findingsLens(lens, on, ` on ${concerned.size} of ${counted(boards.length, 'board')}`);
}

/** What a finding is about, and the things whose contacts lie on its path: boards go by these names. */
const namesIn = ({ about, path }: Finding): string[] => [
  ...about,
  ...path.map(({ contact }) => contact.split('.', 1)[0]!),
];
