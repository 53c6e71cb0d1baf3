import { formNamed } from '../../language/forms.ts';
import { attempt } from '../../language/statement.ts';
import type { Candidate, CompletionKind } from './candidate.ts';

const NAMES = new Set<CompletionKind>(
  'supply connector bus backplane card board port ribbon cable part label rail ground signal chain family regulator'.split(
    ' ',
  ) as CompletionKind[],
);

/** Candidates with names in quotes where they cannot stand bare; none that could not be written at all. */
export function asWritten(list: readonly Candidate[], inPath: boolean): Candidate[] {
  return list.flatMap((one) => {
    if (!NAMES.has(one.kind) || one.whole || one.label.endsWith('}')) return [one];
    if (one.label.split('..').every((name) => isBare(name))) return [one];
    // Neither an end of a range nor a part of a path can be quoted.
    if (inPath || one.insert !== undefined || one.label.includes('..') || one.label.includes('"')) return [];
    return [{ ...one, label: `"${one.label}"` }];
  });
}

/** Whether a name is understood as it stands: no word of the language, nothing that names do not hold. */
function isBare(name: string): boolean {
  if (/^[A-Z+-][A-Z0-9]*$/.test(name)) return true;
  return name === 'edge' || !('expected' in attempt(formNamed('like'), `like ${name}`));
}
