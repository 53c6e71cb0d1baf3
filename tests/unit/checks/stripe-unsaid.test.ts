import { describe, expect, test } from 'vitest';
import { expectMarked, expectSilent } from '../../support/fixture.ts';
import { findingsOf } from '../../support/machine.ts';
import { lead } from './mating-machine.ts';

const RULE = 'stripe-unsaid';

const machine = (cables: string): string => `
pinout 1
connector IDC10 {
  shape header 2 x 5
  numbers zigzag
}
card A {
  port J1 on IDC10 {
    1..10 = A1..A10
  }
}
card B {
  port J1 on IDC10 {
    1..10 = A1..A10
  }
}
loose A
loose B
${cables}`;

describe(RULE, () => {
  test('each end that does not say it is asked for', () => {
    expectMarked(
      RULE,
      machine(`ribbon W1 10 way {
  end A.J1 stripe 1
  end B.J1 bump #! question stripe-unsaid
}
ribbon W2 10 way {
  end A.J1 #! stripe-unsaid
  end B.J1 #! stripe-unsaid
}`),
    );
  });

  test('says the two contacts it may meet', () => {
    const [finding] = findingsOf(machine('ribbon W1 10 way {\n  end A.J1\n}')).filter(
      ({ rule }) => rule === RULE,
    );
    expect(finding?.message).toBe(
      'an end of ribbon W1 is in A.J1, but nobody says whether its stripe meets contact 1 or 10',
    );
    expect(finding?.fix).toContain('`stripe 1` or `stripe 10`');
  });

  test('says what is destroyed if it is the other way round', () => {
    const text = lead({ header: '  shroud notch', ends: ['stripe 1 bump', 'bump'] });
    const [finding] = findingsOf(text).filter(({ rule }) => rule === RULE);
    expect(finding?.message).toBe(
      'an end of ribbon W1 is in LAMPS.J1, but nobody says whether its stripe meets contact 1 or 10; if it is the other way round than taken here, Q0 of GAUGE (74LS244) drives against Q1 of GAUGE (74LS244)',
    );
  });

  test('an end that was found unplugged is asked for too', () => {
    expectMarked(RULE, machine('ribbon W1 10 way {\n  end A.J1 found unplugged #! stripe-unsaid\n}'));
  });

  test('silent where the stripe is said, either way round', () => {
    expectSilent(
      RULE,
      machine('ribbon W1 10 way {\n  end A.J1 stripe 10\n  end B.J1 stripe 1 found unplugged\n}'),
    );
  });

  test('silent for ends to unknown, cables of wires and rigid couplers', () => {
    expectSilent(
      RULE,
      machine(`ribbon W1 10 way {
  end A.J1 stripe 1
  end unknown "to the rear panel"
}
ribbon OVER 10 way rigid {
  end A.J1
  end B.J1
}
cable C1 {
  A.J1.1 = B.J1.1
}`),
    );
  });

  test('silent where the port itself is unknown: that is told already', () => {
    expectSilent(RULE, machine('ribbon W1 10 way {\n  end A.J9\n}'));
  });

  test('an allow line by ribbon or port silences it', () => {
    for (const place of ['W1', 'A.J1', 'A'])
      expectSilent(
        [RULE, 'allow-unused'],
        machine(`ribbon W1 10 way {\n  end A.J1\n}\nallow ${RULE} at ${place} "no stripe on it"`),
      );
  });
});
