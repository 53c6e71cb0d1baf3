import type { Item, Value } from '../language/tree.ts';
import { attribute, has, items, subjects } from '../language/tree.ts';
import { expandLabels } from './names.ts';
import { amount, contacts, inside, Problems, type Said, sourceOf, statementOf, stepOf } from './scope.ts';
import type { Connector, Shape } from './types.ts';

/** A shape's rows and the number of positions in each. */
interface Grid {
  readonly shape: Shape;
  readonly rows: readonly number[];
}

/** More contacts than any connector has: a slip of the finger. */
const MOST = 4096;

export function buildConnector(said: Said, problems: Problems): Connector {
  const statement = statementOf(said);
  const name = subjects(statement)[0]?.first ?? '';
  const lines = new Map<string, Said[]>();
  for (const line of inside(said)) {
    const { form } = line.entry.statement;
    lines.set(form, [...(lines.get(form) ?? []), line]);
  }
  const one = (form: string): Said | undefined => {
    const [first, second] = lines.get(form) ?? [];
    if (second !== undefined) {
      problems.add('duplicate', sourceOf(second), `\`${form}\` is said twice of connector ${name}; keep one`);
    }
    return first;
  };

  const numbers = one('numbers');
  const grid = readGrid(one('shape'), numbers, name, sourceOf(said), problems);
  const labels = readLabels(numbers, grid, name, problems);
  const indexOf = new Map(labels.map((label, i) => [label, i]));
  const layout = place(grid, labels, numbers);
  const contactLine = one('contact');
  const pitch = one('pitch');
  // Said twice is reported of these too; what they say, `readKeying` reads.
  for (const form of ['ends', 'shroud', 'bump']) one(form);
  const base = {
    name,
    shape: grid.shape,
    rows: grid.rows.length,
    positions: Math.max(...grid.rows),
    labels,
    indexOf,
    ...layout,
    ...optional('pitch', pitch && amount(statementOf(pitch), 'length', 'length')),
    ...optional('rating', contactLine && amount(statementOf(contactLine), 'current', 'current')),
    ...optional('resistance', contactLine && amount(statementOf(contactLine), 'resistance', 'resistance')),
    bump: false,
    keys: [],
    pulled: new Set<number>(),
    plugged: new Set<number>(),
    source: sourceOf(said),
  } satisfies Connector;
  const halves = readKeying(inside(said), base, problems);
  const conductors = readConductors(one('conductors'), base, problems);
  return { ...base, ...halves, ...optional('conductors', conductors) };
}

/** An object with the key, or without it where the value is undefined. */
export function optional<K extends string, V>(key: K, value: V | undefined): { [k in K]?: V } {
  return value === undefined ? {} : ({ [key]: value } as { [k in K]: V });
}

const wordOf = (value: Value | undefined): string => (value?.kind === 'word' ? value.text : '');

function readGrid(
  shape: Said | undefined,
  numbers: Said | undefined,
  name: string,
  source: ReturnType<typeof sourceOf>,
  problems: Problems,
): Grid {
  const values = shape === undefined ? [] : (attribute(statementOf(shape), 'grid')?.values ?? []);
  const [kind, a, b] = values.map(wordOf);
  const at = shape === undefined ? source : sourceOf(shape);
  if (kind === undefined || a === undefined) {
    problems.add(
      'attribute-missing',
      source,
      `connector ${name} has no \`shape\` that can be read; for example \`shape edge 2 x 22\``,
    );
    // Its numbers still say what contacts it has: a row for each range of them.
    const ranges = numbers === undefined ? [] : subjects(statementOf(numbers));
    const rows = ranges.map((item) => expandItem(item, numbers as Said, new Problems()).length);
    return { shape: 'header', rows: rows.length > 0 ? rows : [0] };
  }
  const [first, second] = [Number(a), b === undefined ? undefined : Number(b)];
  if (first === 0 || second === 0 || (second === undefined ? first : first * second) > MOST || first > MOST) {
    problems.add(
      'range-mismatch',
      at,
      `a connector has 1 to ${MOST} contacts; this shape has ${second === undefined ? first : first * second}`,
    );
    return { shape: kind as Shape, rows: [0] };
  }
  if (second !== undefined) return { shape: kind as Shape, rows: new Array<number>(first).fill(second) };
  if (kind === 'row') return { shape: 'row', rows: [first] };
  // A DIP plug has two equal rows; a D-shell's first row has one contact more.
  return { shape: kind as Shape, rows: [Math.ceil(first / 2), Math.floor(first / 2)] };
}

const sum = (list: readonly number[]): number => list.reduce((a, b) => a + b, 0);

