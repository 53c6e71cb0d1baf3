import { describe, expect, it } from 'vitest';
import { expectMarked, expectSilent } from '../../support/fixture.ts';
import { findingsOf } from '../../support/machine.ts';

const RULE = 'line-unheard';

const cage = ({ cpu = '', gauge = '', third = '  3 = empty', more = '' }): string => `pinout 1
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
  3 = /IRQ wired-or by trace
  4..7 = D0..D3 by trace
  8..11 = A0..A3 by trace
  12 = STATUS by trace
}
backplane CAGE {
  slots 1..3 on B
  pull-up /IRQ 1 kohm to +5V
}
card CPU {
  edge on B
  drives CLK with 74LS244
${cpu}
}
card GAUGE {
  edge on B
  receives CLK with 74LS
${gauge}
}
fitted CAGE {
  1 = CPU
  2 = GAUGE
${third}
}
${more}
`;

const panel = (display: string, gauge: string, far = ''): string =>
  cage({
    cpu: '  untouched rest',
    gauge: `${gauge}\n  untouched rest\n  port J1 on H10 {\n    1..4 = Q0..Q3 by trace\n  }`,
    more: `card DISPLAY {
${display}
  untouched rest
  port J1 on H10 {
    1..4 = Q0..Q3 by trace
  }
}
loose DISPLAY
ribbon W1 10 way {
  end GAUGE.J1 stripe 1
  end DISPLAY.J1 stripe 1 ${far}
}`,
  });

describe('line-unheard fires', () => {
  it('on a request that nobody answers', () => {
    expectMarked(
      RULE,
      cage({
        cpu: '  untouched rest',
        gauge: '  pulls /IRQ with 7406 #! warning line-unheard\n  untouched rest',
      }),
    );
  });

  it('on a conductor between two boards', () => {
    expectMarked(
      RULE,
      panel(
        '  receives Q0..Q2 with 74LS at J1',
        '  drives Q0..Q3 with 74LS244 at J1 #! warning line-unheard',
      ),
    );
  });

  it('with one note on all that a board offers to its bus', () => {
    const text = cage({
      cpu: '  drives A0..A3, STATUS with 74LS244 #! note line-unheard\n  untouched rest',
      gauge: '  untouched rest',
    });
    expectMarked(RULE, text);
    const [finding] = findingsOf(text).filter(({ rule }) => rule === RULE);
    expect(finding?.message).toBe(
      'A0..A3 and STATUS are driven by CPU (CAGE.1.8), but no other board hears them',
    );
  });

  it('on transceivers that are alone on their lines', () => {
    expectMarked(
      RULE,
      cage({
        cpu: '  transceives D0..D3 with 74LS245 #! note line-unheard\n  untouched rest',
        gauge: '  untouched rest',
      }),
    );
  });
});

describe('line-unheard asks', () => {
  it('once for all that an open list leaves open', () => {
    expectMarked(
      RULE,
      cage({ cpu: '  drives A0..A3, STATUS with 74LS244 #! question line-unheard\n  untouched rest' }),
    );
  });

  it('where a slot is not described', () => {
    expectMarked(
      RULE,
      cage({
        cpu: '  drives A0..A3 with 74LS244 #! question line-unheard\n  untouched rest',
        gauge: '  untouched rest',
        third: '',
      }),
    );
  });

  it('where a ribbon leads nobody knows where', () => {
    expectMarked(
      RULE,
      cage({
        cpu: '  untouched rest',
        gauge: `  drives Q0 with 74LS244 at J1 #! question line-unheard
  untouched rest
  port J1 on H10 {
    1 = Q0 by trace
  }`,
        more: 'ribbon W1 10 way {\n  end GAUGE.J1 stripe 1\n  end unknown "to the recorder"\n}',
      }),
    );
  });
});

describe('line-unheard is silent', () => {
  it('where another board hears, or both talk', () => {
    expectSilent(
      RULE,
      cage({
        cpu: '  drives A0..A3 with 74LS244\n  transceives D0..D3 with 74LS245\n  receives /IRQ with 74LS\n  untouched rest',
        gauge:
          '  receives A0..A3 with 74LS\n  transceives D0..D3 with 74LS245\n  pulls /IRQ with 7406\n  untouched rest',
      }),
    );
  });

  it('where a board hears what it says itself', () => {
    expectSilent(
      RULE,
      cage({
        cpu: '  pulls /IRQ with 7406\n  receives /IRQ with 74LS\n  untouched rest',
        gauge: '  untouched rest',
      }),
    );
  });

  it('on a loose board, and on a port with nothing plugged in', () => {
    const port = '  port J1 on H10 {\n    1 = Q0 by trace\n  }';
    expectSilent(
      RULE,
      cage({
        cpu: '  untouched rest',
        gauge: `  drives Q0 with 74LS244 at J1\n  untouched rest\n${port}`,
        more: `card LAMP {\n  drives Q0 with 74LS244 at J1\n  untouched rest\n${port}\n}\nloose LAMP`,
      }),
    );
  });

  it('where the ribbon was found unplugged', () => {
    expectSilent(RULE, panel('', '  drives Q0..Q3 with 74LS244 at J1', 'found unplugged'));
  });

  it('on a line that starts a chain by a wire', () => {
    expectSilent(
      RULE,
      `pinout 1
connector E8 {
  shape edge 1 x 8
}
bus B on E8 {
  1 = GND
  2 = IACK
  3 > 4 = IN > OUT
}
backplane CAGE {
  slots 1..2 on B
  wire 1.2 to 1.3
}
card CPU {
  edge on B
  drives IACK with 74LS244
  passes IN
  untouched rest
}
card DISK {
  edge on B
  passes IN
  untouched rest
}
fitted CAGE {
  1 = CPU
  2 = DISK
}
`,
    );
  });
});

it('a fix that says `allow` gives the line that silences the finding', () => {
  const text = cage({ cpu: '  pulls /IRQ with 7406\n  untouched rest', gauge: '  untouched rest' });
  const [finding] = findingsOf(text).filter(({ rule }) => rule === RULE);
  const allow = /`(allow [^`]+)`/.exec(finding?.fix ?? '')?.[1];
  expect(allow).toBe('allow line-unheard at /IRQ "reason"');
  expectSilent([RULE, 'allow-unused'], `${text}${allow}\n`);
});
