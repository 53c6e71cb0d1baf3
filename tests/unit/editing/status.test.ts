import { describe, expect, it } from 'vitest';
import { statusOf } from '../../../src/editing/status.ts';
import { benchText } from '../../support/bench.ts';
import { opened } from '../../support/project.ts';

const status = (text: string) => {
  const { project, file } = opened(text);
  return statusOf(project.of(file)!);
};

const TEXT = benchText({
  bus: '  3 = /RD by trace\n  4..30 = spare\n  31..35 = unknown',
  cards: { CPU: 'drives /RD with 74LS244', RAM: 'receives /RD with 74LS' },
  fitted: '  1 = CPU\n  2 = RAM\n  3..4 = empty',
});

describe('statusOf', () => {
  it('says on one line that there is nothing but a note, and how much is known', () => {
    expect(status(`title "Tide <gauge>"\n${TEXT}`)).toEqual({
      text: '1 note · 75 % known',
      tooltip: `**Tide \\<gauge>**

- 1 note
- 30 of 40 contacts known, 5 unknown, 5 unsaid
- 1 supply, 1 backplane, 4 slots, 2 boards`,
      worst: 'note',
    });
  });

  it('counts what was found, the worst first', () => {
    const { text, worst } = status(TEXT.replace('receives /RD', 'drives /RD').replace('2 = RAM', '2 = RAMM'));
    expect(text).toBe('1 error, 1 question · 75 % known');
    expect(worst).toBe('error');
  });

  it('goes by the file where there is no title, and by nothing where there is nothing', () => {
    expect(status('pinout 1')).toEqual({ text: 'no findings', tooltip: '**main.pinout**\n\n- no findings' });
  });
});
