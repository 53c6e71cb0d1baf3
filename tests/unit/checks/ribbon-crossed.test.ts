import { describe, expect, it } from 'vitest';
import { expectMarked, expectSilent } from '../../support/fixture.ts';
import { findingsOf } from '../../support/machine.ts';
import { harness } from './rail-machine.ts';

const RULE = 'ribbon-crossed';

const PINS = `    1..7 step 2 = GND by trace
    2..8 step 2 = Q0..Q3 by trace
    9 = spare
    10 = +5V by meter`;

const machine = ({ near = PINS, far = PINS, third = '', uses = ['', ''], ribbon = '' }): string => `pinout 1
connector H10 {
  shape header 2 x 5
  numbers zigzag
}
card GAUGE {
${uses[0]}
  port J1 on H10 {
${near}
  }
}
card DISPLAY {
${uses[1]}
  port J1 on H10 {
${far}
  }
}
card CHART {
  port J1 on H10 {
${third === '' ? PINS : third}
  }
}
loose GAUGE
loose DISPLAY
loose CHART
${ribbon}
`;

const W1 = (near: string, far: string, more = ''): string => `ribbon W1 10 way {
  end GAUGE.J1 ${near}
  end DISPLAY.J1 ${far}
${more}
}`;

const found = (text: string) => findingsOf(text).filter(({ rule }) => rule === RULE);

