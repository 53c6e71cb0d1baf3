import { expect, test } from 'vitest';
import { indexNets } from '../../../src/analysis/nets.ts';
import { keyPlansOf } from '../../../src/analysis/wrong-mating/plans.ts';
import { wrongMatingOf } from '../../../src/analysis/wrong-mating/wrong-mating.ts';
import { mismateText } from '../../../src/reports/mismate.ts';
import { judgedCases } from '../../../src/reports/mismate-entries.ts';
import { mismateJson } from '../../../src/reports/mismate-json.ts';
import { machineOf } from '../../support/machine.ts';

function reportsOf(text: string, of?: string): { text: string; json: string } {
  const { machine } = machineOf(text);
  const view = { machine, nets: indexNets(machine) };
  const wrongMating = wrongMatingOf(machine);
  const judged = judgedCases(
    wrongMating,
    wrongMating.cases().filter(({ plug }) => of === undefined || plug.name === of),
  );
  const plans = keyPlansOf(machine, wrongMating);
  const same = (one: string): string => one;
  const paint = { severity: (_: string, one: string) => one, strong: same, faint: same };
  const asked = { view, wrongMating, judged, plans, title: 'box.pinout', paint, columns: 200 };
  return {
    text: mismateText(of === undefined ? asked : { ...asked, of }),
    json: mismateJson(view, wrongMating, judged, plans),
  };
}

/** Text in one line: where lines are broken is no matter here. */
const flat = (text: string): string => text.replace(/\s+/g, ' ');

/** A cage of three slots; rails and grounds stand so that a turned board gets +12V on its logic. */
const box = (slots: string, connector = 'ends closed'): string => `pinout 1
supply PSU {
  rail +5V 5 V max 3 A
  rail +12V 12 V max 1 A
  ground GND
}
connector EDGE14 {
  shape edge 2 x 7
  numbers 1..7, A..H
  ${connector}
}
bus MAIN on EDGE14 {
  1, A = GND by trace
  2, B = +5V by trace
  3, C = +12V by trace
  4..7 = D0..D3 by trace
  D..F = D4..D6 by trace
  H = D7 by trace
}
backplane BOX {
  slots 1..3 on MAIN ${slots}
  feed GND from PSU at 1
  feed +5V from PSU at 2
  feed +12V from PSU at 3
}
card MEMORY {
  edge on MAIN
  takes +5V 1 A
  transceives D0..D7 with 74LS245
}
card CPU {
  edge on MAIN
  takes +5V 1 A
  takes +12V 100 mA
  transceives D0..D7 with 74LS245
}
fitted BOX {
  1 = CPU
  2 = MEMORY as MEM-A
  3 = MEMORY as MEM-B
}
`;

test('one cause is one block: a board in all slots, boards of one card together; what ends otherwise is told in a line', () => {
  const { text } = reportsOf(box('', 'ends open'));
  const entries = text.split('\n').filter((line) => /^\d [a-z ]+ {2}/.test(line));
  expect(entries).toEqual([
    '1 dies at once  CPU skewed by half a contact or shifted by one or two contacts in BOX.1..3',
    '1 dies at once  MEM-A and MEM-B skewed by half a contact or shifted by one or two contacts in BOX.1..3',
  ]);
  expect(flat(text)).toMatch(
    /others: \d+ more ways in BOX\.1\.\.3, among them .*2 floats, CPU [^:]* in BOX\.1: CPU gets a rail but no ground/,
  );
});

test('an entry says what meets what, what dies, what to do, and what a meter shows', () => {
  const { text } = reportsOf(box(''));
  const [, entry = ''] = text.split('NOTHING THAT THE FILE SAYS PREVENTS THESE');
  expect(flat(entry)).toMatch(/meets: .*, which stands 5\.5 V \(CPU\.edge\.\w+ on BOX\.1\.\w+\)/);
  expect(flat(entry)).toMatch(/dies: [^:]*CPU \([^)]*74LS245/);
  expect(entry).not.toContain('guard:');
  expect(entry).toMatch(/do: +mark the component side/);
  expect(flat(entry)).toMatch(/meter: before power, \S+ must not ring to \+12V of PSU/);
});

