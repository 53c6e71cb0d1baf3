import { describe, expect, it } from 'vitest';
import { isHarmful, wrongMatingOf } from '../../../src/analysis/wrong-mating/wrong-mating.ts';
import { viewOf } from '../../../src/checks/run.ts';
import { spokenCase, spokenHarm } from '../../../src/checks/spoken-mating.ts';
import type { View } from '../../../src/checks/types.ts';
import { type Entry, entriesOf, plugNames } from '../../../src/drawing/what-if-cases.ts';
import { ALL_PLUGS } from '../../../src/drawing/what-if-choice.ts';
import { type WhatIfPicture, whatIfPicture } from '../../../src/drawing/what-if-picture.ts';
import { whatIfSvg } from '../../../src/drawing/what-if-svg.ts';
import { EXAMPLES, example } from '../../support/drawings.ts';
import { machineOf } from '../../support/machine.ts';
import { UNKEYED } from '../../support/unkeyed.ts';

const viewIn = (text: string): View => viewOf(machineOf(text).machine);
const entriesIn = ({ machine }: View, of: string): readonly Entry[] => entriesOf(wrongMatingOf(machine), of);
const saying = (view: View, of: string, cases: 'open' | 'all' = 'open'): string[] =>
  whatIfPicture(view, { of, cases })!.list.map(({ says }) => says);

/** The picture of the first case that reads so. */
function pictureOf(view: View, of: string, says: string): WhatIfPicture {
  const entry = entriesIn(view, of).find(({ cases: [one] }) => spokenCase(one) === says)!;
  return whatIfPicture(view, { of, case: entry.id })!;
}

/** What meets what, as `plug-contact state socket-contact`, and the letter of what it does. */
const meetings = ({ shown }: WhatIfPicture): string[] =>
  shown!.mates.flatMap(({ plugContacts, socketContacts, meets }) =>
    meets.map(({ plug, socket, state, harm }) => {
      const [a, b] = [plugContacts[plug]!, socketContacts[socket]!];
      const does = harm === undefined ? '' : `: ${shown!.harms[harm]!.kind}`;
      return `${a.label} ${a.name} ${state} ${b.label} ${b.name}${does}`;
    }),
  );

const view = viewIn(UNKEYED);

describe('the cases of a plug', () => {
  it('are named by boards and ends of ribbons, and by all of them', () => {
    expect(plugNames(wrongMatingOf(view.machine))).toEqual([
      ALL_PLUGS,
      'CPU',
      'LAMPS',
      'W1 at CPU.J1',
      'W1 at LAMPS.J1',
    ]);
  });

  it('are one where only the slot differs', () => {
    const [worst] = entriesIn(view, 'CPU').filter(({ isOpen }) => isOpen);
    expect(worst!.cases.map(({ place }) => place.path)).toEqual(['CAGE.1', 'CAGE.2', 'CAGE.3', 'CAGE.4']);
    expect(saying(view, 'CPU')[0]).toBe('CPU turned in CAGE.1 and 3 more slots: foreign rail');
  });

  it('are not one where one slot has guides and the other has not', () => {
    const guided = viewIn(
      UNKEYED.replace(
        'slots        1..4               on MAIN',
        'slots 1 on MAIN guides\nslots 2..4 on MAIN',
      ),
    );
    const turned = entriesIn(guided, 'CPU').filter(({ cases: [{ fault }] }) => fault === 'turned');
    const states = turned.map(({ cases, isOpen }) => [cases[0].verdict.state, cases.length, isOpen]);
    expect(states).toContainEqual(['prevented', 1, false]);
    expect(states).toContainEqual(['open', 3, true]);
  });

  it.each(EXAMPLES)(
    'hold every case once, the worst first, and open what is harmful and not prevented: %s',
    (name) => {
      const { machine } = example(name).view;
      const mating = wrongMatingOf(machine);
      const entries = entriesOf(mating, ALL_PLUGS);
      expect(new Set(entries.flatMap(({ cases }) => cases))).toEqual(new Set(mating.cases()));
      expect(entries.flatMap(({ cases }) => cases)).toHaveLength(mating.cases().length);
      expect(new Set(entries.map(({ id }) => id)).size).toBe(entries.length);
      // What does harm, then what cannot be judged, then the rest; each the worst first.
      const order = entries.map(({ does, rank }) => 10 * ['harm', 'unknown', 'nothing'].indexOf(does) + rank);
      expect(order).toEqual([...order].sort((a, b) => a - b));
      for (const { cases, rank, does, unknown, isOpen } of entries)
        for (const one of cases) {
          const outcome = mating.outcome(one);
          expect(outcome.rank).toBe(rank);
          expect(does === 'harm').toBe(isHarmful(one, outcome));
          expect(does === 'unknown').toBe(!isHarmful(one, outcome) && outcome.unknown > 0);
          expect(unknown).toBe(does === 'unknown' ? outcome.unknown : 0);
          expect(isOpen).toBe(one.verdict.state !== 'prevented' && does !== 'nothing');
        }
      const apart = plugNames(mating).flatMap((of) => (of === ALL_PLUGS ? [] : entriesOf(mating, of)));
      expect(apart).toHaveLength(entries.length);
    },
  );
});