describe('ribbon-crossed fires', () => {
  it('once on a connector that is turned, and says so', () => {
    const text = machine({ ribbon: W1('stripe 1', 'stripe 10 #! error ribbon-crossed') });
    expectMarked(RULE, text);
    const [finding] = found(text);
    expect(finding?.message).toContain('W1 joins GAUGE.J1.1 (GND, trace) to DISPLAY.J1.10 (+5V, meter)');
    expect(finding?.message).toContain(
      'as if the connector at DISPLAY.J1 were turned (conductor k meets 11 − k)',
    );
    expect(finding?.fix).toContain('write `stripe 1`');
    expect(finding?.about).toEqual(expect.arrayContaining(['W1', 'GAUGE.J1', 'DISPLAY.J1']));
  });

  it('at the first end, where that is the turned one', () => {
    expectMarked(RULE, machine({ ribbon: W1('stripe 10 #! error ribbon-crossed', 'stripe 1') }));
  });

  it('at the odd one of three ends', () => {
    const chart = '  end CHART.J1 stripe 1';
    expectMarked(RULE, machine({ ribbon: W1('stripe 1', 'stripe 10 #! ribbon-crossed', chart) }));
    expectMarked(RULE, machine({ ribbon: W1('stripe 10 #! ribbon-crossed', 'stripe 1', chart) }));
    expectMarked(
      RULE,
      machine({ ribbon: W1('stripe 1', 'stripe 1', '  end CHART.J1 stripe 10 #! ribbon-crossed') }),
    );
  });

  it('where all lies one conductor over', () => {
    const far = `    2..8 step 2 = GND by trace
    3..9 step 2 = Q0..Q3 by trace`;
    const text = machine({ far, ribbon: W1('stripe 1', 'stripe 1 #! error ribbon-crossed') });
    expectMarked(RULE, text);
    expect(found(text)[0]?.message).toContain('one conductor over');
  });

  it('where the rows are exchanged', () => {
    const far = `    2..8 step 2 = GND by trace
    1..7 step 2 = Q0..Q3 by trace`;
    const text = machine({ far, ribbon: W1('stripe 1', 'stripe 1 #! error ribbon-crossed') });
    expectMarked(RULE, text);
    expect(found(text)[0]?.message).toContain('the two rows at DISPLAY.J1 were exchanged');
  });

  it('on two lines that change places, and on a twist', () => {
    const far = PINS.replace('Q0..Q3', 'Q1, Q0, Q2, Q3');
    expectMarked(RULE, machine({ far, ribbon: W1('stripe 1', 'stripe 1 #! error ribbon-crossed') }));
    expectMarked(
      RULE,
      machine({
        ribbon:
          'ribbon W1 10 way {\n  end GAUGE.J1 stripe 1\n  twist 2..4\n  end DISPLAY.J1 stripe 1 #! error ribbon-crossed\n}',
      }),
    );
  });

  it('on a rail that meets a signal, another rail or ground', () => {
    for (const one of ['Q7', '+12V', 'GND']) {
      const far = PINS.replace('+5V', one);
      expectMarked(RULE, machine({ far, ribbon: W1('stripe 1', 'stripe 1 #! error ribbon-crossed') }));
    }
  });

  it('with a warning on ground that meets a signal of one end only, and at an end found unplugged', () => {
    const far = PINS.replace('1..7 step 2 = GND', '1, 3, 5 = GND').concat('\n    7 = READY by trace');
    expectMarked(RULE, machine({ far, ribbon: W1('stripe 1', 'stripe 1 #! warning ribbon-crossed') }));
    const text = machine({ ribbon: W1('stripe 1', 'stripe 10 found unplugged #! warning ribbon-crossed') });
    expectMarked(RULE, text);
    expect(found(text)[0]?.message).toContain('W1 would join');
  });

  it('with one note on names that merely differ', () => {
    const far = PINS.replace('Q0..Q3', 'K0..K3');
    const text = machine({ far, ribbon: W1('stripe 1', 'stripe 1 #! note ribbon-crossed') });
    expectMarked(RULE, text);
    expect(found(text)[0]?.message).toBe(
      '4 lines have one name at GAUGE.J1 and another at DISPLAY.J1 along W1: Q0 is K0, Q1 is K1, Q2 is K2 and 1 more',
    );
    const allow = /`(allow [^`]+)`/.exec(found(text)[0]?.fix ?? '')?.[1];
    expectSilent([RULE, 'allow-unused'], `${text}\n${allow}\n`.replace(' #! note ribbon-crossed', ''));
  });

  it('on the wires of a cable, at the line of the worst', () => {
    const text = machine({
      ribbon:
        'cable C1 {\n  GAUGE.J1.2 = DISPLAY.J1.2\n  GAUGE.J1.10 = DISPLAY.J1.1 #! error ribbon-crossed\n}',
    });
    expectMarked(RULE, text);
    expectMarked(
      RULE,
      machine({
        ribbon: 'cable C1 {\n  GAUGE.J1.2, GAUGE.J1.4 = DISPLAY.J1.4, DISPLAY.J1.2 #! ribbon-crossed\n}',
      }),
    );
  });

  it('on a backplane header as on any other end', () => {
    expectMarked(
      RULE,
      machine({
        ribbon: `connector E4 {
  shape edge 1 x 4
}
bus B on E4 {
  1..4 = Q0..Q3
}
backplane CAGE {
  slots 1 on B
  port P on H10 {
    2..8 step 2 = Q0..Q3
  }
}
ribbon W1 10 way {
  end CAGE.P stripe 1
  end DISPLAY.J1 stripe 10 #! error ribbon-crossed
}`,
      }),
    );
  });

  it('between two boards that only hear what a third one drives', () => {
    const uses = ['  drives Q0..Q3 with 74LS244', '  receives Q0..Q3 with 74LS'];
    const far = PINS.replace('2..8 step 2 = Q0..Q3', '2, 4, 6, 8 = Q1, Q0, Q2, Q3');
    const chart = '  end CHART.J1 stripe 1';
    const text = machine({ far, uses, ribbon: W1('stripe 1', 'stripe 1 #! error ribbon-crossed', chart) });
    expectMarked(RULE, text.replace('card CHART {', 'card CHART {\n  receives Q0..Q3 with 74LS'));
  });
});

describe('ribbon-crossed is silent', () => {
  it('straight through, and where two turned connectors cancel', () => {
    expectSilent(RULE, machine({ ribbon: W1('stripe 1', 'stripe 1') }));
    expectSilent(RULE, machine({ ribbon: W1('stripe 10', 'stripe 10') }));
  });

  it('on spare and unknown contacts, aliases, and rails of one voltage', () => {
    const far = PINS.replace('Q0..Q3', 'K0..K3 also Q0, Q1, Q2, Q3')
      .replace('+5V', '+5VB')
      .replace('1..7 step 2 = GND', '1, 3 = GND')
      .concat('\n    5 = unknown\n    7 = spare');
    expectSilent(RULE, machine({ far, ribbon: W1('stripe 1', 'stripe 1') }));
  });

  it('where one end is unknown', () => {
    expectSilent(RULE, machine({ ribbon: 'ribbon W1 10 way {\n  end GAUGE.J1 stripe 10\n  end unknown\n}' }));
  });

  it('on opposite names crossed on purpose, and where straight through two outputs would meet', () => {
    const near = '    1 = TXD\n    2 = RXD\n    3 = RTS\n    4 = CTS';
    const far = '    1 = RXD\n    2 = TXD\n    3 = CTS\n    4 = RTS';
    expect(
      found(machine({ near, far, ribbon: W1('stripe 1', 'stripe 1') })).map(({ severity }) => severity),
    ).toEqual(['note']);
    const uses = ['  drives UP\n  receives DOWN with 74LS', '  drives UP\n  receives DOWN with 74LS'];
    expect(
      found(
        machine({
          near: '    1 = UP\n    2 = DOWN',
          far: '    1 = DOWN\n    2 = UP',
          uses,
          ribbon: W1('stripe 1', 'stripe 1'),
        }),
      ).map(({ severity }) => severity),
    ).toEqual(['note']);
  });

  it('where it is allowed', () => {
    expectSilent(
      [RULE, 'allow-unused'],
      `${machine({ ribbon: W1('stripe 1', 'stripe 10') })}allow ribbon-crossed at W1 "an adapter turns it back"\n`,
    );
  });
});

describe('ribbon-crossed along a power harness', () => {
  const vcc = '  1..2 = VCC\n  3..4 = GND\n  5..8 = spare';

  it('is silent where a board calls its rail otherwise, and nobody says of how many volts', () => {
    expectSilent(RULE, harness({ far: vcc, takes: 'VCC 1 A at J9' }));
  });

  it('still finds ground on such a rail', () => {
    const wires =
      'PSU.P1.1..4 = DISPLAY.J9.3, DISPLAY.J9.4, DISPLAY.J9.1, DISPLAY.J9.2 #! error ribbon-crossed';
    expectMarked(RULE, harness({ far: vcc, takes: 'VCC 1 A at J9', wires }));
  });

  it('finds alternating current on a rail of the same volts', () => {
    const near = '  1 = AC5\n  2 = +5V\n  3..4 = GND\n  5..8 = spare';
    const wires = 'PSU.P1.1, PSU.P1.3..4 = DISPLAY.J9.1, DISPLAY.J9.3..4';
    const supply = '  rail AC5 5 V ac';
    expectMarked(RULE, harness({ supply, near, wires: `${wires} #! error ribbon-crossed` }));
    expectSilent(RULE, harness({ supply, near, far: near, takes: 'AC5 1 A at J9', wires }));
  });

  it('knows a sense lead for what it watches', () => {
    expectSilent(
      RULE,
      harness({ far: '  1..2, 5 = +5V\n  3..4, 6 = GND\n  7..8 = spare', takes: '+5V 1 A at J9' }),
    );
    const wires = 'PSU.P1.1..8 = DISPLAY.J9.1..8 #! error ribbon-crossed';
    expectMarked(RULE, harness({ far: '  1..2 = +5V\n  3..6 = GND\n  7..8 = spare', wires }));
  });
});

