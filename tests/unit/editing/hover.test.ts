import { describe, expect, it } from 'vitest';
import { hoverAt } from '../../../src/editing/hover.ts';
import { code } from '../../../src/editing/markdown.ts';
import type { Files } from '../../support/machine.ts';
import { opened } from '../../support/project.ts';

/** What is shown at the cursor, and the text that it is about. */
function hovered(files: Files): { about: string; markdown: string } | undefined {
  const { project, file, offset, texts } = opened(files);
  const hover = hoverAt(project.of(file)!, file, offset);
  return hover && { about: texts.get(file)!.slice(hover.from, hover.to), markdown: hover.markdown };
}

const markdown = (files: Files): string | undefined => hovered(files)?.markdown;

/** A small rack; the marker `@` in a replaced piece becomes the cursor. */
const RACK = `pinout 1
title "Tide gauge"
supply PSU {
  rail +5V 5 V 2 % max 4 A by silkscreen
  rail -12V -12 V max 500 mA
  ground GND
}
connector E10 {
  shape edge 1 x 10
  numbers 1..10
  pitch 3.96 mm
  contact 3 A 20 mohm
  key between 4, 5
}
connector IDC4 {
  shape header 2 x 2
  numbers zigzag
}
bus MAIN on E10 {
  1 = GND by silkscreen
  2 = +5V by meter 2026-05-02
  3..4 = D0..D1 by trace
  5 = /IRQ wired-or by guess
  6 > 7 = GRANT by trace
  8 = unknown
  9 = -12V by meter
}
backplane CAGE {
  slots 1..4 on MAIN pitch 25.4 mm guides
  feed GND from PSU at 1
  feed +5V from PSU at 2 by "lugs"
  terminate D0..D1 220 ohm to +5V, 330 ohm to GND after 4 by trace
  pull-up /IRQ 1 kohm to +5V after 4
}
card CPU "Processor" {
  edge on MAIN
  takes +5V 1.5 A by meter
  transceives D0..D1 with 74LS245
  receives /IRQ with 74LS
  starts GRANT
  part U1 with 4116 -5V 3 mA
  untouched rest
}
card RAM {
  edge on MAIN {
    8 = TICK by trace
  }
  takes +5V 500 mA
  transceives D0..D1 with 74LS245
  pulls /IRQ with 7406
  passes GRANT
  port J1 on IDC4 {
    1..2 = GND
    3..4 = Q0..Q1
  }
  drives Q0..Q1 with 74LS244 at J1
}
fitted CAGE {
  1 = CPU date 8327
  2 = RAM as RAM-A
  3 = empty bridge GRANT
}
loose RAM as SPARE
ribbon W1 4 way 28 AWG {
  end RAM-A.J1 stripe 1
  end SPARE.J1 stripe 4 found unplugged
}
`;

/** The rack with the cursor inside the first place where a text stands, behind its first `at` characters. */
const at = (piece: string, offset = 0): string => {
  const from = RACK.indexOf(piece);
  if (from < 0) throw new Error(`no ${piece}`);
  return `${RACK.slice(0, from + offset)}|${RACK.slice(from + offset)}`;
};

