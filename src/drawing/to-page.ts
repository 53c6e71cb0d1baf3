import * as v from 'valibot';
import type { ConnectorPicture } from './connector-picture.ts';
import { GROUPS } from './line-groups.ts';
import type { BusPicture, Drawn, LineRow } from './picture.ts';
import type { RibbonPicture } from './ribbon-picture.ts';
import { CELL } from './to-host.ts';
import { VERDICTS } from './verdicts.ts';
import { CASES_SHOWN, DOES } from './what-if-choice.ts';
import { HARM_KINDS, WEIGHTS } from './what-if-harms.ts';
import type { WhatIfPicture } from './what-if-picture.ts';

/** What the host of a page tells it. Checked in the page before it is drawn. */

/** A message is JSON on its way, which writes null for what is missing in a list. */
const MISSING = (): undefined => undefined;

const WORD = v.string();
const INDEX = v.pipe(v.number(), v.integer(), v.minValue(-1));
const SEVERITY = v.picklist(['error', 'warning', 'question', 'note']);
const EVIDENCE = v.optional(v.picklist(['silkscreen', 'trace', 'meter', 'manual', 'guess']));

// ---- a bus ----

const CROSSING = v.object({
  role: v.picklist([
    'takes',
    'makes',
    'ground',
    'drives',
    'receives',
    'both',
    'pulls',
    'holds',
    'starts',
    'passes',
    'bridge',
    'stops',
    'unknown',
    'untouched',
    'open',
  ]),
  evidence: EVIDENCE,
  amps: v.optional(v.number()),
  reading: v.optional(WORD),
  biases: v.optional(v.array(v.picklist(['terminate', 'pull-up', 'pull-down']))),
  finding: v.optional(SEVERITY),
  net: INDEX,
  out: v.optional(INDEX),
});

const LINE = v.object({
  name: WORD,
  contacts: WORD,
  group: v.picklist(GROUPS),
  crossings: v.array(v.nullish(CROSSING, MISSING)),
  links: v.array(v.boolean()),
  chain: v.boolean(),
  ends: v.array(
    v.object({
      kind: v.picklist(['terminate', 'pull-up', 'pull-down', 'feed']),
      gap: INDEX,
      side: v.optional(v.picklist(['left', 'right'])),
      text: WORD,
      guess: v.boolean(),
      finding: v.optional(SEVERITY),
    }),
  ),
  beyond: v.array(WORD),
  finding: v.optional(SEVERITY),
});

const BUS = {
  title: WORD,
  backplane: WORD,
  bus: WORD,
  slots: v.array(v.object({ label: WORD, board: WORD, state: v.picklist(['unsaid', 'empty', 'fitted']) })),
  findings: v.array(v.object({ rule: WORD, severity: SEVERITY, message: WORD, cells: v.array(CELL) })),
};

// ---- a connector, a ribbon ----

const TOLD = {
  label: WORD,
  name: WORD,
  kind: v.optional(v.picklist(['rail', 'ground', 'signal', 'spare', 'unknown', 'private'])),
  evidence: EVIDENCE,
  known: WORD,
  state: v.picklist(['there', 'pulled', 'plugged']),
};

const SHROUD = v.optional(v.picklist(['plain', 'notch']));
const PAIR = v.tuple([INDEX, INDEX]);

const CONNECTOR = v.object({
  title: WORD,
  of: WORD,
  board: WORD,
  connector: WORD,
  shape: v.picklist(['edge', 'header', 'row', 'dip', 'dshell', 'din']),
  rows: INDEX,
  positions: INDEX,
  pitch: v.optional(v.number()),
  half: WORD,
  rowsSay: WORD,
  contacts: v.array(v.object({ ...TOLD, x: v.number(), y: v.number(), net: v.optional(INDEX) })),
  keys: v.array(PAIR),
  hazards: v.array(v.object({ a: INDEX, b: INDEX, says: WORD })),
  shroud: SHROUD,
  bump: v.boolean(),
  ends: v.optional(v.picklist(['open', 'closed'])),
});

const VERDICT = v.optional(v.picklist(VERDICTS));

const RIBBON = v.object({
  title: WORD,
  name: WORD,
  kind: v.picklist(['ribbon', 'cable']),
  rigid: v.boolean(),
  ends: v.array(
    v.object({
      place: WORD,
      known: v.boolean(),
      connector: WORD,
      stripe: v.optional(WORD),
      turned: v.boolean(),
      bump: v.boolean(),
      shroud: SHROUD,
      keys: v.array(WORD),
      unplugged: v.boolean(),
      along: v.optional(v.number()),
      order: v.array(INDEX),
    }),
  ),
  conductors: v.array(
    v.object({
      number: INDEX,
      meets: v.array(v.nullish(v.object({ ...TOLD, place: WORD, verdict: VERDICT, net: INDEX }), MISSING)),
    }),
  ),
  pattern: v.optional(WORD),
  sheet: v.object({
    parts: v.array(WORD),
    places: v.array(WORD),
    buzz: v.array(v.object({ number: INDEX, contacts: v.array(WORD) })),
  }),
});

// ---- a what-if ----

