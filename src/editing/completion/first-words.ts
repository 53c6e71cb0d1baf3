import { type BlockKind, type Form, forms } from '../../language/forms.ts';
import { type Entry, subjects } from '../../language/tree.ts';
import { lineIndexAt } from '../place.ts';
import { snippetFor } from '../snippets.ts';
import type { Candidate } from './candidate.ts';
import type { Cursor } from './cursor.ts';

/** Words that may begin a line of the block the cursor is in; each block as a snippet. */
export function firstWords(cursor: Cursor): Candidate[] {
  const here = wordsOf(cursor, cursor.kind, 0);
  const outer = outerKinds(cursor);
  const seen = new Set(here.map(({ label }) => label));
  return [
    ...here,
    ...outer.flatMap((kind) => wordsOf(cursor, kind, 20)).filter(({ label }) => !seen.has(label)),
  ];
}

/** Where a brace is missing, a line that stands no deeper than its block's heading may as well belong further out. */
function outerKinds({ document, around, from }: Cursor): BlockKind[] {
  if (!document.problems.some(({ rule }) => rule === 'block-unclosed')) return [];
  const column = from - document.lines[lineIndexAt(document, from)]!.start;
  return around.flatMap(({ line }, depth) => {
    const isOut = column <= (document.lines[line]!.pieces[0]?.from ?? 0);
    return isOut ? [depth === 0 ? 'file' : (around[depth - 1]!.block!.kind as BlockKind)] : [];
  });
}

function wordsOf(cursor: Cursor, kind: BlockKind, rank: number): Candidate[] {
  return forms
    .filter((form) => form.word !== '=' && form.blocks.includes(kind) && isMissing(form, cursor))
    .flatMap((form, order) => {
      // Lines that belong to this kind of block before those that it shares with others.
      const shared = form.blocks[0] === kind ? 0 : 1;
      const place = rank + 5 + shared + (SELDOM.has(form.id) ? 1 : 0) + order / 100;
      // A block begins where the line ends: before the rest of a line it would take it apart.
      const isEnd = cursor.rest.trim() === '';
      const snippet = isEnd && (form.opens || form.mayOpen) ? snippetOf(form, cursor, place) : [];
      return isEnd && form.opens ? snippet : [wordOf(form, place), ...snippet];
    });
}

/** Lines that few files need. */
const SELDOM = new Set(['activelow', 'allow', 'family', 'parttable']);

/** Whether a line is missing yet: some a block has once, and a backplane is fitted in one place. */
function isMissing(form: Form, { analysis, around, document, elsewhere, file }: Cursor): boolean {
  const ofForm = (entries: readonly Entry[], its: string): Entry[] =>
    entries.filter(
      ({ statement, offset }) =>
        statement.form === form.id && elsewhere({ file: its, from: offset, to: offset + statement.to }),
    );
  if (form.id === 'fitted') {
    const said = [...analysis.documents].flatMap(([its, { root }]) => ofForm(root.entries, its));
    const fitted = new Set(said.map(({ statement }) => subjects(statement)[0]?.first));
    const { backplanes } = analysis.machine;
    return backplanes.length === 0 || backplanes.some(({ name }) => !fitted.has(name));
  }
  const here = (around.at(-1)?.block ?? document.root).entries;
  // Edges that have names may be several.
  if (form.id === 'edge') return ofForm(here, file).every(({ statement }) => subjects(statement).length > 0);
  return !form.once || ofForm(here, file).length === 0;
}

const documented = ({ says, example }: Form): string => `${says}\n\n\`\`\`pinout\n${example}\n\`\`\``;

function wordOf(form: Form, rank: number): Candidate {
  const alone = form.id === 'bump' || form.id === 'shroud';
  return {
    label: form.word,
    kind: 'word',
    rank,
    detail: form.says,
    documentation: documented(form),
    ...(alone ? {} : { insert: `${form.word} `, retrigger: true as const }),
  };
}

function snippetOf(form: Form, cursor: Cursor, rank: number): Candidate[] {
  const insert = snippetFor(form, cursor.analysis.machine, cursor.options.today, cursor.scope);
  const label = form.opens ? form.word : `${form.word} {…}`;
  return [
    {
      label,
      kind: 'snippet',
      rank,
      detail: form.says,
      documentation: documented(form),
      insert,
      snippet: true,
    },
  ];
}
