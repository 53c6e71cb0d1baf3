import type { Finding, Severity } from './types.ts';

/** From the worst to the least. */
export const severities: readonly Severity[] = ['error', 'warning', 'question', 'note'];

/** The worst of some; undefined of none. */
export const worstOf = (some: readonly Severity[]): Severity | undefined =>
  severities.find((severity) => some.includes(severity));

/** At the bench the worst is wanted first; within one severity, the order in which they stand. */
export const worstFirst = (findings: readonly Finding[]): Finding[] =>
  [...findings].sort((a, b) => severities.indexOf(a.severity) - severities.indexOf(b.severity));

/** How many there are of each severity, without those of which there are none. */
export const countsOf = (
  findings: readonly Finding[],
): { readonly severity: Severity; readonly count: number }[] =>
  severities
    .map((severity) => ({ severity, count: findings.filter((one) => one.severity === severity).length }))
    .filter(({ count }) => count > 0);
