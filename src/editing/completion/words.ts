import { type Form, tableIn } from '../../language/forms.ts';
import { said } from '../../language/tree.ts';
import type { Connector } from '../../machine/types.ts';
import type { Candidate } from './candidate.ts';
import type { Cursor } from './cursor.ts';
import { type Ready, readHead, wantsMore } from './grammar.ts';
import { stop } from './tab-stops.ts';

/** Words of which a line has one only, whatever it is. */
const EXCLUSIVE: readonly (readonly string[])[] = [
  ['three-state', 'totem-pole', 'open-collector'],
  ['after', 'before', 'at'],
];

/** What a word says in a line where it is not what it says in others. */
const SAYS_IN: Readonly<Record<string, string>> = {
  'bus on': 'the connector it runs over',
  'feed at': 'at which contact of the bus',
  'port on': 'the kind of connector',
  'reading open': 'no way from one to the other',
  'readings in': 'all boards in their slots',
  'readings off': 'mains unplugged',
  'readings on': 'the machine runs',
  'readings out': 'all boards drawn',
  'shape dip': 'pins of a DIP socket',
  'shape din': 'DIN 41612',
  'shape dshell': 'D-subminiature',
  'shape edge': 'card edge: rows and positions',
  'shape header': 'pins in rows',
  'shape row': 'one row of pins',
  'slot date': 'date code of the board',
};

/** What a word says where it is more than what follows it. */
const SAYS: Readonly<Record<string, string>> = {
  ac: 'alternating current',
  after: 'at the far end: behind this slot',
  also: 'another name of the same line',
  around: 'numbered round the body, as on a DIP',
  as: 'a name for it',
  at: 'where',
  before: 'at the near end: before this slot',
  between: 'between these two',
  bridge: 'chains bridged in the empty slot',
  bump: 'a polarising bump',
  by: 'how it is known',
  cards: 'in or out while measuring',
  clock: 'something happens on its edges',
  closed: 'walls at both ends: no plug sits one contact off',
  conductors: 'which conductors end here',
  date: 'date code',
  diode: 'measured with the diode range',
  dropout: 'volts between input and output that it needs',
  each: 'for each of the chips',
  empty: 'no board in the slot',
  for: 'the rail it watches',
  found: 'as it was when the machine was opened',
  from: 'where it comes from',
  guides: 'card guides: no board goes in askew',
  high: 'into the input while it is high',
  in: 'in these slots only',
  key: 'a key in these slots',
  leads: 'resistance of the test leads',
  low: 'out of the input while it is low',
  max: 'at most',
  min: 'at least',
  notch: 'with a notch: the plug goes in one way only',
  off: 'leakage while off',
  on: 'the connector or bus it is made for',
  open: 'no walls at the ends',
  'open-collector': 'pulls low only',
  peak: 'the highest it ever gets',
  photo: 'a picture that shows it',
  pitch: 'distance of slots',
  power: 'on or off while measuring',
  private: 'not bussed: each slot has its own',
  published: 'a bus table that ships with the product',
  rest: 'everything else on its contacts',
  rigid: 'a coupler that does not bend',
  'self-bridging': 'an empty slot passes chains on by itself',
  spare: 'bussed, used by nobody',
  stands: 'volts it survives',
  step: 'every second, third …',
  stripe: 'contact that the striped conductor meets',
  strobe: 'something happens on its edges',
  'three-state': 'can be switched off',
  to: 'the other place',
  'totem-pole': 'always drives, high or low',
  unknown: 'nobody knows yet',
  unplugged: 'out when the machine was found: joins nothing',
  way: 'conductors',
  'wired-or': 'several boards pull it low',
  with: 'by which part',
  zigzag: 'alternating across the rows',
};