describe('hover of a name', () => {
  it('shows a line: who drives and hears it, its load, its ends, its contacts, who says so', () => {
    expect(hovered(at('D0..D1 by'))).toEqual({
      about: 'D0..D1',
      markdown: `**\`D0\`** line · 6 contacts

- **driven by** \`CPU\`, \`RAM-A\` with \`74LS245\`, three-state
- **heard by** \`CPU\`, \`RAM-A\` with \`74LS245\`
- **low** \`CPU\` must sink 19.6 mA of 24 mA at 0.5 V (82 %): terminator after slot 4 of CAGE 19.4 mA, 74LS245 on RAM-A 200 uA
- **high** \`CPU\` has nothing to give, rated 3 mA at 2.4 V: 74LS245 on RAM-A 20 uA, terminator after slot 4 of CAGE -4.09 mA
- **terminated** 220 ohm to \`+5V\`, 330 ohm to \`GND\` after slot 4 of CAGE: trace
- **contacts** slots 1..4 of \`CAGE\` on \`3\`; \`edge\` of \`CPU\`, \`RAM-A\` on \`3\`
- \`MAIN\` says \`D0\`: trace
- both lines of the vector are alike`,
    });
  });

  it('shows the member of a vector that the pointer is nearer to', () => {
    expect(markdown(at('D0..D1 by', 5))).toContain('**`D1`** line');
    expect(markdown(at('D0..D1 with', 1))).toContain('**`D0`** line');
  });

  it('shows a wired line with its pull-up and its guess', () => {
    expect(markdown(at('/IRQ with'))).toBe(`**\`/IRQ\`** line · 6 contacts

- **driven by** \`RAM-A\` with \`7406\`, open-collector
- **heard by** \`CPU\` with \`74LS\`
- **low** \`RAM-A\` must sink 5.1 mA of 16 mA at 0.4 V (32 %): pull-up after slot 4 of CAGE 4.7 mA, 74LS on CPU 400 uA
- **pull-up** 1 kohm to \`+5V\` after slot 4 of CAGE: not said
- **contacts** slots 1..4 of \`CAGE\` on \`5\`; \`edge\` of \`CPU\`, \`RAM-A\` on \`5\`
- \`MAIN\` says \`/IRQ\`, wired-or: guess`);
  });

  it('shows a rail: its source and rating, what takes it and the sum', () => {
    expect(markdown(at('+5V 5 V'))).toBe(`**\`+5V\`** rail · 5 V ± 2 % · 6 contacts

- **from** \`PSU.+5V\`, rated 4 A: silkscreen
- **taken** 2 A of 4 A (50 %)

| board | takes | known by |
| --- | --- | --- |
| \`CPU\` | 1.5 A | meter |
| \`RAM-A\` | 500 mA | not said |

- **contacts** slots 1..4 of \`CAGE\` on \`2\`; \`edge\` of \`CPU\`, \`RAM-A\` on \`2\`
- \`MAIN\` says \`+5V\`: meter 2026-05-02`);
  });

  it('shows a rail that a board makes, and what its chips draw', () => {
    const made = RACK.replace('part U1 with', 'makes -|5V from +5V with 7905\n  part U1 with');
    expect(markdown(made)).toBe(`**\`-5V\`** rail · -5 V · 0 contacts

- **made** on \`CPU\` from \`+5V\` with \`7905\`, rated 1 A: not said
- chips on the board draw 3 mA
- no contact carries it`);
  });

  it('shows each rail by its own voltage where two are joined', () => {
    const joined = at('-12V -12 V').replace('  ground GND', '  ground GND\n  strap +5V, -12V');
    expect(markdown(joined)).toContain('**`-12V`** rail · -12 V');
    expect(markdown(joined)).toContain('**from** `PSU.+5V`');
    expect(markdown(joined)).toContain('- **taken** 2 A\n');
  });

  it('says where a rail goes nowhere', () => {
    expect(markdown(at('-12V -12 V'))).toContain('- no board takes it\n- no contact carries it');
    expect(markdown(at('-12V by meter'))).toContain('**`-12V`**');
  });

  it('shows a daisy chain slot by slot', () => {
    expect(
      markdown(at('GRANT by')),
    ).toBe(`**\`GRANT\`** daisy chain · 4 slots of \`CAGE\`, in on \`6\`, out on \`7\`

- 1: \`CPU\`, starts it
- 2: \`RAM-A\`, passes it on
- 3: empty, bridged
- 4: nothing said, does not say

- \`MAIN\` says \`GRANT\`: trace`);
  });

  it('says which nets of the same name are apart from this one', () => {
    expect(markdown(at('Q0..Q1 with'))).toBe(`**\`Q0\`** line · 1 contact

- **driven by** \`RAM-A\` with \`74LS244\`, three-state
- **contacts** \`RAM-A.J1\` on \`3\`; by \`W1 conductor 3\`
- \`RAM\` says \`Q0\`: not said
- 1 more net called \`Q0\`, joined to this one by nothing: at \`SPARE.J1.3\`
- both lines of the vector are alike`);
  });

  it('says which lines of a vector are not like the one shown', () => {
    const other = at('D0..D1 by').replace('terminate D0..D1', 'terminate D0');
    expect(markdown(other)).toContain('of the 2 lines of the vector, not like this one: `D1`');
  });

  it("shows the net of a chip's pin", () => {
    const wired = RACK.replace('passes GRANT', 'passes GRANT\n  wire U3.|4 to J1.4 by trace "red"');
    expect(markdown(wired)).toContain('**`U3.4`** line');
    expect(markdown(wired)).toContain('contacts** `RAM-A.J1` on `4`');
  });

  it('says what is known of a name that no contact carries', () => {
    expect(
      markdown('bus B on E {\n 1 = D|0 by trace\n}\nconnector E {\n shape row 2\n numbers 1..2\n}'),
    ).toBe('**`D0`**\n\n- `B` says `D0`: trace\n- no contact of the machine carries it');
  });
});

