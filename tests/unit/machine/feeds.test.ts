import { expect, test } from 'vitest';
import { replacement } from '../../support/fixture.ts';
import { findingsOf } from '../../support/machine.ts';
import { PLANE, rack } from '../checks/rail-machine.ts';

const findings = (at: string): ReturnType<typeof findingsOf> =>
  findingsOf(rack({ plane: PLANE.replace('+5V from PSU at 2', `+5V from PSU ${at}`) }));

test('a slot before the contact of a feed is told, and taken out', () => {
  const [finding] = findings('at 1.2').filter(({ rule }) => rule === 'contact-unknown');
  expect(finding?.message).toBe(
    'a feed enters at a contact of the bus, in all its slots: found `1.2`, expected a contact of B such as `2`',
  );
  expect(replacement(finding!).text).toBe('2');
});

test('a slot instead of the contact is told, with the contact that the bus has for the rail', () => {
  const messages = findings('at slot 1').map(({ message }) => message);
  expect(messages).toContain(
    'a feed enters at a contact of the bus, in all its slots: found `slot`, expected a contact of B such as `2`',
  );
});

test('what stands behind `at` is called a contact, and the word for it is taken out', () => {
  const messages = findings('at by meter').map(({ message }) => message);
  expect(messages.find((one) => one.startsWith('found `by`'))).toContain('expected contact of the bus');
  const [finding] = findings('at contact 2').filter(({ severity }) => severity === 'error');
  expect(finding?.message).toBe('found a word for the contact, expected nothing');
  expect(replacement(finding!).text).toBe('');
});
