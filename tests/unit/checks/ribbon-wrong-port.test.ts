import { describe, expect, test } from 'vitest';
import { expectMarked, expectSilent } from '../../support/fixture.ts';
import { findingsOf } from '../../support/machine.ts';
import { LINES, lead } from './mating-machine.ts';

const RULE = 'ribbon-wrong-port';
const BUMPS = ['stripe 1 bump', 'stripe 1 bump'] as const;
const WALL = '  shroud notch';

const port = (lines: string, more = ''): string => `  port P2 on H10 {\n${lines}\n${more}  }`;
const RELAYS = LINES.replace('2, 4, 6 = Q0..Q2', '2, 4, 6 = +24V');

const told = (text: string): string[] =>
  findingsOf(text)
    .filter(({ rule }) => rule === RULE)
    .map(({ message }) => message);

const walled = (ports: string, near = LINES, far = LINES): string =>
  lead({ header: WALL, ends: BUMPS, ports, near, far });

describe(RULE, () => {
  test('a port of the same kind with another rail', () => {
    const ends = [`stripe 1 bump #! warning ${RULE}`, 'stripe 1 bump'] as const;
    expectMarked(RULE, lead({ header: WALL, ends, ports: port(RELAYS) }));
    expect(told(walled(port(RELAYS)))).toEqual([
      'W1 at GAUGE.J1 plugged into PSU.P2: +24V of PSU, up to 1 A, meets Q2 of LAMPS (74LS), which stands 7 V (W1 conductor 2 on PSU.P2.2); nothing that the file says prevents it; 1 other way does harm too',
    ]);
  });

  test('silent where the ports carry the same on the same contacts', () => {
    expectSilent(RULE, walled(port(LINES.replace('2, 4, 6 = Q0..Q2', '2, 4, 6 = spare'))));
  });

  test('silent where keys differ; one unsaid half is a question', () => {
    const keyed = (pin: number): string => `\n    pulled ${pin}\n    plugged ${pin}`;
    const spare = LINES + keyed(8);
    expectSilent(RULE, walled(port(RELAYS, '    pulled 10\n    plugged 10\n'), spare, spare));
    const half = `${LINES}\n    plugged 8`;
    const ends = [`stripe 1 bump #! question ${RULE}`, 'stripe 1 bump'] as const;
    expectMarked(RULE, lead({ header: WALL, ends, ports: port(RELAYS), near: half, far: half }));
  });

  test('a longer header takes it in several places', () => {
    const ports = `  port P2 on H14 {\n    1..13 step 2 = GND by trace\n    2..14 step 2 = +24V by meter\n  }`;
    const header = `${WALL}\n}\nconnector H14 {\n  shape header 2 x 7\n  numbers zigzag\n  shroud`;
    const text = lead({ header, ends: BUMPS, ports });
    expect(told(text)).toEqual([
      expect.stringMatching(/^W1 at GAUGE\.J1 plugged into PSU\.P2, contact 1 on /),
    ]);
  });

  test('silent where the bodies do not go into each other', () => {
    const ports = `  port P2 on H8 {\n    1..8 = +24V by meter\n  }`;
    const header = `${WALL}\n}\nconnector H8 {\n  shape header 2 x 4\n  numbers zigzag\n  shroud`;
    expectSilent(RULE, lead({ header, ends: BUMPS, ports }));
  });

  test('a port with contacts that nobody knows', () => {
    expect(told(walled(port('    1..10 = unknown')))).toEqual([
      expect.stringMatching(/^W1 at GAUGE\.J1 plugged into PSU\.P2 meets \d+ unknown contacts: /),
    ]);
  });

  test('an allow line by ribbon or port silences it', () => {
    for (const place of ['W1', 'PSU.P2'])
      expectSilent([RULE, 'allow-unused'], `${walled(port(RELAYS))}allow ${RULE} at ${place} "glued over"\n`);
  });
});