describe('hover of a contact', () => {
  it('shows a contact of a bus: what it is, what it meets, who says otherwise, what is beside it', () => {
    expect(hovered(at('8 = unknown'))).toEqual({
      about: '8',
      markdown: `**\`8\`** · \`unknown\`, not said

- in 4 slots, 1..4 of \`CAGE\`
- meets the fingers of \`CPU\`, \`RAM-A\`
- \`RAM-A\`, there said to be \`TICK\` (trace)
- beside \`7\` (\`GRANT\`), \`9\` (\`-12V\`)
- contact of \`E10\`: row 1, position 8`,
    });
  });

  it('shows one contact by its path, with the conductor that it meets and where that leads', () => {
    const plugged = RACK.replace(' found unplugged', '');
    expect(markdown(`${plugged}readings cards in power off {\n  RAM-A.J1.|3 to GND = open\n}\n`)).toBe(
      `**\`RAM-A.J1.3\`** · \`Q0\`, not said

- by ribbon with \`W1 conductor 3\` to \`SPARE.J1.2\`
- beside \`1\` (\`GND\`), \`4\` (\`Q1\`)
- contact of \`IDC4\`: row 1, position 2`,
    );
  });

  it("shows the contact that a ribbon's stripe meets", () => {
    expect(markdown(at('stripe 4', 7))).toContain('**`SPARE.J1.4`** · `Q1`');
  });

  it('says where a slip of the probe does harm', () => {
    expect(markdown(at('2 = +5V'))).toContain('- a slip of the probe to `1` shorts the rail: 5 V');
  });

  it('says which ribbon belongs to a contact and was found unplugged', () => {
    const text = `${RACK}readings cards in power off {\n  SPARE.J1.|3 to GND = open\n}\n`;
    expect(markdown(text)).toContain('- `W1` belongs here and was found unplugged');
  });
});

describe('hover of a thing', () => {
  it.each([
    [
      'PSU {',
      `**\`PSU\`** supply · 2 rails

| rail | volts | rated | taken | known by |
| --- | --- | --- | --- | --- |
| \`+5V\` | 5 V ± 2 % | 4 A | 2 A | silkscreen |
| \`-12V\` | -12 V | 500 mA |  | not said |

- ground \`GND\``,
    ],
    [
      'E10 {',
      `**\`E10\`** connector · edge 10, 10 contacts

- pitch 3.96 mm
- each contact 3 A, 20 mohm
- key between \`4\`, \`5\`
- on \`bus MAIN\``,
    ],
    [
      'MAIN on E10',
      `**\`MAIN\`** bus on \`E10\` · 10 contacts, 80 % known

- slots 1..4 of \`CAGE\`
- made for it: \`CPU\`, \`RAM\`
- daisy chains \`GRANT\``,
    ],
    [
      'CAGE {',
      `**\`CAGE\`** backplane · 4 slots: 2 fitted, 1 empty, 1 unsaid

- bus \`MAIN\`
- pitch 25.4 mm
- fed \`PSU.GND\`, \`PSU.+5V\`
- 2 lines of terminators and pull-ups`,
    ],
    [
      'CPU "Processor"',
      `**\`CPU\`** card · Processor

- edge \`MAIN\`
- takes \`+5V\` 1.5 A
- drives 2 lines, hears 3
- parts \`4116\`
- fitted in CAGE.1`,
    ],
    [
      'RAM-A\n',
      `**\`RAM-A\`** board, a \`RAM\`

- slot 2 of \`CAGE\`
- edge \`MAIN\`
- ports \`J1\` (\`IDC4\`)
- takes \`+5V\` 500 mA
- drives 5 lines, hears 2
- may do more than is said: no \`untouched rest\``,
    ],
    [
      'J1 on IDC4',
      `**\`RAM.J1\`** \`IDC4\`, header 2 x 2 · 4 contacts, 100 % known

- \`W1\` plugged in
- \`W1\` found unplugged at \`SPARE.J1\`
- nothing keys it`,
    ],
    [
      'W1 4 way',
      `**\`W1\`** ribbon · 4 way, 28 AWG, length not said

- RAM-A.J1 to SPARE.J1 (unplugged)
- \`RAM-A.J1\`: stripe at \`1\`
- \`SPARE.J1\`: stripe at \`4\``,
    ],
    [
      '3 = empty',
      `slot **\`3\`** of \`CAGE\` · empty

- carries \`MAIN\`
- bridged \`GRANT\`
- pitch 25.4 mm, guides`,
    ],
  ])('sums up %s', (place, expected) => {
    expect(markdown(at(place))).toBe(expected);
  });
});

