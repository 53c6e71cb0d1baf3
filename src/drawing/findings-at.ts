import type { Finding } from '../checks/types.ts';
import type { Instance } from '../machine/types.ts';

/** What is found at a contact of a connector. */
export type FindingsAt = (instance: Instance, contact: number) => readonly Finding[];

const NONE: readonly Finding[] = [];

/** The findings whose path leads over each contact, once each. */
export function findingsAt(findings: readonly Finding[]): FindingsAt {
  const byPath = new Map<string, Map<string, Finding[]>>();
  for (const finding of findings) {
    for (const { contact } of finding.path) {
      const dot = contact.lastIndexOf('.');
      const [path, label] = [contact.slice(0, dot), contact.slice(dot + 1)];
      const there = byPath.get(path) ?? new Map<string, Finding[]>();
      byPath.set(path, there);
      const before = there.get(label);
      if (before === undefined) there.set(label, [finding]);
      else if (before.at(-1) !== finding) before.push(finding);
    }
  }
  return ({ path, pins }, contact) => byPath.get(path)?.get(pins.connector.labels[contact]!) ?? NONE;
}