describe('a case', () => {
  const turned = pictureOf(view, 'CPU', 'CPU turned in CAGE.1');

  it('says what it is, where it comes to the same, and what keeps it from happening', () => {
    const { says, also, state, verdict } = turned.shown!;
    expect({ says, also, state, verdict }).toEqual({
      says: 'CPU turned in CAGE.1',
      also: ['CAGE.2', 'CAGE.3', 'CAGE.4'],
      state: 'open',
      verdict: 'nothing that the file says prevents it',
    });
  });

  it('shows which contacts meet, and which of them do harm', () => {
    const met = meetings(turned);
    expect(met).toHaveLength(16);
    expect(met).toContain('F D3 meets 3 +12V: foreign-rail');
    expect(met).toContain('1 GND meets J spare');
    expect(meetings(pictureOf(view, 'CPU', 'CPU skewed by half a contact in CAGE.1'))).toContain(
      '4 D0 meets 3 +12V: foreign-rail',
    );
  });

  it('lays the plug beside the socket as it sits', () => {
    const [{ plugContacts, socketContacts, meets, lines }] = turned.shown!.mates as [
      NonNullable<WhatIfPicture['shown']>['mates'][number],
    ];
    for (const { plug, socket } of meets) expect(plugContacts[plug]!.line).toBe(socketContacts[socket]!.line);
    const all = [...plugContacts, ...socketContacts].map(({ line }) => line);
    expect([Math.min(...all), Math.max(...all)]).toEqual([0, lines - 1]);
  });

  it('lets each skewed finger bridge two contacts', () => {
    const { mates } = pictureOf(view, 'CPU', 'CPU skewed by half a contact in CAGE.1').shown!;
    const { plugContacts, socketContacts, meets } = mates[0]!;
    expect(meets.filter(({ plug }) => plug === 3)).toHaveLength(2);
    for (const { plug, socket } of meets)
      expect(Math.abs(plugContacts[plug]!.line - socketContacts[socket]!.line)).toBe(0.5);
  });

  it('shows what a ribbon brings from its other end, whatever its own place says', () => {
    const odd = viewIn(UNKEYED.replace(/(LAMPS[\s\S]*?port J1 on H10 \{\n) {4}1\.\.3/, '$1    3..1'));
    const { shown } = pictureOf(odd, 'W1 at LAMPS.J1', 'W1 turned at LAMPS.J1');
    expect(shown!.mates[0]!.plugContacts.slice(0, 3).map(({ name }) => name)).toEqual(['L0', 'L1', 'L2']);
  });

  it('marks no contacts that belong together', () => {
    for (const { cases, id } of entriesIn(view, ALL_PLUGS)) {
      const { shown } = whatIfPicture(view, { of: ALL_PLUGS, case: id })!;
      const { nets } = view.machine;
      for (const [m, { plugContacts, socketContacts, meets }] of shown!.mates.entries())
        for (const { plug, socket, harm } of meets) {
          const node = cases[0].meetings[m]!.part.copper[plug]!;
          if (nets.of[node] === nets.of[socketContacts[socket]!.origin.contact]) expect(harm).toBeUndefined();
          expect(plugContacts[plug]!.net).toBe(socketContacts[socket]!.net);
        }
    }
  });

  it('tells all that happens, the worst first, and no more than one reads', () => {
    for (const name of EXAMPLES) {
      const its = example(name).view;
      const mating = wrongMatingOf(its.machine);
      for (const entry of entriesIn(its, ALL_PLUGS).slice(0, 8)) {
        const { shown } = whatIfPicture(its, { of: ALL_PLUGS, case: entry.id })!;
        const harms = mating.harms(entry.cases[0]);
        expect(shown!.harms.slice(0, 24).map(({ says }) => says)).toEqual(harms.slice(0, 24).map(spokenHarm));
        expect(shown!.harms.length + shown!.more).toBe(harms.length);
        for (const { meets } of shown!.mates)
          for (const { harm, tells } of meets)
            for (const i of harm === undefined ? tells : [harm, ...tells])
              expect(shown!.harms[i]).toBeDefined();
      }
    }
  });
});

/** Nobody knows what most of this bus carries: turned, the board meets it with all that it has. */
const UNCHARTED = `pinout 1
connector E36 {
  shape edge 2 x 18
  numbers 1..18, A..V
  ends closed
}
supply PSU {
  rail +5V 5 V max 12 A by meter
  ground GND
}
bus L on E36 {
  1, A = GND by silkscreen
  2, B = +5V by meter
  3..10 = D0..D7 by trace
  11..18 = unknown
  C..V = unknown
}
backplane RACK {
  slots 1..3 on L
  feed GND from PSU at 1
  feed +5V from PSU at 2
}
card CPU {
  edge on L
  takes +5V 1 A
  transceives D0..D7 with 74LS245 by trace
}
card IO {
  edge on L
  takes +5V 1 A
  transceives D0..D7 with 74LS245 by trace
}
fitted RACK {
  1 = CPU
  2 = IO
}
`;

describe('what cannot be judged', () => {
  const uncharted = viewIn(UNCHARTED);
  const picture = whatIfPicture(uncharted, { of: 'CPU' })!;
  const told = [...whatIfSvg(picture).matchAll(/>([^<>]*)<\/text>/g)].map(([, text]) => text);

  it('is stepped through where nothing prevents it, and said to be so', () => {
    expect([picture.harmful, picture.unjudged]).toEqual([0, 2]);
    expect(picture.list.map(({ says }) => says)).toEqual([
      'CPU turned in RACK.1 and 1 more slot: cannot be judged',
      // Without the other board less is known to meet less.
      'CPU turned in RACK.2: cannot be judged',
    ]);
    expect(picture.shown).toMatchObject({ does: 'unknown', unknown: 36, state: 'open' });
  });

  it('is marked at each contact that nobody knows, as often as it was counted', () => {
    const { meets } = picture.shown!.mates[0]!;
    expect(meets).toHaveLength(36);
    expect(meets.every(({ unknown }) => unknown)).toBe(true);
    expect(told.filter((text) => text === '?').length).toBeGreaterThanOrEqual(36);
  });

  it('is nowhere called harmless', () => {
    expect(told).toContain('Cannot be judged: meets 36 contacts that nobody knows.');
    expect(told).toContain('cannot be judged: not all there is known');
    expect(told[0]).toMatch(/^CPU: 2 ways to plug it in wrong cannot be judged/);
    expect(told.filter((text) => /harm(?!ful)/.test(text!))).toEqual([]);
    expect(told.join(' ')).not.toMatch(/no harmful|[Nn]othing is joined/);
  });

  it('is told besides where there is harm too', () => {
    const { shown } = pictureOf(
      viewIn(
        UNCHARTED.replace('3..10 = D0..D7', '3 = +12V by meter\n  4..10 = D0..D6')
          .replace('D0..D7 with', 'D0..D6 with')
          .replace('C..V = unknown', 'C..T = unknown\n  U..V = D7..D8 by trace')
          .replace('rail +5V', 'rail +12V 12 V\n  rail +5V')
          .replace('feed +5V', 'feed +12V from PSU at 3\n  feed +5V')
          .replace('takes +5V 1 A', 'takes +5V 1 A\n  drives D7..D8 with 74LS244'),
      ),
      'CPU',
      'CPU turned in RACK.1',
    );
    expect(shown!.does).toBe('harm');
    expect(shown!.unknown).toBe(shown!.mates[0]!.meets.filter(({ unknown }) => unknown).length);
  });

  it.each(EXAMPLES)('is marked where it was counted: %s', (name) => {
    const its = example(name).view;
    const unjudged = entriesIn(its, ALL_PLUGS).filter(({ does }) => does === 'unknown');
    for (const { id } of unjudged.slice(0, 12)) {
      const { shown } = whatIfPicture(its, { of: ALL_PLUGS, case: id })!;
      expect(shown!.mates.some(({ meets }) => meets.some(({ unknown }) => unknown))).toBe(true);
    }
  });
});

/** A ground along the ribbon stands on +5 V through one pair of pins, and takes it to the lines under all the others. */
const OVER = UNKEYED.replace(/port J1 on H10 \{[\s\S]*?\}/g, (port) =>
  port.replace(
    /\{[\s\S]*\}/,
    '{\n 1, 3, 5, 7, 9 = GND by trace\n 2 = L0 by trace\n 4 = L1 by trace\n 6 = L2 by trace\n 8 = spare by trace\n 10 = +5V by meter\n}',
  ),
);

describe('what comes about through several contacts', () => {
  const over = viewIn(OVER);
  const { shown } = pictureOf(over, 'W1 at LAMPS.J1', 'W1 one row over at LAMPS.J1');

  it('is told where it is suffered, and by way of which contacts it gets there', () => {
    const harm = shown!.harms.find(({ by, says }) => by !== '' && says.includes('L0'))!;
    expect(harm.through).toBe(`${harm.by} and W1 conductor 2 on LAMPS.J1.1`);
    const [mate] = shown!.mates;
    const at = mate!.meets.filter(({ tells }) => tells.some((i) => shown!.harms[i] === harm));
    expect(at.map(({ plug, socket }) => [plug, socket])).toEqual([[1, 0]]);
    const text = whatIfSvg(whatIfPicture(over, { of: 'W1 at LAMPS.J1', case: shown!.id })!);
    expect(text.replace(/(<[^>]*>|\s)+/g, ' ')).toContain(`by way of ${harm.by}`);
  });

  it('is prevented by what is said to cost least', () => {
    expect(shown!.against).toMatch(/^Against the \d+ harmful ways of H10: a wall .* cost no contact$/);
  });

  it('is what two contacts do by themselves where these are enough', () => {
    for (const { by, through } of pictureOf(view, 'CPU', 'CPU turned in CAGE.1').shown!.harms) {
      expect(by).toBe('');
      expect(through).toMatch(/^CPU\.edge\.\w+ on CAGE\.1\.\w+$/);
    }
  });
});

describe('what is told beside the contacts', () => {
  it('is never cut', () => {
    for (const its of [view, viewIn(OVER), example('as-found').view])
      for (const { id } of entriesIn(its, ALL_PLUGS).slice(0, 20)) {
        const picture = whatIfPicture(its, { of: ALL_PLUGS, case: id })!;
        const told = [
          ...whatIfSvg(picture).matchAll(
            /class="(?:wrong|told|quiet)"[^>]*>(?:<title>[^<]*<\/title>)?([^<]*)</g,
          ),
        ];
        expect(told.map(([, text]) => text).filter((text) => text!.endsWith('…'))).toEqual([]);
      }
  });
});

describe('keys', () => {
  const keyed = (lines: string) =>
    viewIn(UNKEYED.replace('  ends     closed\n', `  ends     closed\n${lines}`));

  it('are offered where they prevent the case, in words', () => {
    const { shown } = pictureOf(view, 'CPU', 'CPU turned in CAGE.1');
    expect(shown!.key?.title).toMatch(/^add `key between .*` to E16$/);
    expect(shown!.against).toBe(
      'Against the 4 harmful ways of E16: a key between 2 and 3 of E16 prevents all 4',
    );
  });

  it('stand in the way where no slot lies over them', () => {
    const { shown } = pictureOf(keyed('  key between 2, 3\n'), 'CPU', 'CPU turned in CAGE.1');
    expect(shown!.state).toBe('prevented');
    expect(shown!.key).toBeUndefined();
    const { keys, slots } = shown!.mates[0]!;
    // Through both rows of the edge.
    expect(keys.map(({ between, stands }) => [between, stands])).toEqual([
      ['2 3', true],
      ['2 3', true],
    ]);
    expect(keys.map(({ line }) => line)).toEqual([1.5, 10.5]);
    expect(slots.map(({ line }) => line)).toEqual([5.5, 14.5]);
  });

  it('let in what has a slot for them', () => {
    const { shown } = pictureOf(keyed('  key between 4, 5\n'), 'CPU', 'CPU turned in CAGE.1');
    expect(shown!.state).toBe('open');
    expect(shown!.mates[0]!.keys.every(({ stands }) => !stands)).toBe(true);
  });

  it('are plugged holes that stand on pins', () => {
    const pulled = viewIn(
      UNKEYED.replace('  numbers  zigzag\n', '  numbers  zigzag\n  pulled 4\n  plugged 4\n'),
    );
    const picture = pictureOf(pulled, 'W1 at LAMPS.J1', 'W1 turned at LAMPS.J1');
    expect(picture.shown!.state).toBe('prevented');
    expect(meetings(picture).filter((one) => one.includes('blocked'))).toEqual(['4 spare blocked 7 spare']);
    const [mate] = picture.shown!.mates;
    expect(mate!.plugContacts[3]!.state).toBe('plugged');
    expect(mate!.socketContacts[3]!.state).toBe('pulled');
    // The hole over the missing pin meets nothing.
    expect(mate!.meets.some(({ socket }) => socket === 3)).toBe(false);
  });
});

describe('the list', () => {
  it('goes through the open cases that do harm or that nobody can judge, or through all', () => {
    const [open, all] = (['open', 'all'] as const).map((cases) => whatIfPicture(view, { of: 'CPU', cases })!);
    expect(open!.count).toBe(open!.harmful + open!.unjudged);
    expect(all!.count).toBeGreaterThan(open!.count);
    expect([all!.harmful, all!.unjudged]).toEqual([open!.harmful, open!.unjudged]);
    expect(all!.shown!.id).toBe(open!.list[0]!.id);
  });

  it('keeps the case that is shown, also once it is prevented', () => {
    const { id } = whatIfPicture(view, { of: 'CPU' })!.shown!;
    const after = viewIn(UNKEYED.replace('  ends     closed\n', '  ends     closed\n  key between 2, 3\n'));
    const picture = whatIfPicture(after, { of: 'CPU', case: id })!;
    expect(picture.shown!.id).toBe(id);
    expect(picture.list.find((one) => one.id === id)!.says).toMatch(/, prevented$/);
  });

  it('begins with the worst where the case that was wanted is gone', () => {
    const picture = whatIfPicture(view, { of: 'CPU', case: 'RAM, CAGE.9' })!;
    expect(picture.shown!.id).toBe(picture.list[0]!.id);
  });

  it('is a part around the case where there are very many', () => {
    const its = example('tide-gauge').view;
    const all = entriesIn(its, ALL_PLUGS);
    for (const at of [0, 29, 30, 31, 500, all.length - 1]) {
      const { list, first, count } = whatIfPicture(its, { of: ALL_PLUGS, cases: 'all', case: all[at]!.id })!;
      expect(count).toBe(all.length);
      expect(list).toEqual(list.slice(0, 60));
      expect(list.map(({ id }) => id)).toEqual(all.slice(first, first + list.length).map(({ id }) => id));
      const ids = list.map(({ id }) => id);
      for (const near of [at - 1, at, at + 1]) if (all[near]) expect(ids).toContain(all[near].id);
    }
  });

  it('is empty where nothing can be plugged in wrong, and is no picture of what is not there', () => {
    const bare = viewIn('pinout 1\n');
    expect(whatIfPicture(bare, { of: ALL_PLUGS })).toMatchObject({
      list: [],
      count: 0,
      harmful: 0,
      unjudged: 0,
    });
    expect(whatIfPicture(view, { of: 'RAM' })).toBeUndefined();
  });
});
