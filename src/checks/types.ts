import type { NetIndex } from '../analysis/nets.ts';
import type { Machine, Source } from '../machine/types.ts';

/**
 * error: something can be destroyed, or cannot work as written. warning: probably wrong. question: the file does not
 * say enough to know. note: worth knowing.
 */
export type Severity = 'error' | 'warning' | 'question' | 'note';

/** Some places of a table's line, by index into the labels of its connector or backplane. */
export interface Places {
  readonly labels: readonly string[];
  readonly places: readonly number[];
}

/**
 * One change of a text, said by what it means; `editing/changes.ts` finds the offsets.
 * `replace`: that place gets this text. `add`: a line at the end of the block that the statement at `into` opens, or
 * opens now, or of the block that the statement at `beside` stands in. `block`: lines of a block of their own behind
 * the outermost block around `after`. `remove`: the whole line of the statement goes.
 * `say`: the statement at `source` says these attributes, by their keys; an empty text takes one out. With `at`, only
 * these places of a table's line say it, and the others keep what the line says.
 * `list`: in the list of the statement at `source`, the names `from` become the names `to`, one by one; what `to` lacks
 * is taken out (with the line, where nothing is left), what it has more is added.
 */
export type Change =
  | { readonly kind: 'replace'; readonly source: Source; readonly text: string }
  | { readonly kind: 'add'; readonly line: string; readonly into: Source }
  | { readonly kind: 'add'; readonly line: string; readonly beside: Source }
  | { readonly kind: 'block'; readonly lines: readonly string[]; readonly after: Source }
  | { readonly kind: 'remove'; readonly source: Source }
  | {
      readonly kind: 'say';
      readonly source: Source;
      readonly say: Readonly<Record<string, string>>;
      readonly at?: Places;
    }
  | {
      readonly kind: 'list';
      readonly source: Source;
      readonly from: readonly string[];
      readonly to: readonly string[];
    };

/** A change of the files that mends a finding, as one step. */
export interface Edit {
  /** What it does, as an order: `write \`LM7905CT\``. */
  readonly title: string;
  readonly changes: readonly Change[];
  /** Right in nearly all cases: the one that is taken where only one can be. */
  readonly preferred?: true;
}

/** One stop on the way that explains a finding. */
export interface Step {
  /** `CAGE.3.14`, or what lies between contacts: `W1 conductor 5`. */
  readonly contact: string;
  /** What it is said to be there; empty where nothing is said. */
  readonly signal: string;
  /** How that is known: `meter 2026-05-02`, `not said`. */
  readonly evidence: string;
  readonly source: Source;
}

export interface Finding {
  readonly rule: string;
  readonly severity: Severity;
  /** One sentence in the trade's words. */
  readonly message: string;
  readonly source: Source;
  readonly path: readonly Step[];
  /** What to do about it, in one sentence. */
  readonly fix?: string;
  /** Changes of the text that do it, the likeliest first. */
  readonly edits?: readonly Edit[];
  /** Names by which an `allow … at` may mean it, besides the contacts on its path: boards, lines, rails, ribbons. */
  readonly about: readonly string[];
}

/** What a rule looks at: the machine, and what can be computed of it. */
export interface View {
  readonly machine: Machine;
  readonly nets: NetIndex;
}

/** One rule. `check` is a pure function of the view. */
export interface Rule {
  readonly id: string;
  /** The severity of its worst finding. */
  readonly severity: Severity;
  /** One line for lists: when it fires. */
  readonly summary: string;
  check(view: View): Iterable<Finding>;
}
