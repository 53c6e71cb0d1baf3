import { describe, expect, it } from 'vitest';
import { lensesIn } from '../../../src/editing/code-lens.ts';
import { benchText } from '../../support/bench.ts';
import { opened } from '../../support/project.ts';

/** `bus B on E40: 40 contacts: …`, and where a click leads, as lines of the text. */
function lenses(text: string): string[] {
  const { project, file } = opened(text);
  const line = (offset: number): number => text.slice(0, offset).split('\n').length;
  return lensesIn(project.of(file)!, file).map(({ from, to, title, places }) => {
    const goes = places.length > 0 ? ` → ${places.map((one) => line(one.from))}` : '';
    return `${text.slice(from, to)}: ${title}${goes}`;
  });
}

const TEXT = benchText({
  bus: '  3 = /RD by trace\n  4..7 = unknown',
  cards: {
    CPU: 'drives /RD with 74LS244\nport J1 on IDC10 {\n  1..10 = GND\n}',
    RAM: 'receives /RD with 74LS\nport J1 on IDC10 {\n  1..10 = GND\n}',
    LAST: '',
  },
  fitted: '  1 = CPU\n  2 = RAM as RAM-A\n  3 = RAM as RAM-B\n  4 = empty',
  more: 'ribbon W1 10 way {\n  end CPU.J1 stripe 1\n  end RAM-A.J1 stripe 1 found unplugged\n}',
});

describe('lensesIn', () => {
  it('shows how far each block has come, and leads to where it is said', () => {
    expect(lenses(TEXT)).toEqual([
      'bus B on E40: 40 contacts: 3 known, 4 unknown, 33 unsaid (7 %) → 18',
      'bus B on E40: 1 note → 14',
      'backplane CAGE: 4 slots: 3 fitted, 1 empty → 51,52,53,54',
      'card CPU: fitted in CAGE.1 → 51',
      'card RAM: fitted twice: RAM-A in CAGE.2, RAM-B in CAGE.3 → 52,53',
      'card LAST: not fitted',
      'fitted CAGE: no findings on its 3 boards',
      'ribbon W1 10 way: CPU.J1 to RAM-A.J1 (unplugged) → 30,39',
    ]);
  });

  it('counts the findings on the boards of a backplane, and on how many of them', () => {
    const text = TEXT.replace('receives /RD with 74LS', 'drives /RD with 74LS04');
    expect(lenses(text).find((one) => one.startsWith('fitted'))).toBe(
      'fitted CAGE: 2 errors, 1 note on 3 of 3 boards → 29,38,38',
    );
  });

  it('says where a board is loose', () => {
    expect(lenses('card A {\n  takes +5V 1 A\n}\nloose A')).toEqual(['card A: loose, outside any slot → 4']);
  });

  it('leaves names as they are written, and short enough to read', () => {
    const ribbon = (place: string) => `pinout 1\nribbon W1 4 way {\n  end unknown "${place}"\n}\n`;
    expect(lenses(ribbon('$(zap) there'))).toEqual(['ribbon W1 4 way: $(zap) there']);
    const [long] = lenses(ribbon('x'.repeat(10_000)));
    expect(long!.length).toBeLessThan(300);
  });
});