/** Words of the language that may stand at the cursor and are not said yet. */
export function innerWords({ form, word: typed, rest, scope }: Cursor, { words, head }: Ready): Candidate[] {
  const line = form as Form;
  const keys = saidKeys(line, head);
  const later = new Set(wordsIn(rest));
  const order = line.order ?? [];
  const isKnown = keys.has('by');
  const isRange = /\.\.[^\s,]+\s+$/.test(head);
  return words
    .filter((word) => word.length > 1 || word === typed || line.id === 'pinout')
    .filter(
      (word) => !(keys.has(word) || isLater(word, later, line)) || line.repeats?.includes(word) === true,
    )
    .filter((word) => !isRuledOut(word, keys, line) && (word !== 'step' || isRange))
    .map((word): Candidate => {
      const at = order.indexOf(keyOf(word, line));
      const needed = line.needs?.includes(word) ?? false;
      const usual = line.id === 'numbers' && word === usualNumbers(scope.connector);
      const rank = usual ? -1 : word === 'by' ? 8 : needed ? 0 : at < 0 ? 2 : 3 + at / 10;
      const detail = SAYS_IN[`${line.id} ${word}`] ?? SAYS[word];
      const more = line.id === 'shape' ? GRIDS[word] : undefined;
      const base = {
        label: word,
        kind: 'word' as const,
        rank: isKnown && word !== 'photo' ? rank + 10 : rank,
      };
      const told = detail === undefined ? base : { ...base, detail };
      if (more !== undefined) return { ...told, insert: more, snippet: true };
      if (!wantsMore(line, head, word)) return told;
      return { ...told, insert: `${word} `, retrigger: true };
    });
}

/** How makers number a connector of that shape: ribbon headers across their rows, DIP plugs round the body. */
function usualNumbers(connector: Connector | undefined): string | undefined {
  if (connector?.shape === 'dip') return 'around';
  return connector?.shape === 'header' && connector.rows === 2 ? 'zigzag' : undefined;
}

/** Shapes with their rows and positions. */
const GRIDS: Readonly<Record<string, string>> = {
  edge: `edge ${stop(1, '2')} x ${stop(2, '22')}`,
  header: `header ${stop(1, '2')} x ${stop(2, '13')}`,
  row: `row ${stop(1, '8')}`,
  dip: `dip ${stop(1, '16')}`,
  dshell: `dshell ${stop(1, '25')}`,
  din: `din ${stop(1, '3')} x ${stop(2, '32')}`,
};

/** The key under which an attribute with this word is kept. */
function keyOf(word: string, { id }: Form): string {
  return id === 'end' && word === 'at' ? 'along' : word;
}

/** Keys of what the line says so far; where it cannot be read yet, its words. */
function saidKeys(form: Form, head: string): Set<string> {
  const statement = readHead(form, head);
  const keys = statement?.attributes.flatMap(({ key, values }) =>
    key === 'is' || key === 'found'
      ? [key, ...values.flatMap((value) => (value.kind === 'word' ? [value.text] : []))]
      : [key],
  );
  const known = new Set(keys ?? wordsIn(head).slice(1));
  if (known.has('along')) known.add('at');
  return known;
}

const wordsIn = (text: string): string[] => text.replace(/"[^"]*"/g, '').split(/[\s,]+/);

/** Whether the line says it behind the cursor. */
const isLater = (word: string, later: ReadonlySet<string>, { needs }: Form): boolean =>
  later.has(word) && !(word === 'to' && needs?.includes('legs'));

function isRuledOut(word: string, said: ReadonlySet<string>, form: Form): boolean {
  // Legs are a list: `to` comes again with each.
  if (word === 'to' && form.needs?.includes('legs')) return false;
  if (form.id === 'slot') {
    const isEmpty = said.has('empty');
    if (isEmpty ? word === 'as' || word === 'date' : word === 'bridge') return true;
  }
  return EXCLUSIVE.some((group) => group.includes(word) && group.some((one) => said.has(one)));
}

/** The brace of a heading that is complete. */
export function braceOf({ form, opens, head, word, rest }: Cursor): Candidate[] {
  const opening = form?.opens ?? form?.mayOpen;
  if (opening === undefined || opens || word !== '' || !/\s$/.test(head) || rest.trim() !== '') return [];
  const statement = readHead(form as Form, head);
  if (statement === undefined) return [];
  const isWhole = (form?.needs ?? []).every((need) => statement.attributes.some(({ key }) => key === need));
  if (!isWhole || (form?.id === 'slot' && said(statement, 'is') === 'empty')) return [];
  const detail = tableIn(opening) ? 'the block with its table' : 'the block';
  return [
    { label: '{', kind: 'snippet', rank: form?.opens ? 6 : 12, detail, insert: '{\n  $0\n}', snippet: true },
  ];
}
