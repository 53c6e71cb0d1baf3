import { describe, expect, test } from 'vitest';
import { expectMarked, expectSilent } from '../../support/fixture.ts';
import { findingsOf } from '../../support/machine.ts';
import { harness } from './rail-machine.ts';

const RULE = 'contact-overload';

interface Options {
  readonly contact?: string;
  readonly header?: string;
  readonly bus?: string;
  readonly cpu?: string;
  readonly ram?: string;
  readonly display?: string;
  readonly more?: string;
  readonly feeds?: string;
}

const machine = ({
  contact = 'contact 1 A',
  header = 'contact 1 A',
  bus = '1..2 = GND by meter\n  3..4 = +5V by meter\n  5 = -12V by meter',
  cpu = 'takes +5V 500 mA',
  ram = 'takes +5V 500 mA',
  display = 'takes +5V 400 mA at J1',
  more = '',
  feeds = 'feed GND from PSU at 1 by "lugs"\n  feed +5V from PSU at 3 by "lugs"\n  feed -12V from PSU at 5 by "lugs"',
}: Options): string => `pinout 1
supply PSU {
  rail +5V 5 V
  rail -12V -12 V
  ground GND
  port P1 on H4 {
    1..2 = +5V
    3..4 = GND
  }
}
connector E8 {
  shape edge 1 x 8
  ${contact}
}
connector H4 {
  shape header 1 x 4
  ${header}
}
bus B on E8 {
  ${bus}
}
backplane CAGE {
  slots 1..4 on B
  ${feeds}
}
card CPU {
  edge on B
  ${cpu}
  port J1 on H4 {
    1..2 = GND
    3..4 = +5V
  }
}
card RAM {
  edge on B
  ${ram}
}
card DISPLAY {
  ${display}
  port J1 on H4 {
    1..2 = GND
    3..4 = +5V
  }
}
fitted CAGE {
  1 = CPU
  2 = RAM as RAM-A
  3 = RAM as RAM-B
}
loose DISPLAY
${more}`;

const RIBBON = 'ribbon W1 4 way {\n  end CPU.J1 stripe 1\n  end DISPLAY.J1 stripe 1\n}';
const messages = (text: string): string[] =>
  findingsOf(text)
    .filter(({ rule }) => rule === RULE)
    .map(({ message }) => message);

describe('fires', () => {
  test('at a slot, once for two boards of one card', () => {
    const text = machine({
      ram: 'takes +5V 2.2 A  #! error contact-overload',
      bus: '1..2 = GND by meter\n  6..8 = GND by meter\n  3..4 = +5V by meter',
      feeds: 'feed +5V from PSU at 3 by "lugs"\n  feed GND from PSU at 1 by "lugs"',
    });
    expectMarked(RULE, text);
    expect(messages(text)[0]).toContain(
      'RAM-A draws 2.2 A of +5V through 2 contacts (CAGE.2.3 and CAGE.2.4), 1.1 A a contact, and E8 is rated 1 A a contact; the same holds for RAM-B',
    );
  });

  test('for the ground return, where the edge is said', () => {
    const text = machine({
      bus: '1 = GND by meter\n  3..4 = +5V by meter',
      feeds: 'feed +5V from PSU at 3 by "lugs"\n  feed GND from PSU at 1 by "lugs"',
      ram: 'takes +5V 1.5 A',
    }).replace('card RAM {\n  edge on B', 'card RAM {\n  edge on B  #! error contact-overload');
    expectMarked(RULE, text);
    expect(messages(text)[0]).toContain('the ground return of RAM-A, 1.5 A, has 1 contact (CAGE.2.1)');
  });

  test('at a ribbon, and at the slot of the board that passes the current on', () => {
    const text = machine({
      header: 'contact 200 mA',
      cpu: 'takes +5V 1.7 A  #! error contact-overload',
      bus: '1..2 = GND by meter\n  6..8 = GND by meter\n  3..4 = +5V by meter',
      feeds: 'feed +5V from PSU at 3 by "lugs"\n  feed GND from PSU at 1 by "lugs"',
      display: 'takes +5V 500 mA at J1  #! error contact-overload',
      more: RIBBON.replace('4 way {', '4 way {  #! error contact-overload'),
    });
    expectMarked(RULE, text);
    expect(messages(text)[0]).toContain('CPU (with DISPLAY beyond it) draws 2.2 A of +5V');
    expect(messages(text)).toContainEqual(
      expect.stringContaining('DISPLAY draws 500 mA of +5V through 2 contacts'),
    );
    expect(messages(text)).toContainEqual(expect.stringContaining('the ground return of DISPLAY, 500 mA'));
  });

  test('at a cable, at its narrower end', () => {
    const text = machine({
      display: 'takes +5V 1.5 A at J1  #! error contact-overload',
      more: 'cable C1 18 AWG 600 mm {\n  PSU.P1.1 = DISPLAY.J1.3\n  PSU.P1.3..4 = DISPLAY.J1.1..2\n}',
    });
    expectMarked(RULE, text);
  });

  test('without any supply, for what passes the slot is the same', () => {
    const text = machine({
      ram: 'takes +5V 2.2 A  #! error contact-overload',
      bus: '1..2 = GND by meter\n  6..8 = GND\n  3..4 = +5V',
    })
      .replace(/supply PSU \{[\s\S]*?\n\}\n/, '')
      .replace(/ {2}feed .*\n/g, '');
    expectMarked(RULE, text);
  });

  test('as a note where a feed says contacts and no lugs', () => {
    const text = machine({
      feeds:
        'feed GND from PSU at 1 by "lugs"\n  feed +5V from PSU at 3  #! note contact-overload\n  feed -12V from PSU at 5 by "lugs"',
    });
    expectMarked(RULE, text);
  });

  test('at what a regulator gives to another board, whose return does not count twice', () => {
    const text = machine({
      header: 'contact 100 mA',
      bus: '1..2 = GND by meter\n  3..4 = +8V by meter\n  5 = -12V by meter',
      feeds: 'feed GND from PSU at 1 by "lugs"\n  feed +8V from PSU at 3 by "lugs"',
      cpu: 'takes +8V 1.9 A\n  makes +5V from +8V with 2 x 7805',
      ram: 'takes +8V 500 mA',
      display: 'takes +5V 400 mA at J1  #! contact-overload',
      more: RIBBON.replace('4 way {', '4 way {  #! error contact-overload'),
    }).replace('rail +5V 5 V', 'rail +8V 8..10 V');
    expectMarked(
      RULE,
      text.replace(
        '    1..2 = +5V\n    3..4 = GND\n  }\n}\nconnector E8',
        '    1..2 = +8V\n    3..4 = GND\n  }\n}\nconnector E8',
      ),
    );
  });
});

