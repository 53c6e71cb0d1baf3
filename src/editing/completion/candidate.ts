import type { SymbolKind } from '../roles.ts';

/** What is offered: the extension gives each kind its icon. */
export type CompletionKind =
  | Exclude<SymbolKind, 'name'>
  | 'word'
  | 'evidence'
  | 'unit'
  | 'value'
  | 'date'
  | 'text'
  | 'rail'
  | 'ground'
  | 'signal'
  | 'chain'
  | 'family'
  | 'regulator'
  | 'rule'
  | 'place'
  | 'file'
  | 'snippet';

/** A change of the same file, somewhere else in it. */
export interface TextChange {
  readonly from: number;
  readonly to: number;
  readonly text: string;
}

/** Something that could stand at the cursor. */
export interface Candidate {
  /** Exactly as it will stand in the text. */
  readonly label: string;
  readonly kind: CompletionKind;
  /** How likely it is meant: the lowest first; equals in the order they come. */
  readonly rank: number;
  readonly detail?: string;
  /** Markdown. */
  readonly documentation?: string;
  /** What is written, where that is more than the label. */
  readonly insert?: string;
  /** `insert` has tab stops. */
  readonly snippet?: true;
  readonly preselect?: true;
  /** Something must follow that can be offered at once. */
  readonly retrigger?: true;
  /** It replaces the whole path or number before the cursor, not the last name of it. */
  readonly whole?: true;
  readonly also?: readonly TextChange[];
  /** Another item of its list stands behind it: a comma goes between. */
  readonly comma?: true;
}
