import { describe, expect, it } from 'vitest';
import { expectMarked, expectSilent } from '../../support/fixture.ts';
import { findingsOf } from '../../support/machine.ts';

const RULE = 'line-undriven';

/** A cage of three slots with a processor that drives CLK and a gauge. */
const cage = ({
  cpu = '  drives CLK with 74LS244\n  untouched rest',
  gauge = '  receives CLK with 74LS\n  untouched rest',
  backplane = '',
  third = '  3 = empty',
  more = '',
}): string => `pinout 1
connector E12 {
  shape edge 1 x 12
}
connector H10 {
  shape header 2 x 5
  numbers zigzag
}
bus B on E12 {
  1 = GND by meter
  2 = CLK by trace
  3 = SYNC by trace
  4..7 = D0..D3 by trace
  8 = spare
  9 = READY by trace
  10 = ACK private
}
backplane CAGE {
  slots 1..3 on B
${backplane}
}
card CPU {
  edge on B
${cpu}
}
card GAUGE {
  edge on B
${gauge}
}
fitted CAGE {
  1 = CPU
  2 = GAUGE
${third}
}
${more}
`;

describe('line-undriven fires', () => {
  it('on a line that is heard, with every list closed', () => {
    expectMarked(
      RULE,
      cage({ gauge: '  receives CLK, SYNC with 74LS #! warning line-undriven\n  untouched rest' }),
    );
  });

  it('once for a vector, however its names are written', () => {
    expectMarked(
      RULE,
      cage({ gauge: '  receives D0..D3 with 74LS #! warning line-undriven\n  untouched rest' }),
    );
    expectMarked(
      RULE,
      cage({ gauge: '  receives D0, D1, D2, D3 with 74LS #! warning line-undriven\n  untouched rest' }),
    );
    const [finding] = findingsOf(cage({ gauge: '  receives D0..D3 with 74LS\n  untouched rest' })).filter(
      ({ rule }) => rule === RULE,
    );
    expect(finding?.message).toContain('D0..D3 are heard by GAUGE (CAGE.2.4)');
    expect(finding?.about).toContain('D2');
  });

  it('once for two boards of one card', () => {
    expectMarked(
      RULE,
      cage({
        gauge: '  receives SYNC with 74LS #! warning line-undriven\n  untouched rest',
        third: '',
      }).replace('2 = GAUGE', '2 = GAUGE as G-A\n  3 = GAUGE as G-B'),
    );
  });

  it('on each of two lines that have nothing to do with each other', () => {
    expectMarked(
      RULE,
      cage({
        gauge: '  receives SYNC, READY with 74LS #! line-undriven, line-undriven\n  untouched rest',
      }),
    );
  });

  it('along a ribbon between two boards', () => {
    expectMarked(
      RULE,
      cage({
        gauge: '  receives CLK with 74LS\n  untouched rest\n  port J1 on H10 {\n    1 = Q0 by trace\n  }',
        more: `card DISPLAY {
  receives Q0 with 74LS at J1 #! warning line-undriven
  untouched rest
  port J1 on H10 {
    1 = Q0 by trace
  }
}
loose DISPLAY
ribbon W1 10 way {
  end GAUGE.J1 stripe 1
  end DISPLAY.J1 stripe 1
}`,
      }),
    );
  });

  it('where the stretch behind a cut has no driver of its own', () => {
    expectMarked(
      RULE,
      cage({
        backplane: '  cut CLK between 1, 2',
        gauge: '  receives CLK with 74LS #! warning line-undriven\n  untouched rest',
      }),
    );
  });
});

describe('line-undriven asks', () => {
  it('one question for all lines that one open list leaves open', () => {
    expectMarked(RULE, cage({ gauge: '  receives SYNC, READY, D0..D3 with 74LS #! question line-undriven' }));
  });

  it('where a slot on the line is not described', () => {
    expectMarked(
      RULE,
      cage({
        gauge: '  receives CLK, SYNC with 74LS #! question line-undriven\n  untouched rest',
        third: '',
      }),
    );
  });

  it('where a ribbon leads nobody knows where', () => {
    expectMarked(
      RULE,
      cage({
        gauge: `  receives Q0 with 74LS at J1 #! question line-undriven
  untouched rest
  port J1 on H10 {
    1 = Q0 by trace
  }`,
        more: 'ribbon W1 10 way {\n  end GAUGE.J1 stripe 1\n  end unknown "to the recorder"\n}',
      }),
    );
  });

  it('where a rework wire leads to a pin of which nothing is said', () => {
    expectMarked(
      RULE,
      cage({
        cpu: '  drives CLK with 74LS244\n  wire U9.3 to edge.3 by trace\n  untouched rest',
        gauge: '  receives CLK, SYNC with 74LS #! question line-undriven\n  untouched rest',
      }),
    );
  });

  it('where the far end of the ribbon has an unknown contact there, though its list is closed', () => {
    expectMarked(
      RULE,
      cage({
        gauge: `  receives Q0 with 74LS at J1 #! question line-undriven
  untouched rest
  port J1 on H10 {
    1 = Q0 by trace
  }`,
        more: `card DISPLAY {
  untouched rest
  port J1 on H10 {
    1 = unknown
  }
}
loose DISPLAY
ribbon W1 10 way {
  end GAUGE.J1 stripe 1
  end DISPLAY.J1 stripe 1
}`,
      }),
    );
  });

  it('but not where the open board leaves just this line untouched', () => {
    expectMarked(
      RULE,
      cage({
        cpu: '  drives CLK with 74LS244\n  untouched SYNC',
        gauge: '  receives CLK, SYNC with 74LS #! warning line-undriven\n  untouched rest',
      }),
    );
  });
});