const MATE_CONTACT = v.object({ ...TOLD, line: v.number(), net: INDEX });
const KEYS = v.array(v.object({ line: v.number(), between: WORD, stands: v.boolean() }));

const MATE = v.object({
  plug: WORD,
  socket: WORD,
  kinds: v.tuple([WORD, WORD]),
  lines: INDEX,
  plugContacts: v.array(MATE_CONTACT),
  socketContacts: v.array(MATE_CONTACT),
  meets: v.array(
    v.object({
      plug: INDEX,
      socket: INDEX,
      state: v.picklist(['meets', 'blocked']),
      unknown: v.boolean(),
      harm: v.optional(INDEX),
      tells: v.array(INDEX),
      more: INDEX,
    }),
  ),
  keys: KEYS,
  slots: KEYS,
});

const WHAT_IF = v.object({
  title: WORD,
  of: WORD,
  cases: v.picklist(CASES_SHOWN),
  list: v.array(v.object({ id: WORD, says: WORD })),
  first: INDEX,
  count: INDEX,
  harmful: INDEX,
  unjudged: INDEX,
  shown: v.optional(
    v.object({
      id: WORD,
      says: WORD,
      also: v.array(WORD),
      state: v.picklist(['open', 'unsaid', 'prevented']),
      verdict: WORD,
      harms: v.array(
        v.object({
          kind: v.picklist(HARM_KINDS),
          weight: v.picklist(WEIGHTS),
          word: WORD,
          says: WORD,
          through: WORD,
          by: WORD,
        }),
      ),
      more: INDEX,
      does: v.picklist(DOES),
      unknown: INDEX,
      mates: v.array(MATE),
      against: v.optional(WORD),
      key: v.optional(v.object({ title: WORD })),
    }),
  ),
});

// ---- messages ----

/**
 * A picture on its way. Of a bus, the lines that are as in the version before it go as their index there: an edit that
 * changes one line of a hundred sends one.
 */
const SENT = v.variant('view', [
  v.object({
    view: v.literal('bus'),
    picture: v.object(BUS),
    /** The version that the indices among the lines mean. */
    before: INDEX,
    lines: v.array(v.union([INDEX, LINE])),
  }),
  v.object({ view: v.literal('connector'), picture: CONNECTOR }),
  v.object({ view: v.literal('ribbon'), picture: RIBBON }),
  v.object({ view: v.literal('what-if'), picture: WHAT_IF }),
]);
export type Sent = v.InferOutput<typeof SENT>;

const MENU = v.object({
  bus: v.array(WORD),
  connector: v.array(WORD),
  ribbon: v.array(WORD),
  'what-if': v.array(WORD),
});
/** What there is to draw in a machine, by the names that choose it. */
export type Menu = v.InferOutput<typeof MENU>;
export const NOTHING_TO_DRAW: Menu = { bus: [], connector: [], ribbon: [], 'what-if': [] };

const TO_PAGE = v.variant('kind', [
  v.object({
    kind: v.literal('drawing'),
    version: INDEX,
    /** The machine's root file, for the page to keep. */
    root: WORD,
    of: WORD,
    menu: MENU,
    /** ms since the epoch, to measure by. */
    at: v.number(),
    sent: SENT,
  }),
  /** There is nothing to draw, and why. */
  v.object({ kind: v.literal('nothing'), root: WORD, why: WORD, menu: MENU }),
  /** Cells of the picture that the statement at the editor's cursor means. */
  v.object({ kind: v.literal('cursor'), version: INDEX, cells: v.array(CELL) }),
  /** The cell that somebody asks to see. */
  v.object({ kind: v.literal('select'), version: INDEX, cell: CELL }),
  /** What there is to tell of a cell: Markdown. */
  v.object({ kind: v.literal('told'), version: INDEX, cell: CELL, markdown: WORD }),
]);
export type ToPage = v.InferOutput<typeof TO_PAGE>;

/** The message, or undefined where it is none that a page knows. */
export function readToPage(message: unknown): ToPage | undefined {
  const { success, output } = v.safeParse(TO_PAGE, message);
  return success ? output : undefined;
}

/** A picture that has arrived, whole. */
export type Shown =
  | { readonly view: 'bus'; readonly picture: Drawn<BusPicture> }
  | { readonly view: 'connector'; readonly picture: Drawn<ConnectorPicture> }
  | { readonly view: 'ribbon'; readonly picture: Drawn<RibbonPicture> }
  | { readonly view: 'what-if'; readonly picture: Drawn<WhatIfPicture> };

/**
 * Puts a picture together from what was sent and the lines of the version that it builds on. Undefined where that
 * version is another: then the whole has to be sent.
 */
export function arrived(
  sent: Sent,
  before: { readonly version: number; readonly shown: Shown } | undefined,
): Shown | undefined {
  if (sent.view !== 'bus') return sent as Shown;
  const old =
    before?.version === sent.before && before.shown.view === 'bus' ? before.shown.picture.lines : [];
  const lines: Drawn<LineRow>[] = [];
  for (const line of sent.lines) {
    const one = typeof line === 'number' ? old[line] : (line as Drawn<LineRow>);
    if (one === undefined) return undefined;
    lines.push(one);
  }
  return { view: 'bus', picture: { ...sent.picture, lines } };
}
