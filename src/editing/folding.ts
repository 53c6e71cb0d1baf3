import type { Block, Document, Line } from '../language/tree.ts';

/** Lines that fold away behind the first of them; line numbers from 0, the last one included. */
export interface Fold {
  readonly from: number;
  readonly to: number;
  /** `uses`: the files that a text brings in and the findings that it silences, as an editor folds imports. */
  readonly kind: 'block' | 'comment' | 'uses';
}

/** What folds in a text: blocks (their closing brace stays), runs of comment lines, runs of `use` and `allow` lines. */
export function foldsIn(document: Document): Fold[] {
  const folds = [...blocks(document.root, document.lines), ...runs(document)];
  return folds.sort((a, b) => a.from - b.from || b.to - a.to);
}

function* blocks({ entries }: Block, lines: readonly Line[]): Iterable<Fold> {
  for (const { line, block } of entries) {
    if (block === undefined) continue;
    const closes = block.end > line && lines[block.end]!.pieces[0]?.kind === 'close';
    const to = closes ? block.end - 1 : block.end;
    if (to > line) yield { from: line, to, kind: 'block' };
    yield* blocks(block, lines);
  }
}

function* runs({ lines, root }: Document): Iterable<Fold> {
  const uses = new Set(
    root.entries.flatMap(({ line, statement: { form } }) =>
      form === 'use' || form === 'allow' ? [line] : [],
    ),
  );
  const kindOf = (index: number): Fold['kind'] | undefined => {
    const line = lines[index];
    if (line === undefined) return undefined;
    if (line.comment >= 0 && line.pieces.length === 0) return 'comment';
    return uses.has(index) ? 'uses' : undefined;
  };
  for (let from = 0; from < lines.length; ) {
    const kind = kindOf(from);
    let to = from;
    while (kind !== undefined && kindOf(to + 1) === kind) to++;
    if (kind !== undefined && to > from) yield { from, to, kind };
    from = to + 1;
  }
}
