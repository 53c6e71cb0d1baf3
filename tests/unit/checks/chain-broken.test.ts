import { describe, expect, it } from 'vitest';
import { expectMarked, expectSilent } from '../../support/fixture.ts';
import { findingsOf } from '../../support/machine.ts';

const RULE = 'chain-broken';

const cage = ({
  fitted,
  backplane = '',
  bus = '  4 > 5 = GRANT by trace',
  cards = '',
}: {
  fitted: string;
  backplane?: string;
  bus?: string;
  cards?: string;
}): string => `pinout 1
connector E12 {
  shape edge 1 x 12
}
bus B on E12 {
  1 = GND by meter
  2 = IACK by trace
${bus}
}
backplane CAGE {
${backplane.includes('slots') ? '' : '  slots 1..6 on B'}
${backplane}
}
card CPU {
  edge on B
  starts GRANT
  untouched rest
}
card DISK {
  edge on B
  passes GRANT
  untouched rest
}
card LAST {
  edge on B
  receives GRANT with 74LS
  untouched rest
}
card MEM {
  edge on B
  untouched rest
}
card OPEN {
  edge on B
}
card JUMPERED {
  edge on B
  wire edge.4 to edge.5 by trace "jumper"
  untouched rest
}
${cards}
fitted CAGE {
${fitted}
}
`;

describe('chain-broken fires', () => {
  it('at an empty slot without a bridge', () => {
    const text = cage({ fitted: '  1 = CPU\n  2 = empty #! error chain-broken\n  3 = DISK\n  4..6 = empty' });
    expectMarked(RULE, text);
    const [finding] = findingsOf(text).filter(({ rule }) => rule === RULE);
    expect(finding?.message).toBe(
      'GRANT never reaches DISK in slot 3: CAGE.2 is empty without a bridge from 4 to 5',
    );
    expect(finding?.path.map(({ contact }) => contact)).toEqual(['CAGE.2.4', 'CAGE.2.5', 'CAGE.3.4']);
    expect(finding?.about).toEqual(expect.arrayContaining(['GRANT', 'CAGE.2', 'DISK']));
  });

  it('once for neighbouring empty slots', () => {
    expectMarked(
      RULE,
      cage({ fitted: '  1 = CPU\n  2..3 = empty #! error chain-broken\n  4 = DISK\n  5..6 = empty' }),
    );
  });

  it('at each of two breaks', () => {
    expectMarked(
      RULE,
      cage({
        fitted: `  1 = CPU
  2 = empty #! chain-broken
  3 = DISK as D-A
  4 = empty #! chain-broken
  5 = DISK as D-B
  6 = empty`,
      }),
    );
  });

  it('at a board that does not pass it', () => {
    expectMarked(
      RULE,
      cage({ fitted: '  1 = CPU\n  2 = MEM #! error chain-broken\n  3 = DISK\n  4..6 = empty' }),
    );
  });

  it('once where several boards in a row do not pass it, naming all that is cut off', () => {
    const text = cage({
      fitted:
        '  1 = CPU\n  2 = MEM as M2 #! error chain-broken\n  3 = empty\n  4 = MEM as M4\n  5 = DISK as D5\n  6 = DISK as D6',
    });
    expectMarked(RULE, text);
    const finding = findingsOf(text).find(({ rule }) => rule === RULE);
    expect(finding?.message).toBe(
      'GRANT never reaches D5 in slot 5 and D6 in slot 6: M2 in CAGE.2 does not pass it; look at CAGE.3 and CAGE.4 too',
    );
    expect(finding?.fix).toMatch(/^if M2 does hand it on, say `passes GRANT` on its card; if not, move it/);
  });

  it('at the break that is sure, where an open board comes before it', () => {
    expectMarked(
      RULE,
      cage({ fitted: '  1 = CPU\n  2 = OPEN\n  3 = MEM #! error chain-broken\n  4 = DISK\n  5..6 = empty' }),
    );
  });

  it('at a board that takes it and keeps it', () => {
    expectMarked(
      RULE,
      cage({ fitted: '  1 = CPU\n  2 = LAST #! error chain-broken\n  3 = DISK\n  4..6 = empty' }),
    );
  });

  it('once where several chains end at one slot', () => {
    expectMarked(
      RULE,
      cage({
        bus: '  4 > 5 = G0 by trace\n  6 > 7 = G1 by trace\n  8 > 9 = G2IN > G2OUT by trace',
        cards: `card A {
  edge on B
  starts G0, G1, G2IN
  untouched rest
}
card Z {
  edge on B
  passes G0, G1
  receives G2IN with 74LS
  drives G2OUT with 74LS
  untouched rest
}`,
        fitted: '  1 = A\n  2 = empty #! error chain-broken\n  3 = Z\n  4..6 = empty',
      }),
    );
  });

  it('where nobody starts it, once', () => {
    expectMarked(
      RULE,
      cage({
        fitted: '  1 = MEM\n  2 = DISK as D-A\n  3 = DISK as D-B\n  4..6 = empty',
      }).replace('  passes GRANT', '  passes GRANT #! error chain-broken'),
    );
  });

  it('where it starts behind a board that needs it', () => {
    const text = cage({ fitted: '  1 = DISK\n  2 = CPU\n  3..6 = empty' });
    expectMarked(RULE, text.replace('  passes GRANT', '  passes GRANT #! error chain-broken'));
    expect(findingsOf(text).find(({ rule }) => rule === RULE)?.message).toContain('it starts only at CAGE.2');
  });
});

