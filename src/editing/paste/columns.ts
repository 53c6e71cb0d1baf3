/** Which column of a table says what. One entry of `pairs` a contact that a row describes. */
export interface Columns {
  readonly pairs: readonly { readonly contact: number; readonly name: number; readonly prefix: string }[];
  readonly evidence?: number;
  readonly remarks: readonly number[];
  /** Rows that are headings. */
  readonly headings: number;
}

const CONTACT = /^(?:pin|contact|finger|position|pos|no|nr|number|#)s?\.?(?: ?(?:no|nr|number|#)\.?)?$/i;
const NAME = /^(?:signal|name|net|line|function|mnemonic|designation)s?(?: ?name)?$/i;
const EVIDENCE = /^(?:evidence|source|how known|known by|by)$/i;
const ROW = /^(?:row ?)?([a-z])$/i;

/**
 * Finds the columns by their headings, else by what stands in them. `isContact` tells labels of the connector.
 * Undefined where no column holds contacts.
 */
export function columnsOf(
  rows: readonly (readonly string[])[],
  isContact: (text: string) => boolean,
): Columns | undefined {
  const [head = [], ...body] = rows;
  const width = Math.max(...rows.map((row) => row.length));
  const columns = Array.from({ length: width }, (_, i) => i);
  const find = (pattern: RegExp): number[] => columns.filter((i) => pattern.test(head[i] ?? ''));
  const byRow = lettered(head, body, isContact);
  if (byRow !== undefined) return { pairs: byRow, remarks: [], headings: 1 };
  const named = find(CONTACT);
  const headings = named.length > 0 ? 1 : 0;
  const contacts = named.length > 0 ? named : filledWith(rows, columns, isContact);
  if (contacts.length === 0) return undefined;
  const names = find(NAME);
  const evidence = headings === 1 ? find(EVIDENCE)[0] : undefined;
  const pairs = contacts.flatMap((contact, i) => {
    const until = contacts[i + 1] ?? width;
    const name = names.find((one) => one > contact && one < until) ?? contact + 1;
    return name < until ? [{ contact, name, prefix: '' }] : [];
  });
  const used = new Set(pairs.flatMap(({ contact, name }) => [contact, name]));
  const remarks = columns.filter(
    (i) => !used.has(i) && i !== evidence && !(headings === 1 && i < contacts[0]! && isCount(body, i)),
  );
  return pairs.length === 0
    ? undefined
    : { pairs, remarks, headings, ...(evidence === undefined ? {} : { evidence }) };
}

/** Rows counted through, before the contact. */
const isCount = (body: readonly (readonly string[])[], column: number): boolean =>
  body.every((row) => /^\d*\.?$/.test(row[column] ?? ''));

/** A number and then a column for each lettered row, as DIN 41612 connectors are tabled: `Pin | Row a | Row b | Row c`. */
function lettered(
  head: readonly string[],
  body: readonly (readonly string[])[],
  isContact: (text: string) => boolean,
): Columns['pairs'] | undefined {
  const pairs = head.flatMap((cell, name) => {
    const letter = ROW.exec(cell)?.[1];
    if (letter === undefined || name === 0) return [];
    const prefix = [letter, letter.toLowerCase(), letter.toUpperCase()].find((one) =>
      body.every((row) => row[0] === undefined || isContact(one + row[0])),
    );
    return prefix === undefined ? [] : [{ contact: 0, name, prefix }];
  });
  return pairs.length > 0 ? pairs : undefined;
}

/** Columns of which most cells are contacts: of two neighbours the first, since what stands beside a contact is its name. */
function filledWith(
  rows: readonly (readonly string[])[],
  columns: readonly number[],
  isContact: (text: string) => boolean,
): number[] {
  const share = (column: number): number => {
    const cells = rows.map((row) => row[column] ?? '').filter((cell) => cell !== '');
    return cells.length === 0 ? 0 : cells.filter(isContact).length / cells.length;
  };
  const found: number[] = [];
  for (const column of columns) if (share(column) >= 0.7 && found.at(-1) !== column - 1) found.push(column);
  return found;
}
