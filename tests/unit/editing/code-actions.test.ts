import { describe, expect, it } from 'vitest';
import { applied } from '../../../src/editing/changes.ts';
import { type CodeAction, codeActions, fixAll } from '../../../src/editing/code-actions.ts';
import type { Files } from '../../support/machine.ts';
import { opened } from '../../support/project.ts';
import { BUS, rack } from '../checks/rail-machine.ts';

/** What is offered at the cursor, and the file as each offer leaves it. */
function offered(files: Files): { actions: CodeAction[]; text: string; after: (title: RegExp) => string } {
  const { project, file, offset, texts } = opened(files);
  const text = texts.get(file)!;
  const actions = [...codeActions(project.of(file)!, file, { from: offset, to: offset })];
  const after = (title: RegExp): string => {
    const action = actions.find((one) => title.test(one.title));
    if (action === undefined) throw new Error(`only: ${actions.map((one) => one.title).join('; ')}`);
    return applied(
      text,
      action.changes.filter((one) => one.file === file),
    );
  };
  return { actions, text, after };
}

const titles = (files: Files): string[] => offered(files).actions.map(({ title }) => title);

/** The lines of a text that another has not. */
const fresh = (after: string, before: string): string[] =>
  after.split('\n').filter((line) => !before.split('\n').includes(line));

const CARD = 'card IO {\n  edge on B\n  takes +5V 1 A\n  receives D0, SYNC with 74LS\n  untouched rest\n}';

it('offers only kinds that are wanted', () => {
  const { project, file, offset } = opened(
    rack({ plane: '  feed GND from PSU at 1', cards: CARD, fitted: '  1 = IO' }).replace(
      '2 = +5V',
      '2 = +|5V',
    ),
  );
  const analysis = project.of(file)!;
  const at = { from: offset, to: offset };
  const kinds = (wanted: string): string[] =>
    Array.from(
      codeActions(analysis, file, at, (kind) => kind === wanted),
      ({ kind }) => kind,
    );
  expect(new Set(kinds('quickfix'))).toEqual(new Set(['quickfix']));
  expect(kinds('source.fixAll')).toEqual([]);
});

describe('quick fixes', () => {
  it('mend what the cursor touches, and nothing else', () => {
    const files = rack({ plane: '  feed GND from PSU at 1', cards: CARD, fitted: '  1 = IO' });
    const at = offered(files.replace('2 = +5V', '2 = +|5V'));
    expect(at.actions[0]?.title).toBe('add `feed +5V from PSU at 2` to CAGE');
    expect(fresh(at.after(/feed/), at.text)).toEqual(['  feed         +5V                from PSU    at 2']);
    expect(titles(files.replace('1 = GND', '1 = G|ND')).filter((title) => title.includes('feed'))).toEqual(
      [],
    );
  });

  it('put a feed at the wrong contact right, where it harms and where it lacks', () => {
    const plane = '  feed GND from PSU at 1\n  feed +5V from PSU at 2\n  feed +12V from PSU at 4 by meter';
    const cards = `${CARD}\ncard CLOCK {\n  edge on B\n  takes +12V 40 mA\n}`;
    const files = rack({ plane, cards, fitted: '  1 = IO\n  2 = CLOCK' });
    for (const at of ['3 = +1|2V', 'feed +12V from PSU a|t 4']) {
      const here = offered(files.replace(at.replace('|', ''), at));
      expect(here.actions[0]?.title).toBe('write `at 3`, where the bus has +12V');
      expect(fresh(here.after(/at 3/), here.text)).toEqual([
        '  feed         +12V               from PSU    at 3  by meter',
      ]);
    }
  });

  it('are not offered where they would leave an error', () => {
    const cards = `${CARD}\ncard RAW {\n  edge on B {\n    2 = +12V by trace\n  }\n  takes +12V 1 A\n}`;
    const files = rack({ cards, fitted: '  1 = IO\n  2 = RAW' });
    // The card could take the name of its bus over; the bus, which is fed, could not take the card's.
    expect(
      titles(files.replace('2 = +12V', '2 = +1|2V')).filter((title) => title.startsWith('write')),
    ).toEqual(['write `+5V` instead of +12V at RAW.edge.2']);
  });

  it('describe the card that a slot line names', () => {
    const at = offered(rack({ cards: CARD, fitted: '  1 = IO\n  2 = DI|SK' }));
    expect(at.after(/describe card DISK/)).toContain(
      'untouched rest\n}\n\ncard DISK {\n  edge         on B\n}\n',
    );
  });

  it('describe the supply that a feed names, as far as the text knows it', () => {
    const at = offered(rack({ supply: '', plane: '  feed GND from P|SU at 1\n  feed +5V from PSU at 2' }));
    expect(fresh(at.after(/describe supply PSU/), at.text)).toEqual([
      'supply PSU {',
      '  rail    +5V    5 V',
      '  ground  GND',
    ]);
  });

  it('tell two boards of one card apart', () => {
    const at = offered(rack({ cards: CARD, fitted: '  1 = IO as A\n  2 = IO as |A' }));
    expect(fresh(at.after(/name it/), at.text)).toEqual(['  2    = IO        as IO-B']);
  });

  it('write the name that was meant', () => {
    const at = offered(
      rack({ cards: CARD, fitted: '  1 = IQ|' }).replace('card IO', 'card IOX').replace('IQ', 'IOQ'),
    );
    expect(fresh(at.after(/write `IOX`/), at.text)).toEqual(['  1    = IOX']);
  });

  it('never take out a line that the meter vouches for', () => {
    const twice = rack({ bus: `${BUS}\n  7 = |SYNC by meter` });
    expect(titles(twice).filter((title) => title.startsWith('take'))).toEqual([]);
    expect(titles(twice)).toContain('keep this line, and take the earlier one out');
  });

  it('put several changes of one finding together', () => {
    const text = rack({ cards: CARD.replaceAll('74LS', '74LX244'), fitted: '  1 = IO' });
    const at = offered(text.replace('74LX', '74L|X'));
    expect(at.actions.filter(({ preferred }) => preferred).map(({ title }) => title)).toEqual([
      'write `74LS244`',
    ]);
    expect(at.after(/write `74LS244`/)).not.toContain('74LX');
  });
});

