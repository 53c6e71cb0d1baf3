import { describe, expect, test } from 'vitest';
import { wrongMatingOf } from '../../../../src/analysis/wrong-mating/wrong-mating.ts';
import { machineOf } from '../../../support/machine.ts';
import { wayText } from '../../../support/mating-reference-cases.ts';

/** What keeps a plug out of a place, in each way: the first thing that does; `key?` where one half of it is not said. */
function verdicts(text: string, plug: string, place: string): (way: string) => string {
  const { machine } = machineOf(text);
  expect(machine.problems).toEqual([]);
  const found = new Map(
    wrongMatingOf(machine)
      .cases()
      .filter((one) => one.plug.name === plug && (one.plug.end ?? 0) === 0)
      .filter((one) => one.place.path === place && !one.fault.startsWith('crimped'))
      .map(({ way: { turned, shift, over }, verdict: { state, by } }) => [
        wayText(turned, shift, over),
        state === 'open' ? 'open' : `${by[0]}${state === 'unsaid' ? '?' : ''}`,
      ]),
  );
  return (way) => found.get(way) ?? 'no case';
}

/** A ribbon from X.J1 to Y.J1 of 2 × 4 pins: what the connectors, the port of X and the ribbon's end there say. */
const ribbon = (connector: string, port: string, end: string, other = 'PINS'): string => `connector PINS {
  shape header 2 x 4
  numbers zigzag
${connector}
}
connector LONG {
  shape header 2 x 6
  numbers zigzag
  shroud
}
card X {
  port J1 on PINS {
    1 = GND
${port}
  }
}
card Y {
  port J1 on ${other} {
    1 = GND
  }
}
loose X
loose Y
ribbon W1 8 way {
  end X.J1 ${end}
  end Y.J1 conductors 1..8
}
`;

const WAYS = ['turned 0 0', 'straight 1 0', 'straight 0 1', 'turned 1 0', 'turned 0 1'] as const;

describe('what keeps a ribbon from going on pins', () => {
  test.each([
    ['nothing, on open pins', '', '', '', ['open', 'open', 'open', 'open', 'open']],
    ['a wall, all but turned', '  shroud', '', '', ['open', 'shroud', 'shroud', 'shroud', 'shroud']],
    [
      'a wall with a notch, turned too where the plug has a bump',
      '  shroud notch',
      '',
      'bump',
      ['notch', 'shroud', 'shroud', 'shroud', 'shroud'],
    ],
    [
      'a notch for a bump that nobody says',
      '  shroud notch',
      '',
      '',
      ['notch?', 'shroud', 'shroud', 'shroud', 'shroud'],
    ],
    [
      'a bump where there is said to be no notch',
      '  shroud',
      '',
      'bump',
      ['open', 'shroud', 'shroud', 'shroud', 'shroud'],
    ],
    [
      'a pulled pin and its plugged hole: what would put the hole on a pin',
      '',
      '    pulled 3\n    plugged 3',
      '',
      ['plugged contact', 'plugged contact', 'plugged contact', 'plugged contact', 'open'],
    ],
    [
      'a plugged hole whose pin nobody says is pulled',
      '',
      '    plugged 3',
      '',
      ['plugged contact?', 'plugged contact?', 'plugged contact?', 'plugged contact?', 'open'],
    ],
    [
      'a pulled pin whose hole nobody says is plugged',
      '',
      '    pulled 3',
      '',
      ['plugged contact?', 'plugged contact?', 'plugged contact?', 'plugged contact?', 'open'],
    ],
  ])('%s', (_, connector, port, end, expected) => {
    const told = verdicts(ribbon(connector, port, end), 'W1', 'X.J1');
    expect(WAYS.map(told)).toEqual(expected);
  });

  test('in a longer wall a short plug can be anywhere within it, but not past its ends', () => {
    const told = verdicts(ribbon('', '', '', 'LONG'), 'W1', 'Y.J1');
    expect(['straight 0 0', 'straight 2 0', 'turned 2 0', 'straight 3 0', 'straight -1 0'].map(told)).toEqual(
      ['open', 'open', 'open', 'shroud', 'shroud'],
    );
  });
});

/** A card CARD in slot 1 of two: what the connector, the slots and the card's edge say. */
const rack = (connector: string, slots: string, edge: string): string => `connector EDGE {
  shape edge 2 x 6
  numbers 1..12
${connector}
}
bus MAIN on EDGE {
  1 = GND
}
backplane CAGE {
  slots 1..2 on MAIN ${slots}
}
card CARD {
  edge on MAIN {
${edge}
  }
}
fitted CAGE {
  1 = CARD
}
`;

describe('what keeps a card from going into a slot', () => {
  test.each([
    // Turned; shifted; turned and shifted; skewed by half a position.
    ['nothing, where ends are open', '  ends open', '', '', ['open', 'open', 'open', 'open']],
    ['closed ends, what reaches past them', '  ends closed', '', '', ['open', 'walls', 'walls', 'walls']],
    ['ends of which nothing is said', '', '', '', ['open', 'walls?', 'walls?', 'walls?']],
    [
      'guides, all but the skew: they wear',
      '  ends open',
      'guides',
      '',
      ['guides', 'guides', 'guides', 'open'],
    ],
    [
      'a key in the connector, which both halves have',
      '  ends open\n  key between 2, 3',
      '',
      '',
      ['key', 'key', 'key', 'key'],
    ],
    [
      'a key in the very middle, all but turned',
      '  ends open\n  key between 3, 4',
      '',
      '',
      ['open', 'key', 'key', 'key'],
    ],
    [
      'a key of the slots, for which the card is not said to have its slot',
      '  ends open',
      'key between 2, 3',
      '',
      ['key?', 'key?', 'key?', 'key?'],
    ],
    [
      'a slot in the card, whose key nobody says',
      '  ends open',
      '',
      '    key between 2, 3',
      ['key?', 'key?', 'key?', 'key?'],
    ],
    [
      'both halves, each said where it is',
      '  ends open',
      'key between 2, 3',
      '    key between 2, 3',
      ['key', 'key', 'key', 'key'],
    ],
  ])('%s', (_, connector, slots, edge, expected) => {
    const told = verdicts(rack(connector, slots, edge), 'CARD', 'CAGE.1');
    expect(['turned 0 0', 'straight 1 0', 'turned 1 0', 'straight 0.5 0'].map(told)).toEqual(expected);
  });
});