describe('a turned ribbon', () => {
  const turned = (stripe: string, mark = ''): string => `pinout 1
supply PSU {
  rail +5V 5 V
  ground GND
}
connector E4 {
  shape edge 1 x 4
}
connector H8 {
  shape header 1 x 8
}
bus B on E4 {
  1 = GND by meter
  2 = +5V by meter
}
backplane CAGE {
  slots 1..2 on B
  feed GND from PSU at 1
  feed +5V from PSU at 2
}
card CPU {
  edge on B
  takes +5V 1 A
  drives Q0..Q1 with 74LS
  port J1 on H8 {
    1 = GND by trace
    2..3 = Q0..Q1 by trace
    4..7 = spare
    8 = +5V by meter
  }
  untouched rest
}
card PIO {
  takes +5V 100 mA
  receives Q0..Q1 with 74LS
  port J1 on H8 {
    1 = GND by trace
    2..3 = Q0..Q1 by trace
    4..7 = spare
    8 = +5V by meter
  }
  untouched rest
}
fitted CAGE {
  1 = CPU
  2 = empty
}
loose PIO
ribbon W1 8 way {
  end CPU.J1 stripe 1
  end PIO.J1 stripe ${stripe}${mark}
}
`;
  const rules = [RULE, 'rail-missing', 'line-undriven', 'line-unheard'];
  it('is the one cause of what does not arrive', () => {
    expectMarked(rules, turned('8', ' #! error ribbon-crossed'));
    expectSilent(rules, turned('1'));
  });
  it('but the rail of a ribbon that is right is still missed', () => {
    const text = turned('1').replace('  feed +5V from PSU at 2\n', '');
    expect(findingsOf(text).some(({ rule }) => rule === 'rail-unfed' || rule === 'rail-missing')).toBe(true);
  });
});

