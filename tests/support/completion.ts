import { type Completion, type CompletionOptions, completionsAt } from '../../src/editing/completion.ts';
import type { Files } from './machine.ts';
import { opened } from './project.ts';

/** A small machine to complete in: what a test types goes in front of a closing brace or at the end. */
export const BASE = `pinout 1
title "Bench"
supply PSU {
  rail    +5V    5 V   2 %  max 12 A
  rail    -12V  -12 V  5 %  max 800 mA
  ground  GND
}
connector EDGE12 {
  shape    edge 2 x 6
  numbers  1..6, A..F
}
connector IDC10 {
  shape    header 2 x 5
  numbers  zigzag
}
bus MAIN on EDGE12 {
  1, A    = GND     by silkscreen
  2, B    = +5V     by silkscreen
  3       = -12V    by meter 2026-05-02
  C..F    = D0..D3  by trace
  4       = /RD     by trace
  5 > 6   = GRANT
}
backplane CAGE {
  slots  1..4 on MAIN  pitch 25.4 mm
  feed   +5V from PSU at 2
  feed   GND from PSU at 1
}
card CPU "Processor" {
  edge         on MAIN
  takes        +5V 2 A
  drives       /RD with 74LS244
  transceives  D0..D3 with 74LS245
  starts       GRANT
}
card GAUGE "Float gauge" {
  edge      on MAIN
  takes     +5V 850 mA
  receives  /RD with 74LS
  passes    GRANT
  drives    Q0..Q3 with 74LS244 at J1
  part      U1..U2 with 4116
  port J1 on IDC10 {
    1..7 step 2  = GND
    2..8 step 2  = Q0..Q3
    9..10        = unknown
  }
}
fitted CAGE {
  1 = CPU
}
loose GAUGE
`;

/** BASE with lines put at the end of the block that begins so. */
export function within(heading: string, lines: string): string {
  const start = BASE.indexOf(heading);
  const indent = /^ */.exec(BASE.slice(BASE.lastIndexOf('\n', start) + 1))![0];
  const end = BASE.indexOf(`\n${indent}}`, start) + 1;
  return `${BASE.slice(0, end)}${indent}  ${lines}\n${BASE.slice(end)}`;
}

/** BASE with a block behind it. */
export const behind = (lines: string): string => `${BASE}${lines}\n`;

export function offered(files: Files, options: CompletionOptions = {}): Completion[] {
  const { project, file, offset } = opened(files);
  return completionsAt(project.of(file)!, file, offset, options);
}

export const labels = (list: readonly Completion[]): string[] => list.map(({ label }) => label);

/** The file's text once a completion is taken; its tab stops as they are. */
export function taken(text: string, { insert, snippet, from, to, also = [] }: Completion): string {
  const change = { from, to, text: snippet ? withoutStops(insert) : insert };
  return [change, ...also]
    .sort((a, b) => b.from - a.from)
    .reduce((result, one) => result.slice(0, one.from) + one.text + result.slice(one.to), text);
}

/** A snippet with its placeholders as they are and the first of each choice. */
export const withoutStops = (snippet: string): string =>
  snippet
    .replace(/\$\{\d+\|((?:\\.|[^,|])*)(?:\\.|[^|])*\|\}/g, '$1')
    .replace(/\$\{\d+:((?:\\.|[^}])*)\}/g, '$1')
    .replace(/\$\d+/g, '')
    .replace(/\\(.)/g, '$1');

/** What a case says: where the cursor is, what is offered first and in this order, and what never. */
export interface Case {
  readonly text: string;
  readonly first?: readonly string[];
  readonly has?: readonly string[];
  readonly never?: readonly string[];
  readonly options?: CompletionOptions;
}

/** What is offered at the cursor, held against a case. */
export function compared({ text, first = [], has = [], never = [], options }: Case): {
  readonly found: Readonly<Record<string, readonly string[]>>;
  readonly wanted: Readonly<Record<string, readonly string[]>>;
} {
  const all = labels(offered(text, options));
  return {
    found: {
      first: all.slice(0, first.length),
      has: has.filter((label) => all.includes(label)),
      never: never.filter((label) => all.includes(label)),
    },
    wanted: { first, has, never: [] },
  };
}