describe('chain-broken asks', () => {
  it('about a slot that is not described', () => {
    expectMarked(
      RULE,
      cage({
        backplane: '  slots 1 on B\n  slots 2 on B #! question chain-broken\n  slots 3..6 on B',
        fitted: '  1 = CPU\n  3 = DISK\n  4..6 = empty',
      }),
    );
  });

  it('about a board with an open list', () => {
    expectMarked(
      RULE,
      cage({ fitted: '  1 = CPU\n  2 = OPEN #! question chain-broken\n  3 = DISK\n  4..6 = empty' }),
    );
  });

  it('who starts it, where an open board may', () => {
    expectMarked(
      RULE,
      cage({ fitted: '  1 = OPEN\n  2 = DISK\n  3..6 = empty' }).replace(
        '  passes GRANT',
        '  passes GRANT #! question chain-broken',
      ),
    );
  });
});

describe('chain-broken is silent', () => {
  it('after the last user', () => {
    expectSilent(RULE, cage({ fitted: '  1 = CPU\n  2 = DISK\n  3 = empty\n  4 = MEM\n  5 = OPEN' }));
    expectSilent(RULE, cage({ fitted: '  1 = CPU\n  2 = LAST\n  3..6 = empty' }));
  });

  it('before the start', () => {
    expectSilent(RULE, cage({ fitted: '  1 = MEM\n  2 = empty\n  3 = CPU\n  4 = DISK\n  5..6 = empty' }));
  });

  it('over a bridge, a wire and a self-bridging slot', () => {
    const rest = '  1 = CPU\n  3 = DISK\n  4..6 = empty';
    expectSilent(RULE, cage({ fitted: `${rest}\n  2 = empty bridge GRANT` }));
    expectSilent(RULE, cage({ fitted: `${rest}\n  2 = empty`, backplane: '  wire 2.4 to 2.5' }));
    expectSilent(
      RULE,
      cage({ fitted: `${rest}\n  2 = empty`, backplane: '  slots 1..6 on B self-bridging' }),
    );
    expectSilent(RULE, cage({ fitted: `${rest}\n  2 = JUMPERED` }));
    expectSilent(RULE, cage({ fitted: `${rest}\n  2 = MEM bridge GRANT` }));
  });

  it('where nobody needs it', () => {
    expectSilent(RULE, cage({ fitted: '  1 = CPU\n  2 = empty\n  3 = MEM\n  4..6 = empty' }));
    expectSilent(RULE, cage({ fitted: '  1 = MEM\n  2 = OPEN' }));
  });

  it('where a wire from a line, or a resistor, starts it in the first slot', () => {
    expectSilent(
      RULE,
      cage({
        fitted: '  1 = DISK as D-A\n  2 = DISK as D-B\n  3..6 = empty',
        backplane: '  wire 1.2 to 1.4',
      }),
    );
    expectSilent(
      RULE,
      cage({
        fitted: '  1 = FIRST\n  2 = DISK\n  3..6 = empty',
        cards:
          'card FIRST {\n  edge on B\n  passes GRANT\n  pull-up GRANT 1 kohm to +5V\n  untouched rest\n}',
      }),
    );
  });

  it('on a card that calls the fingers by its own names', () => {
    expectSilent(
      RULE,
      cage({
        cards: `card OWN {
  edge on B {
    4 = GIN by trace
    5 = GOUT by trace
  }
  receives GIN with 74LS
  drives GOUT with 74LS
  untouched rest
}`,
        fitted: '  1 = CPU\n  2 = OWN\n  3 = DISK\n  4..6 = empty',
      }),
    );
  });

  it('on a backplane with nothing in it', () => {
    expectSilent(RULE, cage({ fitted: '' }));
  });
});

