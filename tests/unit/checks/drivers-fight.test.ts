import { describe, expect, test } from 'vitest';
import { benchText } from '../../support/bench.ts';
import { expectMarked, expectSilent } from '../../support/fixture.ts';
import { findingsOf } from '../../support/machine.ts';

const RULE = 'drivers-fight';
const pair = (one: string, other: string, flag = ''): string =>
  benchText({
    bus: `3 = X ${flag}`,
    cards: { CPU: one, DMA: other, RAM: 'receives X with 74LS' },
    fitted: '1 = CPU\n2 = DMA\n3 = RAM',
  });
const ERROR = '#! error drivers-fight';
const QUESTION = '#! question drivers-fight';

describe('fires', () => {
  test.each([
    ['two totem-poles', 'drives X totem-pole', `drives X with 74LS04 ${ERROR}`],
    ['a totem-pole and three-state', `drives X with 74LS04 ${ERROR}`, 'drives X with 74LS244'],
    [
      'a totem-pole and a transceiver',
      `drives X with 74LS244 totem-pole ${ERROR}`,
      'transceives X with 74LS245',
    ],
    ['a totem-pole and an open collector', `drives X with 7400 ${ERROR}`, 'pulls X with 7406'],
    ['a totem-pole and somebody unsaid', `drives X totem-pole ${ERROR}`, 'drives X'],
    ['two unsaid', `drives X ${QUESTION}`, 'drives X'],
    ['somebody unsaid and three-state', 'drives X with 74LS244', `drives X ${QUESTION}`],
    ['a family without number', `drives X with 74LS ${QUESTION}`, 'drives X with 74LS244'],
    ['a number that is not in the table', `drives X with 74LS257 ${QUESTION}`, 'drives X with 74LS244'],
    ['a part nobody knows', `drives X with UNHEARD-OF ${QUESTION}`, 'drives X with 74LS244'],
  ])('%s', (_, one, other) => expectMarked(RULE, pair(one, other)));

  test('even where the line is said to be wired-or', () =>
    expectMarked(RULE, pair(`drives X with 7404 ${ERROR}`, 'pulls X with 7406', 'wired-or')));

  test.each(['7404', '74LS04'])('a %s that is said to pull', (part) => {
    const text = pair(`pulls X with ${part} ${ERROR}`, 'pulls X with 7406');
    expectMarked(RULE, text);
    const finding = findingsOf(text).find(({ rule }) => rule === RULE);
    expect(finding?.message).toContain(`CPU (${part}, totem-pole) and DMA (7406, open-collector) both drive`);
    expect(finding?.fix).toContain(`${part} cannot pull a shared line; put a 7406, which has the same pins`);
  });

  test('two boards that pull with the same wrong gate, or one of the file’s own', () => {
    expectMarked(RULE, pair('pulls X with 7404', `pulls X with 7404 ${ERROR}`));
    const own = 'part OWN {\n output totem-pole\n sinks 8 mA 0.5 V\n}\n';
    expectMarked(RULE, `${pair(`pulls X with OWN ${ERROR}`, 'pulls X with 7406')}\n${own}`);
  });

  test('two boards of one card', () => {
    const text = benchText({
      bus: '3..6 = A0..A3',
      cards: { IO: `drives A0..A3 with 74LS04 ${ERROR}`, CPU: 'receives A0..A3 with 74LS' },
      fitted: '1 = IO as IO-A\n2 = IO as IO-B\n3 = CPU\n4 = IO as IO-C',
    });
    expectMarked(RULE, text);
    expect(findingsOf(text).find(({ rule }) => rule === RULE)?.message).toContain('A0..A3: IO-A');
  });

  test('one finding a pair of statements, whatever the number of lines and boards', () => {
    const text = benchText({
      bus: '3..6 = A0..A3\n7 = /RD\n8 = /WR',
      cards: {
        CPU: `drives A0..A3, /RD, /WR with 74LS04 ${ERROR}`,
        DMA: 'drives A0..A3, /RD, /WR with 74LS244',
      },
      fitted: '1 = CPU\n2 = DMA as D1\n3 = DMA as D2',
    });
    expectMarked(RULE, text);
  });

  test('over a ribbon, and a part of the file’s own', () => {
    const port = (verb: string): string => `${verb}\nport J1 on IDC10 {\n 1 = GND\n 2 = Q\n}`;
    const text = benchText({
      bus: '3 = X',
      cards: { CPU: port(`drives Q with OWN ${ERROR}`), IO: port('drives Q with 74LS244') },
      fitted: '1 = CPU\n2 = IO',
      more: 'ribbon W1 10 way {\n end CPU.J1 stripe 1\n end IO.J1 stripe 1\n}\npart OWN {\n output totem-pole\n sinks 8 mA 0.5 V\n}',
    });
    expectMarked(RULE, text);
    expectSilent(RULE, text.replace('output totem-pole', 'output three-state off 20 uA').replace(/#!.*/, ''));
    expectSilent(RULE, text.replace('IO.J1 stripe 1', 'IO.J1 stripe 1 found unplugged').replace(/#!.*/, ''));
  });
});

describe('silent', () => {
  test.each([
    ['three-state', 'drives X with 74LS244', 'drives X with 74LS373'],
    ['three-state said of a gate', 'drives X with 74LS257 three-state', 'drives X three-state'],
    ['transceivers, whatever the part', 'transceives X with 74LS', 'transceives X'],
    ['open collectors', 'pulls X with 7406', 'drives X with 74LS05'],
    ['three-state and open collector', 'drives X with 74LS244', 'pulls X with 7406'],
    ['a three-state part that pulls', 'pulls X with 74LS244', 'pulls X with 7406'],
    ['a family, or a part nobody knows, that pulls', 'pulls X with 74LS', 'pulls X with UNHEARD-OF'],
    ['a totem-pole that pulls alone', 'pulls X with 7404', 'receives X with 74LS'],
    ['one driver', 'drives X', 'receives X with 74LS'],
    ['one totem-pole', 'drives X with 74LS04', ''],
  ])('%s', (_, one, other) => expectSilent(RULE, pair(one, other)));

  test('unsaid on a line that is said to be wired-or', () =>
    expectSilent(RULE, pair('drives X', 'drives X', 'wired-or')));

  test('two chips of one board', () =>
    expectSilent(RULE, pair('drives X with 74LS04\ndrives X with 74LS244', '')));

  test('a cut between them', () =>
    expectSilent(
      RULE,
      benchText({
        bus: '3 = X',
        backplane: 'cut X between 1, 2',
        cards: { CPU: 'drives X totem-pole', IO: 'drives X totem-pole' },
        fitted: '1 = CPU\n2 = IO',
      }),
    ));

  test('boards on the shelf', () =>
    expectSilent(
      RULE,
      benchText({
        bus: '3 = X',
        cards: { CPU: 'drives X totem-pole' },
        fitted: '1 = CPU as A',
        more: 'loose CPU as C',
      }),
    ));
});

describe('a bridge across a board that passes a daisy chain', () => {
  const chained = (passes: string, bridge: string, more = ''): string =>
    benchText({
      bus: '3 > 4 = GRANT\n5 > 6 = ACK',
      cards: { CPU: 'starts GRANT, ACK with 74LS08', IO: `passes GRANT, ACK${passes}` },
      fitted: `1 = CPU\n2 = IO ${bridge}\n3 = IO as IO-B`,
      more,
    }).replace('2 = IO ', '2 = IO as IO-A ');

  test('by a chip fights the board before, once a slot', () => {
    const text = chained(' with 74LS08', 'bridge GRANT, ACK #! error drivers-fight');
    expectMarked(RULE, text);
    expect(findingsOf(text).find(({ rule }) => rule === RULE)?.message).toContain('GRANT and ACK');
  });

  test('by plain copper, or without a bridge, is well', () => {
    expectSilent(RULE, chained('', 'bridge GRANT, ACK'));
    expectSilent(RULE, chained(' with 74LS08', ''));
  });
});
