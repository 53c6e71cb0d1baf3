import { describe, expect, it } from 'vitest';
import { expectMarked, expectSilent } from '../../support/fixture.ts';
import { findingsOf } from '../../support/machine.ts';

const RULE = 'name-clash';

const cage = ({
  edge = '',
  other = '',
  uses = '',
  bus = '',
  backplane = '',
  fitted = '  1 = IO\n  2 = OTHER',
  more = '',
}): string => `pinout 1
connector E20 {
  shape edge 1 x 20
}
bus B on E20 {
  1 = GND by meter
  2 = +5V by meter
  3..6 = D0..D3 by trace
  7 = /RD by trace
  8 = SYNC by guess
  9..10 = spare
  11 = unknown
  12 = KEY private
  14 > 15 = GRANT by trace
${bus}
}
backplane CAGE {
  slots 1..3 on B
${backplane}
}
card IO {
  edge on B {
${edge}
  }
${uses}
  untouched rest
}
card OTHER {
  edge on B {
${other}
  }
  untouched rest
}
fitted CAGE {
${fitted}
  3 = empty
}
${more}
`;

const messageOf = (text: string): string | undefined =>
  findingsOf(text).find(({ rule }) => rule === RULE)?.message;

describe('name-clash fires', () => {
  it('on one line under two names', () => {
    const text = cage({ edge: '    8 = FLOAT by trace #! warning name-clash' });
    expectMarked(RULE, text);
    expect(messageOf(text)).toBe('IO calls IO.edge.8 FLOAT (trace), B calls it SYNC (guess)');
  });

  it('on polarity, with a warning, and on style, with a note', () => {
    expectMarked(RULE, cage({ edge: '    7 = RD by trace #! warning name-clash' }));
    expectMarked(RULE, cage({ edge: '    7 = RD* by trace #! note name-clash' }));
    expectMarked(RULE, cage({ edge: '    7 = /rd by trace #! note name-clash' }));
    expectMarked(RULE, cage({ edge: '    7 = nRD by trace #! note name-clash', more: 'active-low nRD' }));
  });

  it('once for two boards of one card, and once for a vector', () => {
    expectMarked(
      RULE,
      cage({
        edge: '    3..6 = DB0..DB3 by trace #! name-clash',
        fitted: '  1 = IO as IO-A\n  2 = IO as IO-B',
      }),
    );
  });

  it('on a name that the bus has at another contact', () => {
    const text = cage({ edge: '    8 = D0 by trace #! warning name-clash' });
    expectMarked(RULE, text);
    expect(messageOf(text)).toBe(
      'IO calls IO.edge.8 D0 (trace), B calls it SYNC (guess) and has D0 at CAGE.1.3',
    );
    expectMarked(RULE, cage({ edge: '    9 = D0 by trace #! warning name-clash' }));
    expectMarked(
      RULE,
      cage({ edge: '    3 = unknown\n    11 = D0 by trace #! warning name-clash', uses: '  receives D0' }),
    );
  });

  it('on a spare line that two cards use for different things', () => {
    const text = cage({ edge: '    9 = X by trace', other: '    9 = Y by trace #! warning name-clash' });
    expectMarked(RULE, text);
    expect(messageOf(text)).toBe('OTHER calls OTHER.edge.9 Y (trace), IO calls it X (trace)');
  });

  it('once for a card in the slot of another bus', () => {
    const text = `pinout 1
connector E4 {
  shape edge 1 x 4
}
bus B on E4 {
  1 = GND
  2..4 = D0..D2
}
bus AUX on E4 {
  1 = GND
  2..4 = X, Y, Z
}
backplane CAGE {
  slots 1 on B
  slots 2 on AUX
}
card IO {
  edge on B
  receives D0..D2 with 74LS
  untouched rest
}
fitted CAGE {
  1 = empty
  2 = IO
}
`;
    expect(findingsOf(text).filter(({ rule }) => rule === RULE)).toHaveLength(1);
  });
});

describe('name-clash is silent', () => {
  it('where the card says what the bus says', () => {
    expectSilent(RULE, cage({ edge: '    8 = SYNC by trace\n    14 = GRANT by trace' }));
  });

  it('on aliases, whichever side declares them, and on straps', () => {
    expectSilent(RULE, cage({ bus: '  20 = DATA also WORD', edge: '    20 = WORD by trace' }));
    expectSilent(RULE, cage({ edge: '    8 = FLOAT also SYNC by trace' }));
    expectSilent(RULE, cage({ edge: '    8 = FLOAT by trace', backplane: '  strap SYNC, FLOAT' }));
  });

  it('on contacts that are not bussed, or of which one side knows nothing', () => {
    expectSilent(
      RULE,
      cage({
        edge: '    11 = X by trace\n    12 = Y by trace\n    13 = Z by trace\n    8 = unknown',
        other: '    11 = P by trace\n    12 = Q by trace',
      }),
    );
  });

  it('on a spare line that both cards call the same, or one alone uses', () => {
    expectSilent(
      RULE,
      cage({ edge: '    9 = X by trace\n    10 = Y by trace', other: '    9 = X by trace' }),
    );
  });

  it('on a second finger for a line that is also at home', () => {
    expectSilent(RULE, cage({ edge: '    11 = D0 by trace', uses: '  receives D0 with 74LS' }));
  });

  it('on a wire or a cut that is said', () => {
    expectSilent(RULE, cage({ backplane: '  wire 1.8 to 1.9\n  cut SYNC between 1, 2' }));
  });

  it('on rails, which are for rail-conflict and rail-meets-signal', () => {
    expectSilent(RULE, cage({ edge: '    2 = X by trace\n    8 = +5V by trace' }));
  });

  it('on different names along a ribbon, and on loose boards', () => {
    expectSilent(
      RULE,
      cage({
        more: `card A {
  port J1 on E20 {
    1 = X
  }
}
card Z {
  edge on B {
    8 = OTHERNAME
  }
  port J1 on E20 {
    1 = Y
  }
}
loose A
loose Z
ribbon W1 20 way {
  end A.J1 stripe 1
  end Z.J1 stripe 1
}`,
      }),
    );
  });

  it('where a contact means different lines in different slots', () => {
    expectSilent(
      RULE,
      cage({ bus: '  20 = SYNC2 in 1\n  20 = /ALARM in 2..3', uses: '  receives SYNC2 with 74LS' }),
    );
  });
});
