import { describe, expect, it, test } from 'vitest';
import { BASE, behind, type Case, compared, labels, offered, within } from '../../support/completion.ts';

describe('first words', () => {
  const cases: Record<string, Case> = {
    'at file level: blocks, and lines that stand outside them': {
      text: behind('|'),
      first: ['use', 'supply', 'connector', 'bus', 'backplane', 'card'],
      has: ['loose', 'ribbon', 'cable', 'readings', 'family', 'part', 'allow', 'active-low'],
      never: ['pinout', 'title', 'drives', 'rail', 'edge', 'fitted', '='],
    },
    'an empty file begins with its version': { text: '|', first: ['pinout'], has: ['title', 'supply'] },
    'in a card: its own lines before those it shares': {
      text: behind('card DISK {\n  |\n}'),
      first: ['edge', 'edge {…}', 'takes', 'drives', 'transceives', 'receives', 'pulls'],
      has: ['strap', 'terminate', 'port', 'part', 'makes'],
      never: ['feed', 'card', 'without', 'rail'],
    },
    'half a word does not change them': { text: within('card CPU', 'dri|'), has: ['drives', 'transceives'] },
    'a line that a block has once is offered once': {
      text: within('connector EDGE12', '|'),
      has: ['pitch', 'contact', 'key'],
      never: ['shape', 'numbers'],
    },
    'a card has one edge, or several that have names': {
      text: within('card CPU', '|'),
      first: ['takes', 'drives'],
      never: ['edge', 'edge {…}'],
    },
    'a card with an edge that has a name may have another': {
      text: behind('card DISK {\n  edge P1 on MAIN\n  |\n}'),
      has: ['edge', 'edge {…}'],
    },
    'a word that stands there already is there to be written anew': {
      text: BASE.replace('edge         on MAIN', 'ed|ge         on MAIN'),
      has: ['edge'],
    },
    'the block of what is fitted, while a backplane has none': {
      text: behind('backplane OTHER {\n  slots 1..2 on MAIN\n}\n|'),
      has: ['fitted'],
    },
    'a part’s own lines, each once': {
      text: behind('part 8T99 {\n  supply 5 V\n  sinks 24 mA 0.5 V\n  |\n}'),
      has: ['sinks', 'gives', 'input'],
      never: ['supply'],
    },
    'in a board: what it lacks and what was done to it': {
      text: behind('loose GAUGE {\n  |\n}'),
      has: ['without', 'wire', 'cut', 'strap'],
      never: ['drives', 'takes'],
    },
    'in a part of one’s own': {
      text: behind('part 8T99 {\n  |\n}'),
      has: ['like', 'sinks', 'regulates'],
      never: ['rail'],
    },
    'in a supply that is not closed, and before its rails': {
      text: 'pinout 1\nsupply PSU {\n  |\n',
      first: ['rail'],
      has: ['ground', 'sense', 'order', 'port'],
      never: ['card'],
    },
  };
  test.each(Object.entries(cases))('%s', (_, one) => {
    const { found, wanted } = compared(one);
    expect(found).toEqual(wanted);
  });

  test('each tells what it says, with an example', () => {
    const takes = offered(within('card CPU', '|')).find(({ label }) => label === 'takes');
    expect(takes).toMatchObject({
      insert: 'takes ',
      retrigger: true,
      detail: 'all of a rail that enters the board',
    });
    expect(takes?.documentation).toContain('takes +5V 2.6 A');
  });

  test('where a brace is missing, the lines further out are offered behind those of the block', () => {
    const all = offered('pinout 1\ncard CPU {\n  takes +5V 1 A\n|').map(({ label }) => label);
    expect(all.indexOf('drives')).toBeGreaterThanOrEqual(0);
    expect(all.indexOf('fitted')).toBeGreaterThan(all.indexOf('drives'));
  });
});