describe('the published VME bus', () => {
  const crate = (six: string): string => `pinout 1
use published "vme-j1"
backplane CRATE {
  slots 1..4 on VME-J1
  wire 1.a20 to 1.a21
}
card CPU {
  edge on VME-J1
  starts BG0IN*, BG1IN*, BG2IN*, BG3IN*
  passes IACKIN*
  untouched rest
}
card DISK {
  edge on VME-J1
  passes BG0IN*, BG1IN*, BG2IN*, BG3IN*, IACKIN*
  untouched rest
}
fitted CRATE {
  1 = CPU
  2 = empty ${six}
  3 = DISK
  4 = empty
}
`;

  it('is one finding for five chains', () => expectMarked(RULE, crate('#! error chain-broken')));
  it('is silent when bridged', () => {
    expectSilent(RULE, crate('bridge BG0IN*, BG1IN*, BG2IN*, BG3IN*, IACKIN*'));
  });
  it('names the one chain whose bridge is forgotten', () => {
    const text = crate('bridge BG0IN*, BG1IN*, BG2IN*, BG3IN*');
    expect(findingsOf(text).find(({ rule }) => rule === RULE)?.message).toContain(
      'IACKIN* never reaches DISK',
    );
  });
});

describe('chain-broken at a cut', () => {
  const fitted = '  1 = CPU\n  2 = DISK as D-A\n  3 = DISK as D-B';

  it('of the trace between two slots, unless a wire goes round it', () => {
    const backplane = '  cut GRANT between 2, 3 by trace';
    const [finding, ...more] = findingsOf(cage({ fitted, backplane })).filter(({ rule }) => rule === RULE);
    expect(finding?.severity).toBe('error');
    expect(finding?.message).toContain('the trace to slot 3 is cut');
    expect(more).toEqual([]);
    expectSilent(['name-unknown', RULE], cage({ fitted, backplane: `${backplane}\n  wire 2.5 to 3.4` }));
    expectSilent(RULE, cage({ fitted, backplane: '  cut GRANT between 3, 4' }));
  });

  it('of a finger, unless a wire joins it again', () => {
    const cut = (contact: number): string => `{\n  cut edge.${contact}\n}`;
    const board = (block: string, mark = ''): string =>
      cage({ fitted: `  1 = CPU\n  2 = DISK as D-A ${block.replace('{', `{ ${mark}`)}\n  3 = DISK as D-B` });
    expectMarked(RULE, board(cut(4), '#! error chain-broken'));
    expectMarked(RULE, board(cut(5), '#! error chain-broken'));
    expectSilent(RULE, board('{\n  cut edge.4\n  wire edge.4 to U3.2\n}'));
    const starts = findingsOf(cage({ fitted: `  1 = CPU ${cut(5)}\n  2 = DISK` }));
    expect(starts.filter(({ rule }) => rule === RULE)).toHaveLength(1);
  });
});
