import { indexNets } from '../analysis/nets.ts';
import { nearest } from '../language/problems.ts';
import type { Document } from '../language/tree.ts';
import type { Allowance, Machine } from '../machine/types.ts';
import { edit, preferred, replacing } from './edits.ts';
import { languageRules } from './language.ts';
import { rules } from './rules.ts';
import type { Finding, View } from './types.ts';

/** What rules look at, gathered once. */
export const viewOf = (machine: Machine): View => ({ machine, nets: indexNets(machine) });

/** All findings on a machine, in the order of the text. Rules named by `allow` lines are silent there. */
export function check(
  machine: Machine,
  documents: ReadonlyMap<string, Document>,
  view: View = viewOf(machine),
): Finding[] {
  const found = [...ofLanguage(machine, documents), ...rules.flatMap((rule) => [...rule.check(view)])];
  const used = new Set<Allowance>();
  const left = found.filter((finding) => !allowed(finding, machine.allowances, used));
  for (const allowance of machine.allowances) if (!used.has(allowance)) left.push(unused(allowance));
  const order = new Map(machine.files.map((file, i) => [file, i]));
  const rank = (finding: Finding): number => order.get(finding.source.file) ?? 0;
  return left.sort((a, b) => rank(a) - rank(b) || a.source.from - b.source.from || compare(a, b));
}

const compare = (a: Finding, b: Finding): number => (a.rule < b.rule ? -1 : a.rule > b.rule ? 1 : 0);

/** What the text itself gets wrong. */
function* ofLanguage(machine: Machine, documents: ReadonlyMap<string, Document>): Iterable<Finding> {
  for (const [file, document] of documents) {
    for (const { rule, from, to, message, fix } of document.problems) {
      const edit = fix && replacing(fix.title, { file, from: fix.from, to: fix.to }, fix.text);
      yield {
        rule,
        severity: 'error',
        message,
        source: { file, from, to },
        path: [],
        about: [],
        ...(edit ? { edits: [edit], fix: edit.title } : {}),
      };
    }
  }
  for (const { rule, severity = 'error', message, source, related = [], fix } of machine.problems) {
    yield {
      rule,
      severity,
      message,
      source,
      about: [],
      path: related.map((one) => ({ contact: one.message, signal: '', evidence: '', source: one.source })),
      ...(fix ? { fix: fix.title, edits: [replacing(fix.title, fix.source, fix.text)] } : {}),
    };
  }
}

function allowed(finding: Finding, allowances: readonly Allowance[], used: Set<Allowance>): boolean {
  let silent = false;
  for (const allowance of allowances) {
    if (allowance.rule !== finding.rule) continue;
    if (!allowance.places.some((place) => silences(place, finding))) continue;
    used.add(allowance);
    silent = true;
  }
  return silent;
}

/** Whether an `allow` at a place means the finding: a contact on its path, a connector or board that holds one, a name. */
export function silences(place: string, { about, path }: Finding): boolean {
  const within = (name: string): boolean => name === place || name.startsWith(`${place}.`);
  return about.some(within) || path.some(({ contact, signal }) => within(contact) || signal === place);
}

function unused({ rule, places, source }: Allowance): Finding {
  const ids = [...rules, ...languageRules].map(({ id }) => id);
  const meant = ids.includes(rule) ? undefined : nearest(rule, ids);
  const none = `there is no rule \`${rule}\`; `;
  const message = ids.includes(rule)
    ? `this silences nothing: there is no ${rule} at ${places.join(', ')}`
    : none + (meant === undefined ? '`cardcage rules` lists them all' : `did you mean \`${meant}\`?`);
  return {
    rule: 'allow-unused',
    severity: 'warning',
    message,
    source,
    path: [],
    about: [],
    fix: meant === undefined ? 'take the line out' : `write \`${meant}\``,
    edits: [
      ...(meant === undefined
        ? []
        : [preferred(edit(`write \`${meant}\``, { kind: 'list', source, from: [rule], to: [meant] }))]),
      edit('take the line out', { kind: 'remove', source }),
    ],
  };
}
