import { describe, expect, test } from 'vitest';
import { rules } from '../../../src/checks/rules.ts';
import { findingsOf } from '../../support/machine.ts';

const BLOCK = /```pinout\n([\s\S]*?)```/g;

describe('pages of explanation', () => {
  test.each(rules.map((rule) => [rule.id, rule] as const))(
    '%s: its example fires, mended it does not',
    (id, rule) => {
      const [fires, mended] = [...rule.page.matchAll(BLOCK)].map((found) => found[1] as string);
      expect(rule.page.startsWith(`# ${id}\n`), 'starts with its id').toBe(true);
      expect(rule.page, 'names its source').toContain('## Source');
      const found = findingsOf(fires as string);
      expect(found.map((finding) => finding.rule)).toContain(id);
      expect(found.filter((finding) => finding.rule === id).map((finding) => finding.severity)).toContain(
        rule.severity,
      );
      const after = findingsOf(mended as string);
      expect(after.filter((finding) => finding.rule === id).map((finding) => finding.message)).toEqual([]);
      expect(
        after
          .filter((finding) => ['error', 'warning'].includes(finding.severity))
          .map((f) => `${f.rule} ${f.message}`),
      ).toEqual([]);
    },
  );
});
