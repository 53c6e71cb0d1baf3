// Puts every kind of fault into every place of every clean example, and asks the checker for each. The clean machines
// themselves must stay silent.
import { describe, expect, it } from 'vitest';
import { rules } from '../../src/checks/rules.ts';
import type { Finding } from '../../src/checks/types.ts';
import { cleanExamples, type Example, findingsWith, type Seed } from './example.ts';
import { faults } from './faults.ts';
import type { FaultKind } from './places.ts';

const examples = cleanExamples();

const key = ({ rule, message }: Finding): string => `${rule}\n${message}`;

/** Whether the finding speaks of all that the fault is about. */
function speaksOf({ message, about, path }: Finding, names: readonly string[]): boolean {
  const text = [message, ...about, ...path.flatMap(({ contact, signal }) => [contact, signal])].join('\n');
  return names.every((name) => text.includes(name));
}

/**
 * What is wrong with what the checker says of a machine with a fault; undefined where it is found. `whole`: all rules are
 * run, not only the one that must find it.
 */
function missed(
  example: Example,
  { rule, severity, says }: FaultKind,
  { edits, names = [] }: Seed,
  whole: boolean,
): string | undefined {
  const before = new Set(example.findings.map(key));
  const fresh = (only?: string): Finding[] =>
    findingsWith(example, edits, only).filter((finding) => !before.has(key(finding)));
  const ofRule = (whole ? fresh() : fresh(rule)).filter((finding) => finding.rule === rule);
  const fits = ofRule.filter(
    (finding) =>
      (severity === undefined || finding.severity === severity) &&
      (says === undefined || says.test(finding.message)) &&
      speaksOf(finding, names),
  );
  if (fits.length > 0) return undefined;
  const spoken = (list: readonly Finding[]): string =>
    list.map((one) => `\n      ${one.severity} ${one.rule}: ${one.message}`).join('');
  return ofRule.length > 0 ? `not as it should be:${spoken(ofRule)}` : `only:${spoken(fresh().slice(0, 6))}`;
}

describe('clean machines', () => {
  it('draw no error, warning or question', () => {
    const loud = examples.flatMap(({ name, findings }) =>
      findings
        .filter(({ severity }) => severity !== 'note')
        .map(({ severity, rule, message }) => `${name}: ${severity} ${rule}: ${message}`),
    );
    console.log(`false alarms: ${loud.length}`);
    expect(loud).toEqual([]);
  });
});

describe('seeded faults', () => {
  it('there is a kind for every rule', () => {
    const sought = new Set(faults.map(({ rule }) => rule));
    expect(rules.map(({ id }) => id).filter((id) => !sought.has(id))).toEqual([]);
  });

  const counts = faults.map((fault) => ({ ...fault, seeded: 0, found: 0 }));

  it.each(counts)(
    '$kind → $rule',
    (fault) => {
      const misses: string[] = [];
      for (const example of examples) {
        // The first place of each machine goes the whole way through the checker, the others ask the rule alone.
        let whole = true;
        for (const seed of fault.seeds(example)) {
          fault.seeded++;
          const why = missed(example, fault, seed, whole);
          whole = false;
          if (why === undefined) fault.found++;
          else misses.push(`${example.name}, ${seed.place}: ${why}`);
        }
      }
      expect(fault.seeded, 'places where this fault can be put').toBeGreaterThan(0);
      expect(misses.slice(0, 20).join('\n'), `${misses.length} of ${fault.seeded} not found`).toBe('');
    },
    120_000,
  );

  it('are all found', () => {
    const rows = counts.map(({ kind, rule, seeded, found }) =>
      [kind.padEnd(56), rule.padEnd(22), `${found}/${seeded}`.padStart(9)].join('  '),
    );
    const sum = (of: 'seeded' | 'found'): number => counts.reduce((total, one) => total + one[of], 0);
    console.log([...rows, `found/seeded: ${sum('found')}/${sum('seeded')}`].join('\n'));
    expect(sum('found')).toBe(sum('seeded'));
  });
});