describe('quick fixes of a file that several machines use', () => {
  const CARDS = 'card IO {\n  edge on MI|AN\n}\n';
  const rack = (bus: string): string =>
    `use "cards.pinout"\nconnector E6 {\n  shape edge 1 x 6\n}\nbus ${bus} on E6 {\n  1 = GND by meter\n}\n`;
  const fixes = (machines: Readonly<Record<string, string>>): string[][] => {
    const { project, file, offset } = opened({ ...machines, 'cards.pinout': CARDS });
    const at = { from: offset, to: offset };
    const machinesOf = (one: string) => project.machinesOf(one);
    return machinesOf(file).map((machine) =>
      [...codeActions(machine, file, at, undefined, machinesOf)]
        .map(({ title }) => title)
        .filter((title) => title.startsWith('write')),
    );
  };

  it('are offered where they are right in each', () => {
    const both = { 'rack.pinout': rack('MAIN'), 'spare.pinout': rack('MAIN') };
    expect(fixes(both)).toEqual([['write `MAIN`'], ['write `MAIN`']]);
  });

  it('are not where another machine would have an error of them', () => {
    expect(fixes({ 'rack.pinout': rack('MAIN'), 'spare.pinout': rack('MIAN') })).toEqual([[], []]);
  });

  it('are not where another machine would go on having the finding', () => {
    const [one, other] = fixes({ 'rack.pinout': rack('MAIN'), 'spare.pinout': rack('MAIM') });
    expect(one).not.toContain('write `MAIN`');
    expect(other).not.toContain('write `MAIM`');
  });

  it('are tried anew once another machine has changed', () => {
    const { project, file, offset } = opened({
      'rack.pinout': rack('MAIN'),
      'spare.pinout': rack('MIAN'),
      'cards.pinout': CARDS,
    });
    const count = (): number => {
      const [machine] = project.machinesOf(file);
      const at = { from: offset, to: offset };
      const found = codeActions(machine!, file, at, undefined, (one) => project.machinesOf(one));
      return [...found].filter(({ title }) => title === 'write `MAIN`').length;
    };
    expect([count(), count()]).toEqual([0, 0]);
    project.set('/machine/spare.pinout', rack('MAIN'));
    expect([count(), count()]).toEqual([1, 1]);
  });
});

