/** A part of a snippet: as it is written there, and as it stands in the text while nobody has changed it. */
export interface Piece {
  readonly source: string;
  readonly text: string;
}

const STOP = /\$(?:\d+|\{\d+\}|\{\d+:((?:\\.|[^}\\])*)\}|\{\d+\|((?:\\.|[^|\\])*)\|\})/gs;

/** A snippet cut at its tab stops. Of a choice the first stands. */
export function piecesOf(snippet: string): Piece[] {
  const pieces: Piece[] = [];
  let at = 0;
  for (const found of snippet.matchAll(STOP)) {
    const [source, text, choices] = found;
    const before = snippet.slice(at, found.index);
    if (before !== '') pieces.push({ source: before, text: before });
    pieces.push({ source, text: unescaped(text ?? firstOf(choices ?? '')) });
    at = found.index + source.length;
  }
  if (at < snippet.length) pieces.push({ source: snippet.slice(at), text: snippet.slice(at) });
  return pieces;
}

const firstOf = (choices: string): string => /^(?:\\.|[^,\\])*/s.exec(choices)![0];

const unescaped = (text: string): string => text.replace(/\\(.)/gs, '$1');

/** A place to fill in, with what stands there until somebody does. */
export const stop = (n: number, text: string): string => `\${${n}:${text.replace(/[$}\\]/g, '\\$&')}}`;
