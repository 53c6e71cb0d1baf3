import { forms } from '../src/language/forms.ts';
import { units } from '../src/language/units.ts';

// The TextMate grammar, from which pinout.tmLanguage.json is written (tests/unit/syntaxes/grammar.test.ts). First words
// and units come from the language's own tables. It reads one line at a time, as the language does, so a damaged line
// colours no other line wrongly; what needs the whole machine (is this name a rail, a card?) is left to semantic tokens.

interface Pattern {
  readonly name?: string;
  readonly match?: string;
  readonly begin?: string;
  readonly end?: string;
  readonly include?: string;
  readonly captures?: Captures;
  readonly beginCaptures?: Captures;
  readonly endCaptures?: Captures;
  readonly patterns?: readonly Pattern[];
}
type Captures = Readonly<Record<string, { readonly name?: string; readonly patterns?: readonly Pattern[] }>>;

/** Words inside a line that another word or a value follows, and words that stand for themselves. */
const attributes = {
  /** Followed by a name, a place or a quantity. */
  leading:
    'after also as at before between bridge by cards conductors date dropout for found from high in key leads low max min off on ' +
    'peak photo pitch power stands step stripe to way with',
  /** Said or not said. */
  flags:
    'ac bump clock diode each guides notch open-collector published rigid self-bridging strobe three-state totem-pole wired-or',
  /** What a contact, a slot, an end or a numbering is. */
  values: 'around closed empty open out private rest spare unknown unplugged zigzag',
  /** How it is known. */
  evidence: 'silkscreen trace meter manual guess',
  /** Kinds of connectors. */
  shapes: 'edge header row dip dshell din',
};

/**
 * `\w` stands for letters and digits of any script and `_`. It is kept out of the brackets because there the tokenizer
 * spells out all of Unicode, once for each of the hundreds of places where this stands.
 */
const NAME_MARKS = '[+*/~#$!-]';
const NAME_CHARACTER = `(?:\\w|${NAME_MARKS})`;
const START = `(?<!\\w|${NAME_MARKS}|\\.)`;
const END = `(?!${NAME_CHARACTER}|\\.)`;
const alternatives = (words: Iterable<string>): string =>
  [...words].sort((a, b) => b.length - a.length || (a < b ? -1 : 1)).join('|');
const word = (words: string): string => `${START}(${alternatives(words.split(' '))})${END}`;

const WORDS_WITHIN = alternatives(Object.values(attributes).flatMap((words) => words.split(' ')));
const NUMBER = '\\d+(?:\\.\\d+)?';
const RAIL = `[+-]${NUMBER}${NAME_CHARACTER}*`;
/** A name that is no word of the language. */
const NAME = `(?!(?:${WORDS_WITHIN})${END})(?:${RAIL}|${NAME_CHARACTER}+)`;
const UNIT = alternatives([...units.keys(), '[mk]?[\u03a9\u2126]', '[\u00b5\u03bc]A']);
const UPTO = `(?:\\s*(\\.\\.)\\s*([+-]?${NUMBER}))`;
const DATE = '\\d{4}-\\d{2}-\\d{2}';
/** Where a list after a word ends: at the next word, a quantity, a remark, a brace, a comment or the end of the line. */
const LIST_END = `(?<!\\s)(?=\\s*(?:["{}]|$)|\\s+(?:(?!step)(?:${WORDS_WITHIN})${END}|${NUMBER}\\s*(?:${UNIT})${END}|#))`;

const firstWords = forms.filter((form) => form.word !== '=');
const opening = firstWords.filter((form) => form.opens !== undefined || form.mayOpen !== undefined);
/** `readings` and `edge` open blocks too, but what follows them need not be a name. */
const named = new Set(opening.map((form) => form.word).filter((one) => one !== 'readings' && one !== 'edge'));
/** Their subject is a rail, whatever it is called. */
const OF_RAIL = 'rail takes feed makes needs first';
/** Their subject is a list of contacts, slots or conductors. */
const OF_CONTACTS = 'slots numbers conductors pulled plugged twist';

const include = (...names: string[]): Pattern[] => names.map((name) => ({ include: `#${name}` }));
const scope = (name: string): { name: string } => ({ name: `${name}.pinout` });
const KEYWORD = scope('keyword.control.statement');
const ATTRIBUTE = scope('keyword.other.attribute');
const VALUE = scope('constant.language');
const TYPE = scope('entity.name.type');
const NUMERIC = scope('constant.numeric');
const RAIL_NAME = scope('variable.other.constant.rail');
const CONTACT = scope('constant.numeric.contact');
/** Two scopes, the inner one last: some themes that come with editors colour only the outer. */
const EVIDENCE = { name: 'constant.language.evidence.pinout support.constant.evidence.pinout' };