describe('allow', () => {
  it('comes behind all fixes of all findings here, and is not the one to take', () => {
    const plane = '  feed GND from PSU at 1\n  feed +5V from PSU at 2\n  feed +12V from PSU a|t 4';
    const cards = `${CARD}\ncard CLOCK {\n  edge on B\n  takes +12V 40 mA\n}`;
    const { actions } = offered(rack({ plane, cards, fitted: '  1 = IO\n  2 = CLOCK' }));
    const fixes = actions.filter(({ kind }) => kind === 'quickfix');
    const first = fixes.findIndex(({ allows }) => allows);
    expect(first).toBeGreaterThan(0);
    expect(fixes.slice(first).every(({ allows, preferred }) => allows && !preferred)).toBe(true);
  });

  const GUESS = rack({ bus: BUS.replace('+5V by meter', '+5|V by guess'), cards: CARD, fitted: '  1 = IO' });

  it('stands before the first block, its reason to be typed', () => {
    const at = offered(GUESS);
    const action = at.actions.find(({ title }) => title.startsWith('allow'))!;
    expect(action.title).toBe('allow guess-carries-power at +5V, with the reason');
    const after = at.after(/^allow/);
    expect(after).toContain('pinout 1\nallow guess-carries-power at +5V ""\n\nsupply PSU');
    const { from, to } = action.select!;
    expect(`${after.slice(0, from)}|${after.slice(to)}`).toContain('at +5V "|"\n');
  });

  it('stands behind the last one, and silences its finding once the reason is there', () => {
    const second = offered(GUESS)
      .after(/^allow/)
      .replace('at +5V ""', 'at +5V "seen at the lugs"')
      .replace('+5V by guess', '+5|V by guess')
      .replace('+12V by meter', '+12V by guess');
    const cards = second.replace('takes +5V 1 A', 'takes +5V 1 A\n  takes +12V 1 A');
    const at = offered(cards.replace('+5|V', '+5V').replace('+12V by guess', '+12|V by guess'));
    expect(at.after(/^allow guess-carries-power at \+12V/)).toContain(
      'at +5V "seen at the lugs"\nallow guess-carries-power at +12V ""\n',
    );
    expect(at.actions.some(({ finding }) => finding?.message.startsWith('+5V'))).toBe(false);
  });

  it('stands before the remarks on the first block', () => {
    const at = offered(GUESS.replace('supply PSU', '# bottom of the rack\nsupply PSU'));
    expect(at.after(/^allow/)).toContain('""\n\n# bottom of the rack\nsupply PSU');
  });

  it('names a place that means no other finding', () => {
    const bus = BUS.replace('+5V by meter', '+5|V by guess').replace('+12V by meter', '+12V by guess');
    const cards = CARD.replace('takes +5V 1 A', 'takes +5V 1 A\n  takes +12V 1 A');
    const [title] = titles(rack({ bus, cards, fitted: '  1 = IO' })).filter((one) => one.startsWith('allow'));
    expect(title).toBe('allow guess-carries-power at +5V, with the reason');
  });

  it('names the contact of an error, not all of its rail', () => {
    const cards = `${CARD}\ncard RAW {\n  edge on B {\n    2 = +1|2V by trace\n  }\n  takes +12V 1 A\n}`;
    const [title] = titles(rack({ cards, fitted: '  1 = IO\n  2 = RAW' })).filter((one) =>
      one.startsWith('allow rail-conflict'),
    );
    expect(title).toBe('allow rail-conflict at RAW.edge.2, with the reason');
  });

  it('is not offered for errors of the language', () => {
    expect(titles(rack({ fitted: '  1 = NO|NE' })).filter((title) => title.startsWith('allow'))).toEqual([]);
  });
});

describe('all slips at once', () => {
  it('are mended, and nothing else', () => {
    const { project, file, texts } = opened(
      'supply PSU {\n  rail +5V 5 volts\n  rail +12V −12 V max 2,5 A\n}\n',
    );
    const action = fixAll(project.of(file)!, file)!;
    expect(applied(texts.get(file)!, action.changes)).toBe(
      'supply PSU {\n  rail    +5V    5 V\n  rail    +12V   -12 V   max 2.5 A\n}\n',
    );
  });

  it('are mended together where one lies within another', () => {
    const { project, file, texts } = opened(
      'supply PSU {\n  rail -12V \u221212 v\n  rail +5V 5\u00a0v\n  rail +9V 9 v\n}\n',
    );
    const action = fixAll(project.of(file)!, file)!;
    expect(applied(texts.get(file)!, action.changes)).toBe(
      'supply PSU {\n  rail    -12V   -12 V\n  rail    +5V    5 V\n  rail    +9V    9 V\n}\n',
    );
  });

  it('are nothing to do in a clean file', () => {
    const { project, file } = opened('title "clean"\n');
    expect(fixAll(project.of(file)!, file)).toBeUndefined();
  });
});