describe('stays silent', () => {
  const sixteen = {
    bus: '1..2 = GND by meter\n  3..4 = +5V by meter',
    feeds: 'feed GND from PSU at 1 by "lugs"\n  feed +5V from PSU at 3 by "lugs"',
  };
  test.each([
    ['within the rating', machine({})],
    ['exactly at the rating', machine({ ...sixteen, ram: 'takes +5V 2 A' })],
    ['where no rating is said', machine({ ...sixteen, contact: 'pitch 3.96 mm', ram: 'takes +5V 20 A' })],
    ['for feeds by bus bar or lugs', machine({ contact: 'contact 1 A' })],
    ['where no current is said', machine({ ...sixteen, ram: 'takes +5V' })],
    ['for a board on a shelf', machine({ display: 'takes +5V 40 A at J1' })],
    [
      'for a ribbon found unplugged',
      machine({
        display: 'takes +5V 40 A at J1',
        more: RIBBON.replace('end CPU.J1 stripe 1', 'end CPU.J1 stripe 1 found unplugged'),
      }),
    ],
    [
      'where positive and negative returns meet in ground: the larger counts',
      machine({ ram: 'takes +5V 1.9 A\n  takes -12V 900 mA' }),
    ],
    [
      'where a board has a supply cable beside its slot',
      machine({
        ...sixteen,
        cpu: 'takes +5V 3 A',
        more: 'cable C1 18 AWG 600 mm {\n  PSU.P1.1..2 = CPU.J1.3..4\n  PSU.P1.3..4 = CPU.J1.1..2\n}',
      }),
    ],
  ])('%s', (_, text) => expectSilent(RULE, text));

  test('but a ribbon to another loaded board is no help', () => {
    const text = machine({
      ...sixteen,
      ram: 'takes +5V 500 mA',
      cpu: 'takes +5V 2.4 A  #! error contact-overload',
      more: '',
    });
    expectMarked(
      RULE,
      text.replace('card CPU {\n  edge on B', 'card CPU {\n  edge on B  #! contact-overload'),
    );
  });

  test('a finger known to be untouched does not share', () => {
    const text = (ram: string): string =>
      machine({
        bus: '1..2 = GND by meter\n  6..8 = GND by meter\n  3 = +5V by meter\n  4 = +5VB by meter',
        feeds: 'feed GND from PSU at 1 by "lugs"\n  feed +5V from PSU at 3 by "lugs"\n  strap +5V, +5VB',
        ram,
      });
    expectSilent(RULE, text('takes +5V 1.5 A'));
    expectMarked(RULE, text('takes +5V 1.5 A  #! error contact-overload\n  untouched +5VB'));
  });
});

test('a sense lead is no way for current', () => {
  const far = '  1..2, 5 = +5V\n  3..4, 6..8 = GND';
  const near = '  1..2 = +5V\n  3..4, 7..8 = GND\n  5 = S+\n  6 = S-';
  expectSilent(RULE, harness({ near, far, takes: '+5V 2 A at J9' }));
  expectMarked(RULE, harness({ near, far, takes: '+5V 2.4 A at J9 #! error contact-overload' }));
});

describe('isolated supplies', () => {
  const isolated = (takes: string, mark: string, bus = '', second = '24VRTN'): string => `pinout 1
supply A {
  rail +5V 5 V
  rail +12V 12 V
  ground 0V
}
supply B {
  rail +24V 24 V
  ground ${second}
}
connector E8 {
  shape edge 1 x 8
  contact 1 A
}
bus R on E8 {
  1 = 0V by meter
  2 = +5V by meter
  3 = +12V by meter
  4 = +24V by meter
  5 = ${second} by meter
  ${bus}
}
backplane CAGE {
  slots 1..2 on R
  feed 0V from A at 1 by "lugs"
  feed +5V from A at 2 by "lugs"
  feed +12V from A at 3 by "lugs"
  feed +24V from B at 4 by "lugs"
  feed ${second} from B at 5 by "lugs"
}
card Y {
  edge on R${mark}
  ${takes}
}
fitted CAGE {
  1 = Y
}`;
  const both = 'takes +5V 900 mA\n  takes +12V 900 mA';

  test('do not return by the ground of the other', () => {
    const text = isolated(both, '  #! error contact-overload');
    expectMarked(RULE, text);
    expect(messages(text)[0]).toContain('the ground return of Y, 1.8 A, has 1 contact (CAGE.1.1)');
  });

  test('each returns its own', () => {
    expectSilent(RULE, isolated('takes +5V 900 mA\n  takes +24V 900 mA', ''));
  });

  test('share what is one ground', () => {
    expectSilent(RULE, isolated(both, '', '', '0V'));
  });
});
