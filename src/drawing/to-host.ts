import * as v from 'valibot';
import { CASES_SHOWN } from './what-if-choice.ts';

/**
 * What a page with a drawing tells its host. A page runs beside the editor, so its words are checked before anything is
 * done with them.
 */

export const CELL = v.object({ row: v.number(), column: v.number() });

/** The kinds of drawings. */
export const VIEWS = ['bus', 'connector', 'ribbon', 'what-if'] as const;

/** Which drawing of a machine: the names are those that `cardcage draw --of` takes. */
export const WANTED = v.object({
  view: v.picklist(VIEWS),
  of: v.string(),
  /** Of a what-if: which cases are gone through, and the one that is shown. */
  cases: v.exactOptional(v.picklist(CASES_SHOWN)),
  case: v.exactOptional(v.string()),
});
export type Wanted = Readonly<v.InferOutput<typeof WANTED>>;

/** Whether two are one drawing; another case of the same plugs is another one. */
export const isSameDrawing = (a: Wanted, b: Wanted): boolean =>
  a.view === b.view && a.of === b.of && a.cases === b.cases && a.case === b.case;

const TO_HOST = v.union([
  /** The page listens: after it has come or come back. */
  v.object({ kind: v.literal('ready') }),
  v.object({ kind: v.literal('choose'), wanted: WANTED }),
  /** To the statement that says what is in a cell of that version of the picture. */
  v.object({ kind: v.literal('go'), version: v.number(), cell: CELL }),
  /** The keys that the shown case offers are to be added to the text. */
  v.object({ kind: v.literal('key'), version: v.number() }),
  /** What is to be told of a cell. */
  v.object({ kind: v.literal('tell'), version: v.number(), cell: CELL }),
  /** The shown picture as a file: SVG as text, PNG in base 64. */
  v.object({
    kind: v.literal('save'),
    name: v.string(),
    format: v.picklist(['svg', 'png']),
    data: v.string(),
  }),
]);
export type ToHost = v.InferOutput<typeof TO_HOST>;

/** The message, or undefined where it is none of ours. */
export const readToHost = (message: unknown): ToHost | undefined => outputOf(TO_HOST, message);

/** What a page keeps of itself, as far as its host needs it: the machine's root file and the drawing. */
const KEPT = v.object({ root: v.string(), wanted: WANTED });
export const readKept = (state: unknown): v.InferOutput<typeof KEPT> | undefined => outputOf(KEPT, state);

function outputOf<Schema extends v.GenericSchema>(
  schema: Schema,
  value: unknown,
): v.InferOutput<Schema> | undefined {
  const { success, output } = v.safeParse(schema, value);
  return success ? output : undefined;
}