test('no more than two meetings are told, the rest is counted', () => {
  const { text } = reportsOf(box(''));
  const [first = ''] = text
    .split('NOTHING THAT THE FILE SAYS PREVENTS THESE')[1]!
    .split('\n\n')
    .filter(Boolean);
  const told = first.slice(first.indexOf('meets:'), first.indexOf('dies:'));
  expect(flat(told)).toMatch(/; and 10 more /);
  expect(flat(told).match(/ on BOX\.|gets a rail but no ground/g)).toHaveLength(2);
});

test('the key that is lacking is told in plain words, and keeps out what it says', () => {
  const { text } = reportsOf(box(''));
  const [, key, all] =
    /EDGE14, \d+ harmful ways: a key between (\w+ and \w+) of EDGE14 prevents all (\d+)/.exec(text)!;
  const open = (from: string): string => / open (\d+)$/m.exec(from)![1]!;
  expect(all).toBe(open(text));
  const keyed = reportsOf(box('', `ends closed\n  key between ${key!.replace(' and ', ', ')}`)).text;
  expect(open(keyed)).toBe('0');
  expect(keyed).not.toContain('WHAT WOULD HELP MOST');
});

test('what guards prevent is summed in a few lines, with the worst that it would do', () => {
  const { text } = reportsOf(box('guides'));
  const [head, prevented = ''] = text.split('\nPREVENTED\n');
  expect(head).not.toContain('NOTHING THAT THE FILE SAYS');
  expect(flat(prevented)).toMatch(
    /prevented by the card guides: \d+ ways, the worst would be CPU turned in BOX\.1 \(1 dies at once\): /,
  );
});

test('the last line counts', () => {
  const { text, json } = reportsOf(box('guides'));
  const { cases, summary } = JSON.parse(json);
  expect(text.trimEnd().split('\n').at(-1)).toBe(
    `cases ${summary.cases}, harmful ${summary.harmful}, prevented ${summary.prevented}, open ${summary.open}`,
  );
  const harmful = cases.filter((one: { harmful: boolean }) => one.harmful);
  const prevented = harmful.filter((one: { verdict: string }) => one.verdict === 'prevented');
  expect(summary).toEqual({
    cases: cases.length,
    harmful: harmful.length,
    prevented: prevented.length,
    open: harmful.length - prevented.length,
    unjudged: 0,
  });
  expect(prevented.length).toBeGreaterThan(0);
});

test('of one board every way is told, the prevented ones too', () => {
  const { text } = reportsOf(box('guides'), 'MEM-A');
  expect(text).toContain('Every wrong way to plug in MEM-A of box.pinout.');
  expect(text).not.toContain('CPU turned');
  const [, every = ''] = text.split('EVERY OTHER WAY');
  expect(flat(every)).toMatch(/MEM-A turned in BOX\.1\.\.3: 1 dies at once; prevented by the card guides: /);
  expect(flat(every)).toContain(
    'MEM-A put into BOX.1 and BOX.3, a slot that is not its own: no harm; nothing that the file says prevents it',
  );
});

/** Two headers and a ribbon between them; `wall` round both, `bump` on both plugs. */
const ribbon = (
  wall: string,
  ends: string,
  lines = '1 = +5V\n3, 5, 7, 9 = GND\n2, 4, 6, 8, 10 = Q0..Q4',
): string => `
pinout 1
supply PSU {
  rail +5V 5 V max 3 A
  ground GND
  port P1 on IDC10 {
    ${lines}
  }
}
connector IDC10 {
  shape header 2 x 5
  numbers zigzag
  pitch 2.54 mm
  ${wall}
}
card PANEL {
  takes +5V 100 mA at J1
  receives Q0..Q4 with 74LS at J1
  port J1 on IDC10 {
    1 = +5V
    3, 5, 7, 9 = GND
    2, 4, 6, 8, 10 = Q0..Q4
  }
}
loose PANEL
ribbon W1 10 way {
  end PSU.P1 stripe 1 ${ends}
  end PANEL.J1 stripe 1 ${ends}
}
`;