describe('words amid a line', () => {
  const cases: Record<string, Case> = {
    'what a driver may say': {
      text: within('card CPU', 'drives D0 |'),
      first: ['with', 'three-state', 'totem-pole', 'open-collector', 'at'],
      has: ['by'],
      never: ['from', 'max', 'step', 'after', 'drives'],
    },
    'what is said is not offered again': {
      text: within('card CPU', 'drives D0 with 74LS244 |'),
      first: ['three-state'],
      never: ['with'],
    },
    'of kinds of output only one': {
      text: within('card CPU', 'drives D0 three-state |'),
      first: ['with'],
      never: ['three-state', 'totem-pole', 'open-collector'],
    },
    'a terminator sits at one end or on one board': {
      text: within('backplane CAGE', 'terminate D0 220 ohm to +5V after 4 |'),
      has: ['as', 'by'],
      never: ['after', 'before', 'at'],
    },
    'a leg has its rail': {
      text: within('backplane CAGE', 'terminate D0 220 ohm |'),
      first: ['to'],
      never: ['after'],
    },
    'what is needed comes first': { text: within('backplane CAGE', 'feed -12V |'), first: ['from', 'at'] },
    'a key may come again': {
      text: within('backplane CAGE', 'slots 5..6 on MAIN key between 1, 2 |'),
      has: ['key', 'pitch', 'guides'],
      never: ['on'],
    },
    'words of a table': {
      text: within('bus MAIN', '4 = /RD |'),
      has: ['also', 'wired-or', 'clock', 'in', 'by'],
      never: ['with'],
    },
    'in place of a name': {
      text: within('bus MAIN', '4 = |'),
      has: ['spare', 'unknown', 'private'],
      never: ['by', 'also'],
    },
    'an empty slot is bridged, not dated': {
      text: within('fitted CAGE', '2 = empty |'),
      first: ['bridge'],
      never: ['as', 'date'],
    },
    'a fitted slot is dated, not bridged': {
      text: within('fitted CAGE', '2 = CPU |'),
      first: ['as', 'date'],
      never: ['bridge'],
    },
    'a step stands behind a range only': { text: behind('cable C1 {\n  GAUGE.J1.1..7 |'), has: ['step'] },
    'and not behind a single contact': { text: behind('cable C1 {\n  GAUGE.J1.1 |'), never: ['step'] },
    'the second place of a reading': {
      text: behind('readings {\n  CAGE.1.2 |\n}'),
      first: ['to'],
      never: ['by'],
    },
    'what a reading may be': {
      text: behind('readings {\n  CAGE.1.2 to GND = |\n}'),
      first: ['open'],
      never: ['by', 'empty'],
    },
    'shapes with rows and positions': {
      text: behind('connector X {\n  shape |\n}'),
      first: ['edge', 'header'],
      has: ['din', 'dip'],
    },
    'where cards and power were': { text: behind('readings |'), first: ['cards', 'power', 'leads'] },
    'after a word that wants one of two': {
      text: behind('readings cards |'),
      first: ['in', 'out'],
      never: ['power', 'on'],
    },
    'a heading that is whole wants its brace': { text: behind('card NEW |'), first: ['{'] },
    'one text a line': { text: behind('card NEW "a board" |'), never: ['"text"'] },
    'one that is not whole does not': { text: behind('bus NEW |'), first: ['on'], never: ['{'] },
    'nor one that has it': { text: behind('card NEW | {\n}'), never: ['{'] },
    'a slip earlier on the line does not take the rest along': {
      text: within('card CPU', 'drives D0 wiht 74LS244 |'),
      has: ['with', 'three-state', 'by'],
    },
  };
  test.each(Object.entries(cases))('%s', (_, one) => {
    const { found, wanted } = compared(one);
    expect(found).toEqual(wanted);
  });

  test('a word that wants more brings its space and asks again', () => {
    const all = offered(within('card CPU', 'drives D0 |'));
    expect(all.find(({ label }) => label === 'with')).toMatchObject({ insert: 'with ', retrigger: true });
    expect(all.find(({ label }) => label === 'three-state')).toMatchObject({ insert: 'three-state' });
    expect(all.find(({ label }) => label === 'three-state')).not.toHaveProperty('retrigger');
  });
});

describe('where nothing is offered', () => {
  test.each([
    ['in a remark', within('card CPU', 'takes +5V 1 A # |')],
    ['in a line of remark', behind('# car|')],
    ['in quotes', within('card CPU', 'takes +5V 1 A "the |"')],
    ['in quotes that are not closed', within('card CPU', 'takes +5V 1 A by meter "|')],
    ['in a title', 'pinout 1\ntitle "Ti|"\n'],
    ['behind a brace', 'pinout 1\ncard CPU { |\n}\n'],
    ['in a file that is no part of the machine', 'pinout 1\n'],
  ])('%s', (_, text) => {
    expect(offered(text).filter(() => text.includes('|'))).toEqual([]);
  });
});

describe('what is taken leaves the rest of the line as it was', () => {
  const at = (marked: string) => BASE.replace(marked.replace('|', ''), () => marked);

  it('right before a comment nothing is offered: it would be run into', () => {
    expect(offered(`${BASE}|# the end\n`)).toEqual([]);
    expect(offered(behind('ribbon W1 10 way |# blue'))).toEqual([]);
  });

  it('behind a closing brace nothing is offered', () => {
    expect(offered(`${behind('supply AUX {')}} |\n`)).toEqual([]);
  });

  it('before the rest of a line no block is', () => {
    const some = offered(at('rece|ives  /RD').replace('edge      on MAIN', ''));
    expect(labels(some)).toContain('edge');
    expect(some.filter(({ insert }) => insert.includes('\n'))).toEqual([]);
    expect(offered(at('back|plane CAGE')).filter(({ insert }) => insert.includes('\n'))).toEqual([]);
  });

  it('words that the line says behind the cursor are not offered again', () => {
    const some = labels(offered(at('drives       /RD |with 74LS244').replace('/RD |', '/RD | ')));
    expect(some).toContain('at');
    expect(some).not.toContain('with');
  });
});
