import { describe, expect, it } from 'vitest';
import { expectMarked, expectSilent } from '../../support/fixture.ts';
import { findingsOf } from '../../support/machine.ts';

const RULE = 'chain-started-twice';

const cage = (fitted: string, cards = '', more = ''): string => `pinout 1
connector E12 {
  shape edge 1 x 12
}
bus B on E12 {
  1 = GND by meter
  2 = CLK clock by trace
  3 = D0 by trace
  4 > 5 = GRANT by trace
  6 > 7 = IN > OUT by trace
}
backplane CAGE {
  slots 1..4 on B
}
card CPU {
  edge on B
  starts GRANT, IN
  drives CLK with 74LS244
  untouched rest
}
card DISK {
  edge on B
  passes GRANT, IN
  receives CLK with 74LS
  untouched rest
}
${cards}
fitted CAGE {
${fitted}
}
${more}
`;

describe('chain-started-twice fires', () => {
  it('once for two boards that start the same chains, and once for their clocks', () => {
    const text = cage(
      '  1 = CPU as C-A\n  2 = CPU as C-B #! error chain-started-twice, error chain-started-twice\n  3 = DISK\n  4 = empty',
    );
    expectMarked(RULE, text);
    const messages = findingsOf(text)
      .filter(({ rule }) => rule === RULE)
      .map(({ message }) => message);
    expect(messages).toEqual([
      'GRANT and IN are started by C-A in CAGE.1 and C-B in CAGE.2: two arbiters grant at the same time',
      'the clock CLK is driven by C-A at CAGE.1.2 and C-B at CAGE.2.2: two clocks on one line',
    ]);
  });

  it('where a board drives the out contact by its own name', () => {
    expectMarked(
      RULE,
      cage(
        '  1 = CPU\n  2 = OTHER #! error chain-started-twice\n  3 = DISK\n  4 = empty',
        'card OTHER {\n  edge on B\n  drives OUT with 74LS\n  passes GRANT\n  untouched rest\n}',
      ),
    );
  });

  it('at the second statement, where two cards give the clock', () => {
    expectMarked(
      RULE,
      cage(
        '  1 = CPU\n  2 = DISK\n  3 = OSC\n  4 = empty',
        'card OSC {\n  edge on B\n  drives CLK with 74LS04 #! error chain-started-twice\n  untouched rest\n}',
      ),
    );
  });
});

describe('chain-started-twice is silent', () => {
  it('with one start and one clock', () => {
    expectSilent(RULE, cage('  1 = CPU\n  2 = DISK as D-A\n  3 = DISK as D-B\n  4 = empty'));
  });

  it('where open collectors share a clock line, or a board only listens', () => {
    expectSilent(
      RULE,
      cage(
        '  1 = CLOCKS as K-A\n  2 = CLOCKS as K-B\n  3..4 = empty',
        'card CLOCKS {\n  edge on B\n  drives CLK with 7406\n  untouched rest\n}',
      ),
    );
    expectSilent(
      RULE,
      cage(
        '  1 = CLOCKS as K-A\n  2 = CLOCKS as K-B\n  3..4 = empty',
        'card CLOCKS {\n  edge on B\n  drives CLK open-collector\n  untouched rest\n}',
      ),
    );
  });

  it('with two clocks on two backplanes, or a second one on the shelf', () => {
    expectSilent(
      RULE,
      cage(
        '  1 = CPU as C-A\n  2..4 = empty',
        '',
        'backplane OTHER {\n  slots 1..2 on B\n}\nfitted OTHER {\n  1 = CPU as C-B\n  2 = empty\n}\nloose CPU as C-C',
      ),
    );
  });

  it('with two drivers on a line that is no clock', () => {
    expectSilent(
      RULE,
      cage(
        '  1 = A as A-A\n  2 = A as A-B\n  3..4 = empty',
        'card A {\n  edge on B\n  drives D0 with 74LS244\n  untouched rest\n}',
      ),
    );
  });
});
