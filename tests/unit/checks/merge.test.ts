import { expect, test } from 'vitest';
import { merged } from '../../../src/checks/merge.ts';
import { findingsOf } from '../../support/machine.ts';

const shared = { 'bus.pinout': 'suply AUX {\n}\n' };

test('a finding in a file that two machines use is told once, each machine keeps its own', () => {
  const one = findingsOf({ 'a.pinout': 'use "bus.pinout"\nallow date-odd at RAM "looked at"\n', ...shared });
  const two = findingsOf({ 'b.pinout': 'use "bus.pinout"\nallow date-odd at RAM "looked at"\n', ...shared });
  const places = merged([one, two]).map(({ rule, source }) => `${source.file} ${rule}`);
  expect(places).toEqual([
    '/machine/a.pinout allow-unused',
    '/machine/bus.pinout word-unknown',
    '/machine/b.pinout allow-unused',
  ]);
});
