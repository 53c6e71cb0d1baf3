import { meantPart, type Naming, type UnknownPart, unknownParts } from '../analysis/part-names.ts';
import { edit, preferred, withEdits } from './edits.ts';
import { spokenEvidence } from './explain.ts';
import { placeKey } from './sisters.ts';
import type { Edit, Finding, Rule, Step, View } from './types.ts';

/** A part of which nothing is known: what it drives, stands and needs goes unchecked. One finding per name. */
export const partUnknown: Rule = {
  id: 'part-unknown',
  severity: 'question',
  summary: 'a part is named of which no table knows anything',
  *check(view) {
    for (const part of unknownParts(view.machine)) yield finding(view, part);
  },
};

/** Lines that are shown on the path; the others are counted. */
const SHOWN = 4;

function finding({ machine }: View, part: UnknownPart): Finding {
  const { name, kind, namings } = part;
  const [first] = namings as readonly [Naming, ...Naming[]];
  const meant = meantPart(machine, part);
  const who = first.does === '' ? `${first.card.name} has` : `${first.card.name} ${first.does} with`;
  const lines = namings.length === 1 ? '' : `, the first of ${namings.length} lines that name it`;
  const what = kind === 'regulator' ? 'regulator' : 'part or family';
  const ask = meant === undefined ? '' : `; did you mean \`${meant}\`?`;
  const block = `describe it in a block \`part ${name} {\``;
  return {
    rule: 'part-unknown',
    severity: 'question',
    message: `${who} \`${name}\`${lines}: no table knows a ${what} of this name, so nothing about it is checked${ask}`,
    source: first.name,
    path: namings.slice(0, SHOWN).map(stepOf),
    fix:
      meant === undefined
        ? `read its print again, find its data sheet, and ${block}`
        : `read its print again: write \`${meant}\` where that is what it says, else ${block}`,
    ...withEdits(meant === undefined ? [] : [preferred(renamed(meant, namings))]),
    about: [name],
  };
}

const stepOf = ({ card, does, evidence, name }: Naming): Step => ({
  contact: card.name,
  signal: does,
  evidence: spokenEvidence(evidence),
  source: name,
});

/** All lines that name it name it otherwise. */
const renamed = (meant: string, namings: readonly Naming[]): Edit =>
  edit(
    `write \`${meant}\``,
    // A line of several uses names its part in one place.
    ...[...new Map(namings.map(({ name }) => [placeKey(name), name])).values()].map(
      (name) => ({ kind: 'replace', source: name, text: meant }) as const,
    ),
  );
