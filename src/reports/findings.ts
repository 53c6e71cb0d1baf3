import type { Finding, Severity } from '../checks/types.ts';
import type { Machine } from '../machine/types.ts';
import { isPublished } from '../machine/uses.ts';
import { placeIn, type Texts } from './places.ts';

export interface Summary {
  readonly files: number;
  readonly contacts: number;
  readonly nets: number;
  readonly errors: number;
  readonly warnings: number;
  readonly questions: number;
  readonly notes: number;
}

/** Nets that hold at least one contact: contacts are the first nodes, so these nets are numbered first. */
export function netCount({ nets, contactCount }: Machine): number {
  let count = 0;
  for (let contact = 0; contact < contactCount; contact++) count = Math.max(count, nets.of[contact]! + 1);
  return count;
}

export function summarise(machines: readonly Machine[], findings: readonly Finding[]): Summary {
  const of = (severity: Severity): number =>
    findings.filter((finding) => finding.severity === severity).length;
  return {
    files: new Set(machines.flatMap(({ files }) => files.filter((file) => !isPublished(file)))).size,
    contacts: machines.reduce((sum, machine) => sum + machine.contactCount, 0),
    nets: machines.reduce((sum, machine) => sum + netCount(machine), 0),
    errors: of('error'),
    warnings: of('warning'),
    questions: of('question'),
    notes: of('note'),
  };
}

/** Findings as JSON, the shape that README documents. `nameOf` turns a file into what the reader calls it. */
export function findingsJson(
  findings: readonly Finding[],
  summary: Summary,
  texts: Texts,
  nameOf: (file: string) => string,
): string {
  const list = findings.map(({ rule, severity, message, source, path, fix }) => ({
    rule,
    severity,
    message,
    file: nameOf(source.file),
    ...placeIn(texts, source),
    path: path.map((step) => ({
      contact: step.contact,
      signal: step.signal,
      evidence: step.evidence,
      file: nameOf(step.source.file),
      line: placeIn(texts, step.source).line,
    })),
    fix: fix ?? null,
  }));
  return `${JSON.stringify({ findings: list, summary }, null, 2)}\n`;
}
