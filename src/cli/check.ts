import { pathToFileURL } from 'node:url';
import { merged } from '../checks/merge.ts';
import { check } from '../checks/run.ts';
import { worstFirst } from '../checks/severities.ts';
import type { Finding, Severity } from '../checks/types.ts';
import type { Machine } from '../machine/types.ts';
import { isPublished } from '../machine/uses.ts';
import { findingsJson, summarise } from '../reports/findings.ts';
import { findingsSarif } from '../reports/sarif.ts';
import { findingText, summaryText } from '../reports/text.ts';
import { Files, machineFiles, nameOf, Trouble } from './files.ts';
import { painter } from './painter.ts';

export interface CheckOptions {
  readonly format: 'text' | 'json' | 'sarif';
  readonly failOn: 'error' | 'warning' | 'never';
}

export function checkCommand(paths: readonly string[], options: CheckOptions, version: string): number {
  const files = new Files();
  const machines: Machine[] = [];
  const found: Finding[][] = [];
  const troubles: string[] = [];
  for (const file of machineFiles(paths, (path) => files.read(path))) {
    const machine = orTrouble(() => files.machine(file), troubles);
    if (machine === undefined) continue;
    machines.push(machine);
    found.push(check(machine, files.of(machine)));
  }
  for (const trouble of troubles) process.stderr.write(`cardcage: ${trouble}\n`);
  if (machines.length === 0) return 2;
  const list = merged(found);
  process.stdout.write(report(list, machines, files, options.format, version));
  const fails: readonly Severity[] =
    options.failOn === 'never' ? [] : options.failOn === 'warning' ? ['error', 'warning'] : ['error'];
  if (troubles.length > 0) return 2;
  return list.some(({ severity }) => fails.includes(severity)) ? 1 : 0;
}

/** One file that cannot be read does not keep the others from being checked. */
function orTrouble<T>(work: () => T, troubles: string[]): T | undefined {
  try {
    return work();
  } catch (error) {
    if (!(error instanceof Trouble)) throw error;
    troubles.push(error.message);
    return undefined;
  }
}

function report(
  findings: readonly Finding[],
  machines: readonly Machine[],
  { texts }: Files,
  format: CheckOptions['format'],
  version: string,
): string {
  const summary = summarise(machines, findings);
  if (format === 'json') return findingsJson(findings, summary, texts, nameOf);
  if (format === 'sarif') return findingsSarif(findings, version, texts, uriOf);
  const paint = painter();
  const blocks = worstFirst(findings).map((finding) =>
    findingText(finding, texts, nameOf, paint, process.stdout.columns ?? 100),
  );
  return [...blocks, summaryText(summary)].join('\n');
}

function uriOf(file: string): string {
  const name = nameOf(file);
  if (isPublished(name)) return name;
  return name.startsWith('/') ? pathToFileURL(name).href : name.split('/').map(encodeURIComponent).join('/');
}