describe('hover of a part', () => {
  it('shows what a logic part does to a line, and where its figures come from', () => {
    expect(markdown(at('74LS244'))).toBe(`**\`74LS244\`** octal buffer

- family \`74LS\`
- input: 200 uA low, 20 uA high, stands -0.5 V to 7 V
- output: three-state, sinks 12 mA at 0.4 V or 24 mA at 0.5 V, gives 3 mA at 2.4 V or 15 mA at 2 V, leaks 20 uA when off
- figures: DM74LS240/241, DM74LS244, Fairchild`);
  });

  it('shows the rails of a part, and a designation with the part behind it', () => {
    expect(markdown(at('U1 with'))).toContain('**`U1`** of `CPU`\n\n**`4116`**');
    expect(markdown(at('4116'))).toContain('- rails: -5 V');
  });

  it('shows a regulator, a part of the file itself, and one that nobody knows', () => {
    const card = (line: string): string => `card A {\n  ${line}\n}\n`;
    expect(markdown(card('makes -5V from -12V with 79|05'))).toContain('- regulator: gives -5 V, up to 1 A');
    expect(markdown(`${card('drives A with HOU|SE')}part HOUSE {\n  like 74LS\n}\n`)).toContain(
      'of your own',
    );
    expect(markdown(card('drives A with NO|NE'))).toContain('**`NONE`** is not known here');
  });

  it('shows a resistor pack by its designation', () => {
    const text = RACK.replace('passes GRANT', 'passes GRANT\n  pull-up Q0..Q1 1 kohm to +5V at J1 as R|N1');
    expect(markdown(text)).toBe('**`RN1`** pull-up on `Q0`, `Q1` · 1 kohm to `+5V`');
  });
});

describe('hover of a word', () => {
  it('explains the word that begins a line, with an example', () => {
    expect(hovered(at('terminate', 4))).toEqual({
      about: 'terminate',
      markdown:
        '**`terminate`** terminators, and at which end or on which board\n\n```pinout\nterminate D0..D7 220 ohm to +5V, 330 ohm to GND after 8\n```',
    });
  });

  it('explains a word by the block that it stands in', () => {
    expect(markdown(at('part U1', 1))).toContain('chips whose rails matter');
    expect(markdown('pa|rt X {\n}')).toContain('a part of your own');
  });

  it('explains words within a line, and evidence', () => {
    expect(markdown(at('wired-or', 3))).toBe('**`wired-or`** a line that several boards pull low');
    expect(hovered(at('by guess', 5))).toEqual({
      about: 'guess',
      markdown: '**`guess`** known by guess only: to be confirmed before power is applied',
    });
  });

  it('explains quantities', () => {
    expect(hovered(at('500 mA', 1))).toEqual({ about: '500 mA', markdown: '**500 mA** current: 0.5 A' });
    expect(markdown(at('28 AWG', 1))).toBe('**28 AWG** gauge of the wire: 0.321 mm across');
    expect(markdown(at('5 V 2 %', 0))).toBe('**5 V** voltage');
  });

  it('says nothing in remarks and texts', () => {
    expect(hovered('pinout 1 # by gu|ess')).toBeUndefined();
    expect(hovered('title "by gu|ess"')).toBeUndefined();
  });
});

describe('hostile names', () => {
  const HOSTILE = ['<img src=x onerror=alert(1)>', '[x](command:y)', '``` `', '| a | b |', '**b** $(bug)'];

  it.each(HOSTILE)('are shown as they are: %s', (name) => {
    const text = RACK.replace('"Processor"', `"${name}"`)
      .replace('5 = /IRQ', `5 = "${name}"`)
      .replace('by meter 2026-05-02', `by meter "${name}" photo "${name}"`);
    // The cursor is the first pipe, so a name that holds one is looked at by an offset of its own.
    const { project, file } = opened('');
    project.set(file, text);
    const analysis = project.of(file)!;
    expect(hoverAt(analysis, file, text.indexOf(`5 = "${name}"`) + 5)?.markdown).toContain(code(name));
    for (let offset = 0; offset < text.length; offset++) {
      const shown = hoverAt(analysis, file, offset)?.markdown ?? '';
      for (const line of shown.split('\n')) {
        const outside = outsideCode(line);
        expect(outside).not.toMatch(/(?<!\\)<|(?<!\\)\]\(|(?<!\\)\$\(/);
        if (line.startsWith('|'))
          expect(cells(line)).toBe(cells(shown.split('\n').find((one) => one.startsWith('|'))!));
      }
    }
  });
});

/** A line of Markdown without its code, which shows whatever it holds. */
const outsideCode = (line: string): string => line.replace(/(?<![\\`])(`+)(?!`)(?:.*?[^`])\1(?!`)/g, '');

/** How many cells a row of a table has. */
const cells = (line: string): number => line.split(/(?<!\\)\|/).length;
