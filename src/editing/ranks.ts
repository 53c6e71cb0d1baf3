import { severities } from '../checks/severities.ts';
import type { Finding, Severity } from '../checks/types.ts';

/** How grave a rule's findings are to be taken, by its name; `off` is not at all. Others as the rule says. */
export type Ranks = Readonly<Record<string, string>>;

/** Findings as settings rank them, without those of rules that are off. `ranksOf` gives what is set for a file. */
export function ranked(findings: readonly Finding[], ranksOf: (file: string) => Ranks): Finding[] {
  const known = new Map<string, Ranks>();
  return findings.flatMap((finding) => {
    const { file } = finding.source;
    const ranks = known.get(file) ?? ranksOf(file);
    known.set(file, ranks);
    const wanted = ranks[finding.rule];
    if (wanted === 'off') return [];
    return isSeverity(wanted) && wanted !== finding.severity ? { ...finding, severity: wanted } : finding;
  });
}

const isSeverity = (text: string | undefined): text is Severity => severities.some((one) => one === text);
