import { describe, expect, test } from 'vitest';
import { expectMarked, expectSilent } from '../../support/fixture.ts';
import { findingsOf } from '../../support/machine.ts';

const RULE = 'allow-unused';

const machine = (allow: string): string => `
pinout 1
connector E6 {
  shape edge 1 x 6
}
bus B on E6 {
  1 = GND
}
backplane CAGE {
  slots 1..2 on B
}
card RAM {
  edge on B
}
fitted CAGE {
  1 = RAM date 3/7/84
}
${allow}`;

describe(RULE, () => {
  test('silent where it silences something', () => {
    expectSilent([RULE, 'date-odd'], machine('allow date-odd at RAM "stamped by hand"'));
  });

  test('at another place, of another rule, or of none', () => {
    expectMarked(
      [RULE, 'date-odd'],
      machine(`allow date-odd at CPU "no such board" #! warning allow-unused
allow port-unexplained at RAM "has none" #! allow-unused
allow name-unknown at RAM "all known" #! allow-unused
allow no-such-rule at RAM "mistyped" #! allow-unused`).replace('date 3/7/84', 'date 3/7/84 #! date-odd'),
    );
  });

  test.each(['', ' ""', ' " \t"'])(
    'a line without a reason silences nothing and is no unused one: `%s`',
    (reason) => {
      expectMarked(
        [RULE, 'date-odd', 'attribute-missing'],
        machine(`allow date-odd at RAM${reason} #! error attribute-missing`).replace(
          'date 3/7/84',
          'date 3/7/84 #! date-odd',
        ),
      );
    },
  );

  test('says whether the rule exists', () => {
    const message = (rule: string): string | undefined =>
      findingsOf(machine(`allow ${rule} at CPU "why"`)).find((finding) => finding.rule === RULE)?.message;
    expect(message('date-odd')).toContain('there is no date-odd at CPU');
    expect(message('name-unknown')).toContain('there is no name-unknown at CPU');
    expect(message('date-od')).toBe('there is no rule `date-od`; did you mean `date-odd`?');
    expect(message('neighbor-hazard')).toContain('did you mean `neighbour-hazard`?');
    expect(message('nonsense')).toContain('there is no rule `nonsense`');
  });
});
