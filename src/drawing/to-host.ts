import * as v from 'valibot';

/**
 * What a page with a drawing tells its host. A page runs beside the editor, so its words are checked before anything is
 * done with them.
 */

const WORD = v.pipe(v.string(), v.maxLength(20_000));
const INDEX = v.pipe(v.number(), v.integer(), v.minValue(-1), v.maxValue(1_000_000));
const CELL = v.strictObject({ row: INDEX, column: INDEX });
const VERSION = v.pipe(v.number(), v.integer(), v.minValue(0));

/** Which drawing of a machine: the names are those that `cardcage draw --of` takes. */
const WANTED = v.strictObject({ view: v.picklist(['bus', 'connector', 'ribbon']), of: WORD });
export type Wanted = Readonly<v.InferOutput<typeof WANTED>>;

/** Characters of a picture that is saved: a bus of 100,000 contacts has 20 million. */
const MOST = 60_000_000;

const TO_HOST = v.variant('kind', [
  /** The page listens: after it has come or come back. */
  v.strictObject({ kind: v.literal('ready') }),
  v.strictObject({ kind: v.literal('choose'), wanted: WANTED }),
  /** To the statement that says what is in a cell of that version of the picture. */
  v.strictObject({ kind: v.literal('go'), version: VERSION, cell: CELL }),
  /** What is to be told of a cell. */
  v.strictObject({ kind: v.literal('tell'), version: VERSION, cell: CELL }),
  /** The shown picture as a file: SVG as text, PNG in base 64. */
  v.strictObject({
    kind: v.literal('save'),
    name: WORD,
    format: v.picklist(['svg', 'png']),
    data: v.pipe(v.string(), v.maxLength(MOST)),
  }),
]);
export type ToHost = v.InferOutput<typeof TO_HOST>;

/** The message, or undefined where it is none of ours. */
export const readToHost = (message: unknown): ToHost | undefined => outputOf(TO_HOST, message);

/** What a page keeps of itself, as far as its host needs it: the machine's root file and the drawing. */
const KEPT = v.object({ root: WORD, wanted: WANTED });
export type KeptForHost = v.InferOutput<typeof KEPT>;

export const readKept = (state: unknown): KeptForHost | undefined => outputOf(KEPT, state);

function outputOf<Schema extends v.GenericSchema>(
  schema: Schema,
  value: unknown,
): v.InferOutput<Schema> | undefined {
  const { success, output } = v.safeParse(schema, value);
  return success ? output : undefined;
}
