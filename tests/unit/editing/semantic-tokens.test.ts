import { describe, expect, it } from 'vitest';
import { semanticTokens, type TextRange } from '../../../src/editing/semantic-tokens.ts';
import { opened } from '../../support/project.ts';

/** `+5V rail declaration`, in order. */
function tokens(text: string, range?: TextRange): string[] {
  const { project, file } = opened(text);
  return semanticTokens(project.of(file)!, file, range).map(({ from, to, type, modifiers }) =>
    [text.slice(from, to), type, ...modifiers].join(' '),
  );
}

const HEAD = `supply PSU {
  rail +5V 5 V
  ground GND
}
connector E8 {
  numbers 1..8
}
bus MAIN on E8 {
  1 = GND by silkscreen
  2 = +5V
  3..4 = D0..D1 by guess
  5..6 = unknown
}
`;

describe('semanticTokens', () => {
  it('tells names by what they mean, where they are declared, and what is only guessed', () => {
    expect(tokens(HEAD)).toEqual([
      'PSU supply declaration',
      '+5V rail declaration',
      'GND ground declaration',
      'E8 connector declaration',
      '1..8 contact declaration',
      'MAIN bus declaration',
      'E8 connector',
      '1 contact',
      'GND ground declaration',
      '2 contact',
      '+5V rail declaration',
      '3..4 contact guess',
      'D0..D1 signal declaration guess',
      '5..6 unknownContact',
    ]);
  });

  it('carries what is guessed or unknown to where it is used', () => {
    const text = `${HEAD.replace('numbers', 'shape edge 1 x 8\n  numbers')}backplane CAGE {
  slots 1..2 on MAIN
  feed +5V from PSU at 5
}
card CPU {
  edge on MAIN
  takes VCC 1 A
  drives D0..D1 with 74LS244
  part U1 with 4116
}
fitted CAGE {
  1 = CPU as MAIN-CPU
}
ribbon W1 4 way {
  end CAGE.1.3
}
`;
    expect(tokens(text).slice(14)).toEqual([
      'CAGE backplane declaration',
      '1..2 contact declaration',
      'MAIN bus',
      '+5V rail',
      'PSU supply',
      '5 unknownContact',
      'CPU card declaration',
      'MAIN bus',
      'VCC rail',
      'D0..D1 signal guess',
      '74LS244 part',
      'U1 part declaration',
      '4116 part',
      'CAGE backplane',
      '1 contact',
      'CPU card',
      'MAIN-CPU board declaration',
      'W1 ribbon declaration',
      'CAGE backplane',
      '1 contact',
      '3 contact guess',
    ]);
  });

  it('gives those of a part of the text alone', () => {
    const from = HEAD.indexOf('2 = +5V');
    expect(tokens(HEAD, { from, to: from + 7 })).toEqual(['2 contact', '+5V rail declaration']);
  });
});
