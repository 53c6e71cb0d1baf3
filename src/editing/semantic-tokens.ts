import { takenRails } from '../analysis/rails.ts';
import type { Entry } from '../language/tree.ts';
import { attribute } from '../language/tree.ts';
import { claimKind } from '../machine/claims.ts';
import { evidenceOf } from '../machine/scope.ts';
import type { Machine } from '../machine/types.ts';
import { contactOf } from './contacts.ts';
import type { Analysis } from './project.ts';
import type { SymbolKind } from './roles.ts';
import type { Occurrence } from './symbols.ts';

/** What a name in the text means. */
export const tokenTypes = [
  'rail',
  'ground',
  'signal',
  'contact',
  'unknownContact',
  'connector',
  'bus',
  'card',
  'board',
  'backplane',
  'supply',
  'ribbon',
  'part',
] as const;
export type TokenType = (typeof tokenTypes)[number];

/** `declaration`: the place that says what it is. `guess`: all that is known of it is a guess. */
export const tokenModifiers = ['declaration', 'guess'] as const;
export type TokenModifier = (typeof tokenModifiers)[number];

export interface Token {
  readonly from: number;
  readonly to: number;
  readonly type: TokenType;
  readonly modifiers: readonly TokenModifier[];
}

/** Offsets of a part of a text. */
export interface TextRange {
  readonly from: number;
  readonly to: number;
}

/** The names of a file, or of a part of it, by what they mean: in the order of the text, none over another. */
export function semanticTokens(analysis: Analysis, file: string, range?: TextRange): Token[] {
  const { symbols, machine } = analysis;
  const kinds = nameKinds(machine);
  const guesses = guessFinder(analysis);
  const tokens: Token[] = [];
  let end = -1;
  for (const one of symbols.in(file)) {
    const { from, to } = one;
    if (range !== undefined && (to < range.from || from > range.to)) continue;
    if (from < end || to <= from) continue;
    const type = typeOf(analysis, one, kinds);
    const modifiers: TokenModifier[] = [];
    if (one.defines) modifiers.push('declaration');
    if (guesses(one)) modifiers.push('guess');
    tokens.push({ from, to, type, modifiers });
    end = to;
  }
  return tokens;
}

const TYPES: Readonly<Record<Exclude<SymbolKind, 'name' | 'contact'>, TokenType>> = {
  supply: 'supply',
  connector: 'connector',
  port: 'connector',
  bus: 'bus',
  backplane: 'backplane',
  card: 'card',
  board: 'board',
  ribbon: 'ribbon',
  cable: 'ribbon',
  part: 'part',
  label: 'part',
  slot: 'contact',
};

type KindOf = (name: string) => 'rail' | 'ground' | 'signal';

function typeOf(analysis: Analysis, one: Occurrence, kindOf: KindOf): TokenType {
  if (one.kind === 'name') return kindOf(one.names[0] ?? '');
  if (one.kind !== 'contact') return TYPES[one.kind];
  return isUnknown(analysis, one) ? 'unknownContact' : 'contact';
}

function nameKinds(machine: Machine): KindOf {
  const taken = takenRails(machine);
  const kept = new Map<string, ReturnType<KindOf>>();
  return (name) => {
    let kind = kept.get(name);
    if (kind === undefined) {
      const claimed = claimKind(name, machine.railNames);
      const isRail = claimed === 'rail' || (claimed === 'signal' && taken.has(name));
      kind = claimed === 'ground' ? claimed : isRail ? 'rail' : 'signal';
      kept.set(name, kind);
    }
    return kind;
  };
}

/** Whether a contact is said to be unknown: by its own line in a table, elsewhere by the table that it leads to. */
function isUnknown(analysis: Analysis, one: Occurrence): boolean {
  if (one.entry.statement.form !== 'entry') return contactOf(analysis, one)?.claim?.kind === 'unknown';
  const value = attribute(one.entry.statement, 'is')?.values[0];
  return value?.kind === 'word' && value.text === 'unknown';
}

const isGuess = ({ statement }: Entry): boolean => evidenceOf(statement).kind === 'guess';

/** Whether all that declares a name, or says what a contact is, is a guess. */
function guessFinder(analysis: Analysis): (one: Occurrence) => boolean {
  const kept = new Map<string, boolean>();
  const isGuessed = (key: string): boolean => {
    let guessed = kept.get(key);
    if (guessed === undefined) {
      const declared = analysis.symbols.of(key).filter(({ defines }) => defines);
      guessed = declared.length > 0 && declared.every(({ entry }) => isGuess(entry));
      kept.set(key, guessed);
    }
    return guessed;
  };
  return (one) => {
    if (one.kind !== 'contact') return one.keys.length > 0 && one.keys.every(isGuessed);
    if (one.entry.statement.form === 'entry') return isGuess(one.entry);
    return contactOf(analysis, one)?.claim?.evidence.kind === 'guess';
  };
}
