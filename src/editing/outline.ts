import { tallyOf } from '../analysis/tally.ts';
import type { Block, Entry, Span, Statement, Value } from '../language/tree.ts';
import { attribute, subjects } from '../language/tree.ts';
import type { Machine, PinMap } from '../machine/types.ts';
import { harmless } from '../reports/places.ts';
import { placesOf } from './declared.ts';
import { counted } from './markdown.ts';
import type { Analysis } from './project.ts';

/** One line of a file's outline. Offsets; `from … to` holds the whole block, `nameFrom … nameTo` what names it. */
export interface OutlineEntry {
  readonly name: string;
  /** What matters of it: `edge 2 x 22`, `44 contacts, 3 unknown`, `4 of 8 slots fitted`. */
  readonly detail: string;
  /** The id of its line form: `card`, `entry`. */
  readonly form: string;
  readonly from: number;
  readonly to: number;
  readonly nameFrom: number;
  readonly nameTo: number;
  readonly children: readonly OutlineEntry[];
}

/** The blocks of a file with their lines, in the order of the text. */
export function outlineOf(analysis: Analysis, file: string): OutlineEntry[] {
  const document = analysis.documents.get(file);
  if (document === undefined) return [];
  const places = placesOf(analysis.machine, file);
  const entriesOf = (block: Block): OutlineEntry[] =>
    block.entries.filter(({ statement: { form } }) => !LEFT_OUT.has(form)).map(outlined);
  const outlined = (entry: Entry): OutlineEntry => {
    const { offset, statement, block } = entry;
    const text = (from: number, to: number): string =>
      harmless(document.text.slice(offset + from, offset + to)).replace(/ +/g, ' ');
    const end = block && document.lines[block.end]!;
    const to = end
      ? Math.max(offset + statement.to, end.start + end.text.trimEnd().length)
      : offset + statement.to;
    const named = nameOf(statement, text);
    return {
      name: named.name.trim() || statement.form,
      detail: harmless(
        block
          ? blockDetail(analysis.machine, statement, block, places.get(offset + statement.from), text)
          : lineDetail(statement, text),
      ),
      form: statement.form,
      from: offset + statement.from,
      to,
      nameFrom: offset + named.from,
      nameTo: offset + named.to,
      children: block ? entriesOf(block) : [],
    };
  };
  return entriesOf(document.root);
}

/** Says nothing about the machine. */
const LEFT_OUT = new Set(['pinout', 'activelow']);

type TextOf = (from: number, to: number) => string;

interface Named extends Span {
  readonly name: string;
}

/** Lines that go by what they name; every other goes by its word too. */
const BY_NAME = new Set([
  ...['supply', 'connector', 'bus', 'backplane', 'card', 'ribbon', 'cable', 'family', 'parttable', 'port'],
  ...['loose', 'rail', 'reading', 'join'],
]);

/** What a line is called: a block by its name, a contact by what it is, a slot by its board, others by their words. */
function nameOf(statement: Statement, text: TextOf): Named {
  const { form, subject, from, to } = statement;
  const spanning = (
    values: readonly Value[],
    start = values[0]?.from,
    end = values.at(-1)?.to,
  ): Named | undefined =>
    start === undefined || end === undefined ? undefined : { name: text(start, end), from: start, to: end };
  const is = attribute(statement, 'is')?.values ?? [];
  const named =
    form === 'entry'
      ? spanning(is)
      : form === 'slot'
        ? (spanning(attribute(statement, 'as')?.values ?? []) ?? spanning(is))
        : form === 'join'
          ? spanning(subject, subject[0]?.from, is.at(-1)?.to)
          : form === 'reading'
            ? spanning(subject, subject[0]?.from, attribute(statement, 'to')?.to)
            : form === 'readings'
              ? spanning([], from, attribute(statement, 'date')?.to)
              : spanning(subject);
  const word = text(from, from + (/^\S+/.exec(text(from, to))?.[0].length ?? 0));
  if (named === undefined) return { name: word, from, to: from + word.length };
  const alone = BY_NAME.has(form) || form === 'entry' || form === 'slot' || named.from === from;
  return alone ? named : { ...named, name: `${word} ${named.name}` };
}

/** What a line says besides its name, without how it is known. */
function lineDetail(statement: Statement, text: TextOf): string {
  const { form, subject, attributes } = statement;
  const said = (keys: (key: string) => boolean): string =>
    attributes
      .filter(({ key }) => key !== 'by' && keys(key))
      .map(({ from, to }) => text(from, to))
      .join('  ');
  const [first, last] = [subject[0], attribute(statement, 'out')?.values.at(-1) ?? subject.at(-1)];
  const subjectText = first && last ? text(first.from, last.to) : '';
  switch (form) {
    case 'entry':
      return subjectText;
    case 'slot': {
      const kind = attribute(statement, 'as') ? said((key) => key === 'is') : '';
      return kind === '' ? `slot ${subjectText}` : `${kind}, slot ${subjectText}`;
    }
    case 'join':
      return '';
    case 'reading':
      return said((key) => key === 'is');
    default:
      return said(() => true);
  }
}

type Place = ReturnType<ReturnType<typeof placesOf>['get']>;

function blockDetail(
  machine: Machine,
  statement: Statement,
  block: Block,
  place: Place,
  text: TextOf,
): string {
  switch (place?.kind) {
    case 'connector': {
      const { shape, rows, positions, labels } = place.of;
      const grid =
        shape === 'row' || shape === 'dip' ? `${shape} ${labels.length}` : `${shape} ${rows} x ${positions}`;
      return shape === 'dshell' ? `dshell ${labels.length}` : grid;
    }
    case 'bus':
    case 'port':
    case 'edge':
      return spokenPins(place.of.pins);
    case 'supply':
      return place.of.rails.map(({ name }) => name).join(', ');
    case 'backplane':
      return occupancy(place.of.slots);
    case 'card':
      return place.of.title;
    case 'ribbon':
      return place.of.ends.map(({ instance, place: said }) => instance?.path ?? said).join(' to ');
  }
  if (statement.form === 'slot' || statement.form === 'loose') return lineDetail(statement, text);
  if (statement.form === 'fitted') {
    const name = subjects(statement)[0]?.first;
    const backplane = machine.backplanes.find((one) => one.name === name);
    return backplane ? occupancy(backplane.slots) : '';
  }
  return statement.form === 'readings' ? counted(block.entries.length, 'reading') : '';
}

/** `44 contacts, 3 unknown`. */
export function spokenPins(pins: PinMap): string {
  const { contacts, unknown, unsaid } = tallyOf(pins);
  return [
    counted(contacts, 'contact'),
    ...(unknown > 0 ? [`${unknown} unknown`] : []),
    ...(unsaid > 0 ? [`${unsaid} unsaid`] : []),
  ].join(', ');
}

/** `4 of 8 slots fitted`. */
export const occupancy = (slots: readonly { readonly state: string }[]): string =>
  `${slots.filter(({ state }) => state === 'fitted').length} of ${counted(slots.length, 'slot')} fitted`;
