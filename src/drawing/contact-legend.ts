import { contactMark } from './face-marks.ts';
import { keyTo, written } from './lettering.ts';
import type { Drawn } from './picture.ts';
import { LETTERS_SAY, letterOf, type Told } from './told.ts';

/** A mark that a picture may have: whether it has it, how it is drawn around a middle, and what it means. */
export type LegendRow = readonly [isThere: boolean, mark: (x: number, y: number) => string, says: string];

/** What the marks of a picture mean, of those that are in it. */
export const legendTo = (
  rows: readonly LegendRow[],
  x: number,
  width: number,
): { readonly svg: string; readonly height: number } =>
  keyTo(
    rows.filter(([isThere]) => isThere).map(([, mark, says]) => ({ mark, says })),
    x,
    width,
  );

type Contact = Pick<Drawn<Told>, 'kind' | 'evidence' | 'state'>;

const SAMPLE: Drawn<Told> = {
  label: '7',
  name: 'as an example',
  kind: 'signal',
  evidence: 'trace',
  known: 'trace',
  state: 'there',
};
const BOX = { width: 21, height: 15 };

/** The mark of a contact of a kind, as an example. */
export const sampleContact =
  (told: Partial<Contact>) =>
  (x: number, y: number): string =>
    contactMark({ ...SAMPLE, ...told }, x, y, BOX, 9);

/** Contacts that differ from those that are there and known. */
export const oddRows = (contacts: readonly Contact[]): LegendRow[] => [
  [contacts.some(({ evidence }) => evidence === 'guess'), sampleContact({ evidence: 'guess' }), 'a guess'],
  [
    contacts.some(({ kind }) => kind === undefined || kind === 'unknown'),
    sampleContact({ kind: undefined, evidence: undefined }),
    'unknown',
  ],
  [contacts.some(({ state }) => state === 'pulled'), sampleContact({ state: 'pulled' }), 'pulled: no pin'],
  [
    contacts.some(({ state }) => state === 'plugged'),
    sampleContact({ state: 'plugged' }),
    'plugged: hole blocked',
  ],
];

/** Letters for how contacts are known. */
export const letterRows = (contacts: readonly Contact[]): LegendRow[] =>
  LETTERS_SAY.map(([letter, says]) => [
    contacts.some((one) => letterOf(one) === letter),
    (x, y) => written(letter, x, y + 4, { class: 'letter', anchor: 'middle' }),
    says,
  ]);
