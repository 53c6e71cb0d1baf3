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
  const isGuessed = guessFinder(analysis);
  const tokens: Token[] = [];
  let end = -1;
  for (const one of symbols.in(file)) {
    const { from, to } = one;
    if (range !== undefined && (to < range.from || from > range.to)) continue;
    if (from < end || to <= from) continue;
    const contact = one.kind === 'contact' ? saidOf(analysis, one) : undefined;
    const modifiers: TokenModifier[] = [];
    if (one.defines) modifiers.push('declaration');
    if (contact ? contact.guess : isGuessed(one)) modifiers.push('guess');
    tokens.push({ from, to, type: contact ? contact.type : typeOf(one, kinds), modifiers });
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

const typeOf = ({ kind, names }: Occurrence, kindOf: KindOf): TokenType =>
  kind === 'name' ? kindOf(names[0] ?? '') : kind === 'contact' ? kind : TYPES[kind];

/** What is said of a contact: by its own line in a table, elsewhere by the table that it leads to. */
function saidOf(analysis: Analysis, one: Occurrence): { type: TokenType; guess: boolean } {
  const { statement } = one.entry;
  if (statement.form !== 'entry') {
    const claim = contactOf(analysis, one)?.claim;
    const type = claim?.kind === 'unknown' ? 'unknownContact' : 'contact';
    return { type, guess: claim?.evidence.kind === 'guess' };
  }
  const value = attribute(statement, 'is')?.values[0];
  const type = value?.kind === 'word' && value.text === 'unknown' ? 'unknownContact' : 'contact';
  return { type, guess: isGuess(one.entry) };
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

const isGuess = ({ statement }: Entry): boolean => evidenceOf(statement).kind === 'guess';

/** Whether all that declares a name is a guess. */
function guessFinder({ symbols }: Analysis): (one: Occurrence) => boolean {
  const kept = new Map<string, boolean>();
  const isGuessed = (key: string): boolean => {
    let guessed = kept.get(key);
    if (guessed === undefined) {
      const declared = symbols.of(key).filter(({ defines }) => defines);
      guessed = declared.length > 0 && declared.every(({ entry }) => isGuess(entry));
      kept.set(key, guessed);
    }
    return guessed;
  };
  return ({ keys }) => keys.length > 0 && keys.every(isGuessed);
}