/** A line with this first word: `^\s*(word)rest`, to its end. */
const line = (first: string, rest: string, captures: Captures, ...inside: string[]): Pattern => ({
  begin: `^\\s*(${first})${rest}`,
  end: '$',
  beginCaptures: { 1: KEYWORD, ...captures },
  patterns: include(...inside),
});

const repository: Record<string, Pattern> = {
  comment: {
    ...scope('comment.line.number-sign'),
    match: `(?<!\\w|${NAME_MARKS})(#).*$`,
    captures: { 1: scope('punctuation.definition.comment') },
  },
  text: {
    patterns: [
      {
        ...scope('string.quoted.double'),
        match: '(")[^"\u201c\u201d]*(")',
        captures: {
          1: scope('punctuation.definition.string.begin'),
          2: scope('punctuation.definition.string.end'),
        },
      },
      {
        ...scope('string.quoted.other'),
        match: '(["\u201c\u201d])[^"\u201c\u201d]*(["\u201c\u201d])',
        captures: { 1: scope('invalid.illegal.quote'), 2: scope('invalid.illegal.quote') },
      },
    ],
  },
  brace: {
    patterns: [
      { ...scope('punctuation.section.block.begin'), match: '\\{' },
      { ...scope('punctuation.section.block.end'), match: '\\}' },
    ],
  },
  mark: {
    patterns: [
      { ...scope('punctuation.separator.comma'), match: ',' },
      { ...scope('keyword.operator.range'), match: '\\.\\.' },
      { ...scope('keyword.operator.chain'), match: '>' },
    ],
  },

  // ---- lines ----

  table: {
    begin: `^\\s*(?=(?:"[^"]*"|[^"#=]|(?<=\\w|${NAME_MARKS})#)*=)`,
    end: '$',
    patterns: [
      {
        begin: '\\G',
        end: '=',
        endCaptures: { 0: scope('keyword.operator.assignment') },
        patterns: [{ match: word('to'), captures: { 1: ATTRIBUTE } }, ...include('contacts')],
      },
      ...include('attributes', 'names'),
    ],
  },
  powered: line(
    'supply',
    `(?=\\s+(?:peak${END}|[+-]?${NUMBER}${UPTO}?\\s*m?V${END}))(?!.*\\{)`,
    {},
    'attributes',
  ),
  chip: line('part', `${END}(?!.*\\{)`, {}, 'attributes', 'names'),
  heading: line(
    alternatives(named),
    `${END}(?:\\s+(${NAME}))?`,
    { 1: scope('keyword.control.block'), 2: TYPE },
    'attributes',
    'names',
  ),
  readings: line('readings|edge', END, { 1: scope('keyword.control.block') }, 'attributes', 'names'),
  version: line('pinout', `${END}(?:\\s+(\\d+))?`, { 2: NUMERIC }, 'attributes'),
  allow: line(
    'allow',
    `${END}(?:\\s+(${NAME_CHARACTER}+))?`,
    { 2: scope('entity.name.function.rule') },
    'attributes',
    'names',
  ),
  shape: line(
    'shape',
    `${END}(?:\\s+(${alternatives(attributes.shapes.split(' '))})${END})?(?:\\s+(\\d+)(?:\\s*(x|\u00d7)\\s*(\\d+))?)?`,
    { 2: VALUE, 3: NUMERIC, 4: scope('keyword.operator.times'), 5: NUMERIC },
    'attributes',
  ),
  family: line('like', `${END}(?:\\s+(${NAME}))?`, { 2: scope('support.class.part') }, 'attributes'),
  ofRail: line(
    alternatives(OF_RAIL.split(' ')),
    `${END}(?:\\s+(${NAME}))?`,
    { 2: RAIL_NAME },
    'attributes',
    'names',
  ),
  ground: {
    begin: `^\\s*(ground)${END}`,
    end: '$',
    beginCaptures: { 1: KEYWORD },
    patterns: [
      ...include('attributes'),
      { ...scope('variable.other.constant.ground'), match: NAME },
      ...include('mark'),
    ],
  },
  ofContacts: line(alternatives(OF_CONTACTS.split(' ')), END, {}, 'attributes', 'contacts'),
  other: line(
    alternatives(
      new Set(
        firstWords
          .map((form) => form.word)
          .filter(
            (one) => !named.has(one) && ![...OF_RAIL.split(' '), ...OF_CONTACTS.split(' ')].includes(one),
          ),
      ),
    ),
    END,
    {},
    'attributes',
    'names',
  ),

  // ---- what follows the subject ----

  attributes: {
    patterns: [
      ...include('comment', 'text', 'brace', 'evidence'),
      {
        match: `${START}(date)${END}(?:\\s+([0-9A-Za-z][0-9A-Za-z/.-]*))?`,
        captures: { 1: ATTRIBUTE, 2: scope('constant.numeric.date') },
      },
      { ...scope('constant.numeric.date'), match: `${START}${DATE}${END}` },
      {
        match: `${START}(with)${END}(?:\\s+(?:(\\d+)\\s+(x|\u00d7)\\s+)?(${NAME}))?`,
        captures: {
          1: ATTRIBUTE,
          2: NUMERIC,
          3: scope('keyword.operator.times'),
          4: scope('support.class.part'),
        },
      },
      { match: `${START}(as)${END}(?:\\s+(${NAME}))?`, captures: { 1: ATTRIBUTE, 2: TYPE } },
      {
        match: `${START}(from)${END}(?:\\s+(?:(${RAIL})|(${NAME})))?`,
        captures: { 1: ATTRIBUTE, 2: RAIL_NAME, 3: TYPE },
      },
      { match: `${START}(cards)\\s+(in|out)${END}`, captures: { 1: ATTRIBUTE, 2: VALUE } },
      { match: `${START}(power)\\s+(on|off)${END}`, captures: { 1: ATTRIBUTE, 2: VALUE } },
      { match: `${START}(\\d+)\\s+(way)${END}`, captures: { 1: NUMERIC, 2: ATTRIBUTE } },
      {
        begin: `${START}(on)${END}`,
        end: LIST_END,
        beginCaptures: { 1: ATTRIBUTE },
        patterns: [{ ...TYPE, match: NAME }, ...include('mark')],
      },
      { match: `${START}(at)(?=\\s+${NUMBER}\\s*(?:${UNIT})${END})`, captures: { 1: ATTRIBUTE } },
      {
        begin: `${START}(after|at|before|between|conductors|in|stripe)${END}`,
        end: LIST_END,
        beginCaptures: { 1: ATTRIBUTE },
        patterns: include('contacts'),
      },
      ...include('quantity', 'step'),
      { match: word(attributes.values), captures: { 1: VALUE } },
      { match: word(attributes.flags), captures: { 1: scope('storage.modifier') } },
      { match: word(attributes.leading), captures: { 1: ATTRIBUTE } },
    ],
  },
  evidence: {
    match: `${START}(by)${END}(?:\\s+(${alternatives(attributes.evidence.split(' '))})${END})?(?:\\s+(${DATE})${END})?`,
    captures: { 1: ATTRIBUTE, 2: EVIDENCE, 3: scope('constant.numeric.date') },
  },
  step: { match: `${START}(step)${END}(?:\\s+(\\d+))?`, captures: { 1: ATTRIBUTE, 2: NUMERIC } },
  quantity: {
    // `-12 V` is a quantity, `-12V` the name of a rail.
    match: `${START}(?:(${NUMBER})${UPTO}?\\s*|([+-]${NUMBER})(?:${UPTO}\\s*|\\s+))(${UNIT})${END}`,
    captures: {
      1: scope('constant.numeric.quantity'),
      2: scope('keyword.operator.range'),
      3: scope('constant.numeric.quantity'),
      4: scope('constant.numeric.quantity'),
      5: scope('keyword.operator.range'),
      6: scope('constant.numeric.quantity'),
      7: scope('keyword.other.unit'),
    },
  },

  // ---- names and places ----

  names: {
    patterns: [
      ...include('rail', 'place'),
      { ...CONTACT, match: `${START}\\d+${END}|(?<=\\.\\.)\\d+${END}` },
      { ...scope('variable.other.signal'), match: NAME },
      ...include('mark'),
    ],
  },
  contacts: {
    patterns: [
      ...include('comment', 'text', 'step', 'rail', 'place'),
      { ...CONTACT, match: `${NAME_CHARACTER}+` },
      ...include('mark'),
    ],
  },
  rail: {
    patterns: [
      { ...RAIL_NAME, match: `${START}${RAIL}` },
      // What nearly everybody calls a ground; others are known once the whole machine is.
      { ...scope('variable.other.constant.ground'), match: `${START}[A-Z]?GND${END}` },
    ],
  },
  place: {
    match: `(${NAME_CHARACTER}+)((?:\\.(?:${RAIL}|${NAME_CHARACTER}+))+)`,
    captures: {
      1: scope('variable.other.object.place'),
      2: {
        patterns: [
          { ...scope('punctuation.accessor'), match: '\\.' },
          { ...CONTACT, match: `${RAIL}|${NAME_CHARACTER}+` },
        ],
      },
    },
  },
};

export const grammar = {
  name: 'Pinout',
  scopeName: 'source.pinout',
  patterns: include(
    'table',
    'powered',
    'chip',
    'heading',
    'readings',
    'version',
    'allow',
    'shape',
    'family',
    'ofRail',
    'ground',
    'ofContacts',
    'other',
    'comment',
    'text',
    'brace',
  ),
  repository,
};

/** Every word the grammar knows, for the test that holds it against the language's own. */
export const coloured: ReadonlySet<string> = new Set([
  ...firstWords.map((form) => form.word),
  ...Object.values(attributes).flatMap((words) => words.split(' ')),
]);