describe('line-undriven is silent', () => {
  it('where a pull-up, a pull-down or a terminator holds the line', () => {
    const gauge = '  receives CLK, SYNC with 74LS\n  untouched rest';
    expectSilent(RULE, cage({ gauge, backplane: '  pull-up SYNC 1 kohm to +5V' }));
    expectSilent(RULE, cage({ gauge, backplane: '  pull-down SYNC 1 kohm to GND' }));
    expectSilent(RULE, cage({ gauge, backplane: '  terminate SYNC 220 ohm to +5V, 330 ohm to GND after 3' }));
    expectSilent(RULE, cage({ gauge: `${gauge}\n  pull-up SYNC 1 kohm to +5V` }));
  });

  it('where a wire ties the line to ground', () => {
    expectSilent(
      RULE,
      cage({ gauge: '  receives CLK, SYNC with 74LS\n  untouched rest', backplane: '  wire 3.3 to 3.1' }),
    );
  });

  it('on lines that nobody uses', () => expectSilent(RULE, cage({})));

  it('on a pulled line and on one that boards talk and listen on', () => {
    expectSilent(
      RULE,
      cage({
        cpu: '  drives CLK with 74LS244\n  pulls READY with 7406\n  transceives D0..D3 with 74LS245\n  untouched rest',
        gauge: '  receives CLK, READY, D0..D3 with 74LS\n  untouched rest',
      }),
    );
  });

  it('on a loose board, and on a port with nothing plugged in', () => {
    const card = `card DISPLAY {
  receives Q0 with 74LS at J1
  untouched rest
  port J1 on H10 {
    1 = Q0 by trace
  }
}`;
    expectSilent(RULE, cage({ more: `${card}\nloose DISPLAY` }));
    expectSilent(
      RULE,
      cage({
        gauge:
          '  receives Q0 with 74LS at J1\n  port J1 on H10 {\n    1 = Q0 by trace\n  }\n  untouched rest',
      }),
    );
  });

  it('where the ribbon that leads on was found unplugged, at either end', () => {
    const text = (near: string, far: string): string =>
      cage({
        gauge: `  receives Q0 with 74LS at J1
  untouched rest
  port J1 on H10 {
    1 = Q0 by trace
  }`,
        more: `card DISPLAY {
  untouched rest
  port J1 on H10 {
    1 = Q0 by trace
  }
}
loose DISPLAY
ribbon W1 10 way {
  end GAUGE.J1 stripe 1 ${near}
  end DISPLAY.J1 stripe 1 ${far}
}`,
      });
    expectSilent(RULE, text('found unplugged', ''));
    expectSilent(RULE, text('', 'found unplugged'));
  });

  it('on contacts that are not bussed: they go nowhere', () => {
    expectSilent(RULE, cage({ gauge: '  receives CLK, ACK with 74LS\n  untouched rest' }));
  });

  it('on a line to a supply, which may well drive it', () => {
    expectSilent(
      RULE,
      cage({
        gauge:
          '  receives OK with 74LS at J1\n  untouched rest\n  port J1 on H10 {\n    1 = OK by trace\n  }',
        more: `supply PSU {
  port P1 on H10 {
    1 = OK by trace
  }
}
cable C1 {
  PSU.P1.1 = GAUGE.J1.1
}`,
      }),
    );
  });

  it('on a driver at the far end of a ribbon from a backplane header', () => {
    expectSilent(
      RULE,
      cage({
        backplane: '  port PANEL on H10 {\n    1 = SYNC by trace\n  }',
        gauge: '  receives CLK, SYNC with 74LS\n  untouched rest',
        more: `card BUTTONS {
  drives SYNC with 74LS244 at J1
  untouched rest
  port J1 on H10 {
    1 = SYNC by trace
  }
}
loose BUTTONS
ribbon W1 10 way {
  end CAGE.PANEL stripe 1
  end BUTTONS.J1 stripe 1
}`,
      }),
    );
  });

  it('where it is allowed', () => {
    expectSilent(
      [RULE, 'allow-unused'],
      cage({
        gauge: '  receives CLK, SYNC with 74LS\n  untouched rest',
        more: 'allow line-undriven at SYNC "the level is set inside"',
      }),
    );
  });
});