test('a guard of which one half is not said stands under a heading of its own, with what to look at', () => {
  const { text } = reportsOf(ribbon('shroud notch', ''));
  const [, unsaid = ''] = text.split('PREVENTED ONLY IF WHAT NOBODY SAYS IS THERE: go and look');
  expect(unsaid).toMatch(/^\d [\w ]+ {2}W1 turned at PSU\.P1$/m);
  expect(flat(unsaid)).toContain('look whether the plug of W1 at PSU.P1 has a bump, and if so write `bump`');
  expect(/ open (\d+)$/m.exec(text)![1]).not.toBe('0');
  expect(reportsOf(ribbon('shroud notch', 'bump')).text).toMatch(/ open 0\n$/);
});

test('a header is told off in pairs of pins, and which pins to pull where', () => {
  const { text } = reportsOf(ribbon('', ''));
  expect(flat(text)).toMatch(/W1 .*shifted by one or two pairs of pins/);
  expect(flat(text)).toMatch(
    /IDC10 \(PSU\.P1 and PANEL\.J1\), \d+ harmful ways: a wall with a notch round the pins of each IDC10/,
  );
});

test('what meets contacts that nobody knows cannot be judged, and is never called harmless', () => {
  const unknown = ribbon('', '', '1..10 = unknown').replaceAll(
    '3, 5, 7, 9 = GND\n    2, 4, 6, 8, 10 = Q0..Q4',
    '2..10 = spare',
  );
  const { text, json } = reportsOf(unknown);
  expect(flat(text)).toMatch(/W1, \d+ ways at PSU\.P1 and PANEL\.J1: up to 1 unknown contact met/);
  const { cases, summary } = JSON.parse(json);
  const left = cases.filter(
    (one: { harmful: boolean; unknown: number }) => !one.harmful && one.unknown === 0,
  );
  expect(text).toContain(`\n${left.length} ways count as harmless`);
  expect(left.length).toBeLessThan(cases.length);
  expect(summary.unjudged).toBe(cases.length - left.length - summary.harmful);
  expect(text).toContain(
    `\ncannot be judged ${summary.unjudged}: find out first what 1..10 of PSU.P1 are, which 11 of them meet\ncases `,
  );
});

test('a file in which nothing can be plugged in says so', () => {
  expect(reportsOf('pinout 1\n').text).toBe(
    'Every wrong way to plug in the boards, ribbons and cables of box.pinout.\n\n' +
      'The file knows no board, ribbon or cable that could be plugged in wrongly.\n' +
      'cases 0, harmful 0, prevented 0, open 0\n',
  );
});

test('a board without an edge names what is plugged into it', () => {
  expect(reportsOf(ribbon('', ''), 'PANEL').text).toContain(
    'PANEL goes into no socket that the file knows; ask for what is plugged into it: W1.',
  );
});

test('json: the documented fields; every harmful case tells its worst harm first', () => {
  const { cases, keys } = JSON.parse(reportsOf(box('')).json);
  for (const one of cases) {
    expect(Object.keys(one)).toEqual([
      'plug',
      'kind',
      'end',
      'also',
      'place',
      'fault',
      'way',
      'verdict',
      'by',
      'rank',
      'harmful',
      'unknown',
      'harms',
    ]);
    if (one.harmful) expect(one.harms[0].rank).toBe(one.rank);
    else expect(one.harms).toEqual([]);
  }
  const turned = cases.find((one: { fault: string }) => one.fault === 'turned');
  expect(Object.keys(turned.harms[0])).toEqual([
    'kind',
    'rank',
    'contacts',
    'power',
    'other',
    'board',
    'part',
    'text',
    'also',
  ]);
  expect(keys).toEqual([
    {
      connector: 'EDGE14',
      open: expect.any(Number),
      prevents: keys[0].open,
      sets: [{ on: [], keys: [[expect.any(String), expect.any(String)]] }],
    },
  ]);
});