describe('names that land on spare contacts', () => {
  const signals = '    1..6 = CH1, AGND, CH2, AGND, CH3, AGND by trace\n    7..20 = spare by trace';
  const text = ({
    ribbon,
    near = signals,
    far = signals,
    adc = 'drives CH1..CH3 with 74LS244',
    geo = 'receives CH1..CH3 with 74LS',
    more = '',
  }: Readonly<Record<string, string>>): string => `pinout 1
connector H20 {
  shape header 2 x 10
  numbers zigzag
}
card ADC {
  ${adc}
  port J1 on H20 {
${near}
  }
}
card GEO {
  ${geo}
  port J1 on H20 {
${far}
  }
  port J2 on H20 {
    1..3 = CH1..CH3
    4..20 = spare
  }
}
loose ADC
loose GEO
ribbon W1 20 way {
${ribbon}
}
${more}
`;
  const turned = '  end ADC.J1 stripe 1\n  end GEO.J1 stripe 20';
  const straight = '  end ADC.J1 stripe 1\n  end GEO.J1 stripe 1';

  it('are one finding where a connector is turned', () => {
    const machine = text({ ribbon: `${turned} #! error ribbon-crossed` });
    expectMarked(RULE, machine);
    const [finding] = found(machine);
    expect(finding?.message).toBe(
      'W1 joins ADC.J1.1 (CH1, trace) to GEO.J1.20 (spare, trace), though GEO.J1.1 is CH1 too, and crosses 11 more lines, as if the connector at GEO.J1 were turned (conductor k meets 21 − k)',
    );
    expect(finding?.fix).toContain('write `stripe 1`');
    expect(finding?.about).not.toContain('');
    expectSilent(RULE, text({ ribbon: straight }));
  });

  it('are a warning where no one mistake explains them', () => {
    const far = signals.replace('CH3, AGND', 'spare, AGND').replace('7..20 = spare', '7..8, 10..20 = spare');
    expectMarked(RULE, text({ far: `${far}\n    9 = CH3`, ribbon: `${straight} #! warning ribbon-crossed` }));
    expectMarked(RULE, text({ ribbon: `${turned} found unplugged #! warning ribbon-crossed` }));
  });

  it('are well where the name meets itself on another conductor', () => {
    const near = signals.replace(
      '7..20 = spare',
      '7 = CH1 by trace\n    8 = AGND by trace\n    9..20 = spare',
    );
    expectSilent(RULE, text({ near, ribbon: straight }));
  });

  it('are well where the ribbon does not reach the other one', () => {
    const far = '    1..2 = CH1, AGND\n    3..19 = spare\n    20 = CH3';
    const ends = '  end ADC.J1 stripe 1 conductors 1..10\n  end GEO.J1 stripe 1 conductors 1..10';
    const machine = text({ near: '    1..3 = CH1, AGND, CH3\n    4..20 = spare', far, ribbon: ends });
    expectSilent(RULE, machine.replace('20 way', '10 way'));
  });

  it('are well where another cable joins them, a twist takes them there, or both drive the name', () => {
    const far = signals.replace('1..6 = CH1, AGND, CH2', '1..6 = spare, AGND, CH2').replace('7..20', '7..19');
    const moved = `${far}\n    20 = CH1`;
    expectMarked(RULE, text({ far: moved, ribbon: `${straight} #! warning ribbon-crossed` }));
    const more = 'cable C1 {\n  ADC.J1.1 = GEO.J2.1\n}';
    expectSilent(RULE, text({ far: moved, ribbon: straight, more }));
    expectSilent(RULE, text({ far: moved, ribbon: straight, geo: 'drives CH1 with 74LS244' }));
    const twist = straight.replace('\n', '\n  twist 1, 20\n');
    const loop = `${signals.replace('7..20 = spare', '7..19 = spare')}\n    20 = RESET`;
    expectSilent(RULE, text({ near: loop, far: signals, ribbon: straight }));
    expect(found(text({ ribbon: twist }))).toEqual([]);
  });

  it('are well where a ground may still meet itself at a contact nobody knows', () => {
    const near = '    1 = CH1\n    2 = AGND\n    3..20 = unknown';
    const far = '    1 = CH1\n    2 = spare\n    3..4 = AGND\n    5..20 = spare';
    expectSilent(RULE, text({ near, far, ribbon: straight }));
    expectMarked(
      RULE,
      text({ near: near.replace('unknown', 'spare'), far, ribbon: `${straight} #! warning ribbon-crossed` }),
    );
  });
});
