import type { Document } from '../language/tree.ts';
import type { Machine } from '../machine/types.ts';
import { documentsAfter, machineOf } from './changed-machine.ts';
import type { TextChange } from './changes.ts';
import type { Analysis } from './project.ts';
import { symbolsOf } from './symbols.ts';

/** What changes of names do to a machine besides: things joined or parted, or the first new error of the text. */
export type Harm = { readonly kind: 'things' } | { readonly kind: 'error'; readonly message: string };

/**
 * What changes that should give things other names, and no more, do to a machine: the same contacts stay joined, as many
 * things have names, and the text has no new error. Undefined where that is so. Builds the machine once.
 */
export function harmOf(before: Analysis, changes: readonly TextChange[]): Harm | undefined {
  const documents = documentsAfter(before.documents, changes);
  const machine = machineOf(before, documents);
  if (machine === undefined) return undefined;
  if (
    !sameNets(before.machine, machine) ||
    before.symbols.all.size !== symbolsOf(machine, documents).all.size
  )
    return { kind: 'things' };
  const message = newError(errorsOf(before.machine, before.documents), errorsOf(machine, documents));
  return message === undefined ? undefined : { kind: 'error', message };
}

/** Whether the same contacts are joined: nets are numbered as they come, so each net of one must be one of the other. */
function sameNets(one: Machine, other: Machine): boolean {
  if (one.contactCount !== other.contactCount) return false;
  const there = new Map<number, number>();
  const here = new Map<number, number>();
  for (let contact = 0; contact < one.contactCount; contact++) {
    const [a, b] = [one.nets.of[contact]!, other.nets.of[contact]!];
    if ((there.get(a) ?? b) !== b || (here.get(b) ?? a) !== a) return false;
    there.set(a, b);
    here.set(b, a);
  }
  return true;
}

type Errors = readonly { readonly rule: string; readonly message: string }[];

/** What the text gets wrong. */
const errorsOf = ({ problems }: Machine, documents: ReadonlyMap<string, Document>): Errors => [
  ...[...documents.values()].flatMap((document) => document.problems),
  ...problems.filter(({ severity = 'error' }) => severity === 'error'),
];

/** The message of an error of which there are more than before; messages hold names, and do not tell errors apart. */
function newError(before: Errors, after: Errors): string | undefined {
  const left = new Map<string, number>();
  for (const { rule } of before) left.set(rule, (left.get(rule) ?? 0) + 1);
  const known = new Set(before.map(({ message }) => message));
  const more = new Set<string>();
  for (const { rule } of after) {
    left.set(rule, (left.get(rule) ?? 0) - 1);
    if (left.get(rule)! < 0) more.add(rule);
  }
  return after.find(({ rule, message }) => more.has(rule) && !known.has(message))?.message;
}
