import { describe, expect, test } from 'vitest';
import { indexNets } from '../../../src/analysis/nets.ts';
import { busPictures } from '../../../src/drawing/bus-picture.ts';
import { busSvg } from '../../../src/drawing/bus-svg.ts';
import { machineOf } from '../../support/machine.ts';

const HEAD = `pinout 1
supply PSU {
  rail    +5V    5 V     max 3 A
  rail    +12V   12 V    max 3 A
  ground  GND
}
connector E {
  shape    edge 1 x 6
  numbers  1..6
}
bus MAIN on E {
  1 = GND
  2 = +5V
  3 = SYNC
  4 = +12V
  5 = VCC
  6 = VDD
}
bus AUX on E {
  1 = GND
  2 = +5V
  3 = SYNC
}
`;

function drawn(backplane: string) {
  const { machine } = machineOf(`${HEAD}${backplane}`);
  return busPictures({ machine, nets: indexNets(machine) }, []);
}

/** The ends of each line that has some, by bus. */
const endsIn = (backplane: string): string[] =>
  drawn(backplane).flatMap(({ bus, lines }) =>
    lines.flatMap(({ name, ends }) =>
      ends.map(({ kind, gap, side }) => `${bus} ${name} ${kind} ${gap}${side ? ` ${side}` : ''}`),
    ),
  );

const PULL_UP = 'pull-up SYNC 1 kohm to +5V';

describe('the ends of lines', () => {
  test('a rail arrives where its contact is, whatever that is called', () => {
    expect(endsIn('backplane CAGE {\n slots 1..3 on MAIN\n feed +5V from PSU at 4\n}\n')).toEqual([
      'MAIN +12V feed 0',
    ]);
  });

  test('what is fed or taken as a rail is power', () => {
    const card = 'card A {\n edge on MAIN\n takes VDD 1 A\n}\n';
    const [picture] = drawn(
      `backplane CAGE {\n slots 1..3 on MAIN\n feed +5V from PSU at 5\n}\n${card}fitted CAGE {\n 1 = A\n}\n`,
    );
    const groups = picture!.lines.map(({ name, group, ends }) => `${name} ${group} ${ends.length}`);
    expect(groups).toEqual([
      'GND power 0',
      '+5V power 0',
      '+12V power 0',
      'VCC power 1',
      'VDD power 0',
      'SYNC control 0',
    ]);
  });

  test('a resistor is on the bus whose line it is on', () => {
    const slots = ' slots 1..2 on MAIN\n slots 3..4 on AUX\n slots 5 on MAIN\n';
    expect(endsIn(`backplane CAGE {\n${slots} ${PULL_UP} after 5\n}\n`)).toEqual(['MAIN SYNC pull-up 5']);
    expect(endsIn(`backplane CAGE {\n${slots} ${PULL_UP} after 3\n}\n`)).toEqual(['AUX SYNC pull-up 3']);
  });

  test('a feed is drawn before the first slot that has the bus', () => {
    const slots = ' slots 1..2 on MAIN\n slots 3..4 on AUX\n';
    expect(endsIn(`backplane CAGE {\n${slots} feed +5V from PSU at 2\n}\n`)).toEqual([
      'MAIN +5V feed 0',
      'AUX +5V feed 2',
    ]);
  });

  test('a resistor without a place is on the first stretch of a cut line, as its current is', () => {
    const cut = ' slots 1..4 on MAIN\n cut SYNC between 2, 3\n';
    expect(endsIn(`backplane CAGE {\n${cut} ${PULL_UP}\n}\n`)).toEqual(['MAIN SYNC pull-up 2 left']);
    expect(endsIn(`backplane CAGE {\n slots 1..4 on MAIN\n ${PULL_UP}\n}\n`)).toEqual([
      'MAIN SYNC pull-up 4',
    ]);
  });

  test('after one slot and before the next are two places where the line is cut', () => {
    const cut = ' slots 1..4 on MAIN\n cut SYNC between 2, 3\n';
    const text = `backplane CAGE {\n${cut} ${PULL_UP} after 2\n ${PULL_UP} before 3\n}\n`;
    expect(endsIn(text)).toEqual(['MAIN SYNC pull-up 2 left', 'MAIN SYNC pull-up 2 right']);
    const [picture] = drawn(text);
    const at = [
      ...busSvg(picture!, { marks: 'role' }).matchAll(/end pull-up said" transform="translate\((\S+) /g),
    ];
    expect(Number(at[1]![1]) - Number(at[0]![1])).toBe(32);
  });
});