test('a ribbon crimped on wrong: what to look at, at one end and at two', () => {
  const { text } = reportsOf(ribbon('', '').replaceAll(' stripe 1', ''), 'W1');
  expect(text).toContain('W1 crimped on turned at PSU.P1 and at PANEL.J1: ');
  expect(flat(text)).toContain(
    'do: look which contact the striped edge of W1 meets at PSU.P1, and write it as `stripe 1` at that end; the same for W1 at PANEL.J1',
  );
  expect(flat(text)).toContain(
    'W1 at PSU.P1, turned and one row over, straight or shifted by one or two pairs of pins: ',
  );
});

test('what would help most comes first, right after the ranks', () => {
  const { text } = reportsOf(box(''));
  expect(text.indexOf('WHAT WOULD HELP MOST')).toBeGreaterThan(text.indexOf('6 strains an output'));
  expect(text.indexOf('WHAT WOULD HELP MOST')).toBeLessThan(text.indexOf('NOTHING THAT THE FILE SAYS'));
});

test('all ways of one ribbon at one kind of header are one block; of one plug each way is told, once', () => {
  const { text } = reportsOf(ribbon('', ''));
  expect(text.match(/^\d [a-z ]+ {2}W1 /gm)).toHaveLength(1);
  expect(flat(text)).toMatch(/others: \d+ more ways at PANEL\.J1 and PSU\.P1, among them \d /);
  const { text: each, json } = reportsOf(ribbon('', ''), 'W1');
  const told = flat(each).split(/ (?=\d [a-z ]+, W1 )/);
  expect(new Set(told).size).toBe(told.length);
  const { cases } = JSON.parse(json);
  const kinds = new Set(
    cases.flatMap((one: { harmful: boolean; verdict: string; harms: { text: string }[] }) =>
      one.harmful && one.verdict === 'open' ? [one.harms[0]!.text] : [],
    ),
  );
  expect(kinds.size).toBeGreaterThan(1);
  for (const kind of kinds) expect(flat(each)).toContain(kind);
});

test('one look at the ends of a kind of socket settles it for boards of all cards', () => {
  const { text } = reportsOf(box('', ''));
  const [, unsaid = ''] = text.split('PREVENTED ONLY IF WHAT NOBODY SAYS IS THERE: go and look');
  expect(unsaid.match(/look whether the ends/g)).toHaveLength(1);
  expect(flat(unsaid)).toMatch(/for it; the same for BOX\.2 and BOX\.3;/);
});

test('boards whose slots say nothing of guides are asked for them, where guides would help', () => {
  const ask = 'say `guides` on the `slots` line if there are card guides';
  expect(flat(reportsOf(box('')).text)).toContain(ask);
  expect(flat(reportsOf(box('guides')).text)).not.toContain(ask);
  expect(flat(reportsOf(ribbon('', '')).text)).not.toContain(ask);
});

test('straight and turned into a slot that is not its own are told as two ways', () => {
  const other = `${box('guides').replace(
    'fitted BOX',
    `bus SIDE on EDGE14 {
  1..7, A..H = unknown
}
backplane RACK {
  slots 1..2 on SIDE
}
fitted BOX`,
  )}`;
  const { text } = reportsOf(other, 'CPU');
  expect(text).not.toContain(', ;');
  expect(text).toMatch(/CPU put into RACK\.1 and RACK\.2, straight; turned: /);
});