function readLabels(numbers: Said | undefined, grid: Grid, name: string, problems: Problems): string[] {
  const count = sum(grid.rows);
  if (numbers === undefined) return Array.from({ length: count }, (_, i) => String(i + 1));
  const statement = statementOf(numbers);
  if (statement.subject[0]?.kind === 'word') return Array.from({ length: count }, (_, i) => String(i + 1));
  const labels: string[] = [];
  for (const item of subjects(statement)) labels.push(...expandItem(item, numbers, problems));
  const seen = new Set<string>();
  for (const label of labels) {
    if (seen.has(label))
      problems.add('duplicate', sourceOf(numbers), `contact \`${label}\` of ${name} is numbered twice`);
    seen.add(label);
  }
  const unique = [...seen];
  if (unique.length < count) {
    const message = `connector ${name} has ${count} contacts by its shape, but only ${unique.length} numbers; number every contact`;
    problems.add('range-mismatch', sourceOf(numbers), message);
    for (let i = unique.length; i < count; i++) unique.push(`?${i + 1}`);
  }
  const cut = labels.length > count && !/[A-Z]/i.test(unique[count] ?? '');
  if (cut) {
    const message = `connector ${name} has ${count} contacts by its shape, but ${unique.length} numbers`;
    problems.add('range-mismatch', sourceOf(numbers), message);
  }
  return unique.slice(0, count);
}

function expandItem(item: Item, said: Said, problems: Problems): string[] {
  if (item.last === undefined) return [item.first];
  const expanded = expandLabels(item.first, item.last);
  if ('problem' in expanded) {
    problems.add(
      'range-mismatch',
      sourceOf(said, item),
      `found a range that does not fit: ${expanded.problem}`,
    );
    return [item.first];
  }
  const step = stepOf(item, sourceOf(said, item), problems);
  return step === 1 ? expanded : expanded.filter((_, i) => i % step === 0);
}

/** Row and position of each contact. */
function place(
  grid: Grid,
  labels: readonly string[],
  numbers: Said | undefined,
): Pick<Connector, 'row' | 'position'> {
  const row = new Uint16Array(labels.length);
  const position = new Uint16Array(labels.length);
  const scheme = numbers === undefined ? '' : wordOf(statementOf(numbers).subject[0]);
  const first = grid.rows[0] ?? 0;
  labels.forEach((_, i) => {
    if (scheme === 'zigzag') {
      row[i] = i % grid.rows.length;
      position[i] = Math.floor(i / grid.rows.length);
    } else if (scheme === 'around' && i >= first) {
      // Numbering runs round the body: the second row is counted back.
      row[i] = 1;
      position[i] = labels.length - 1 - i;
    } else {
      row[i] = first === 0 ? 0 : rowOf(grid, i);
      position[i] = i - sum(grid.rows.slice(0, row[i]));
    }
  });
  return { row, position };
}

function rowOf(grid: Grid, index: number): number {
  let before = 0;
  for (let r = 0; r < grid.rows.length; r++) {
    before += grid.rows[r] as number;
    if (index < before) return r;
  }
  return grid.rows.length - 1;
}

/** What keeps wrong plugs out, as the connector says it and an edge or port adds to it or says it otherwise. */
export function readKeying(
  lines: readonly Said[],
  connector: Connector,
  problems: Problems,
): Pick<Connector, 'keys' | 'pulled' | 'plugged' | 'ends' | 'shroud' | 'bump'> {
  let { ends, shroud, bump } = connector;
  const keys: (readonly [number, number])[] = [...connector.keys];
  const pulled = new Set(connector.pulled);
  const plugged = new Set(connector.plugged);
  for (const line of lines) {
    const statement = statementOf(line);
    if (statement.form === 'key') {
      const between = contacts(line, items(statement, 'between'), connector, problems);
      const pair = keyBetween(
        connector,
        between.map((c) => c.index),
      );
      if (pair) keys.push(pair);
      else if (between.length === 2) {
        problems.add(
          'range-mismatch',
          sourceOf(line),
          'a key sits between two neighbouring contacts of one row; these are not neighbours',
        );
      }
    } else if (statement.form === 'pulled' || statement.form === 'plugged') {
      const into = statement.form === 'pulled' ? pulled : plugged;
      for (const { index } of contacts(line, statement.subject, connector, problems)) into.add(index);
    } else if (statement.form === 'ends') ends = wordOf(statement.subject[0]) as 'open' | 'closed';
    else if (statement.form === 'shroud') shroud = has(statement, 'notch') ? 'notch' : 'plain';
    else if (statement.form === 'bump') bump = true;
  }
  return { keys, pulled, plugged, ...optional('ends', ends), ...optional('shroud', shroud), bump };
}

/** The pair in rising order where the two contacts are neighbours in a row. */
export function keyBetween(
  connector: Connector,
  pair: readonly number[],
): readonly [number, number] | undefined {
  const [a, b] = pair;
  if (a === undefined || b === undefined || connector.row[a] !== connector.row[b]) return undefined;
  if (Math.abs((connector.position[a] as number) - (connector.position[b] as number)) !== 1) return undefined;
  return a < b ? [a, b] : [b, a];
}

/**
 * Contact that each ribbon conductor meets, in order. A crimp connector takes conductors alternately from its two
 * rows, from one end to the other (common practice; checked against published orders in tests/published); a single
 * row in its own order. More rows must say it.
 */
function readConductors(
  line: Said | undefined,
  connector: Connector,
  problems: Problems,
): number[] | undefined {
  const statement = line && statementOf(line);
  if (line !== undefined && statement !== undefined) {
    return contacts(line, statement.subject, connector, problems).map((contact) => contact.index);
  }
  if (connector.rows > 2) return undefined;
  return connector.labels
    .map((_, i) => i)
    .sort(
      (a, b) =>
        (connector.position[a] as number) - (connector.position[b] as number) ||
        (connector.row[a] as number) - (connector.row[b] as number),
    );
}
