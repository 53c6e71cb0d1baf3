/** A small healthy machine: `parts` replaces or adds to what a test is about. Slots 1..4, contacts 1..10. */
export interface Parts {
  readonly supply?: string;
  readonly bus?: string;
  readonly plane?: string;
  readonly cards?: string;
  readonly fitted?: string;
  readonly rest?: string;
}

export const SUPPLY = `supply PSU {
  rail +5V 5 V
  rail +12V 12 V
  ground GND
}`;

export const PLANE = `  feed GND from PSU at 1
  feed +5V from PSU at 2
  feed +12V from PSU at 3`;

export const BUS = `  1 = GND by meter
  2 = +5V by meter
  3 = +12V by meter
  4 = D0 by trace
  5 = /IRQ wired-or by trace
  6 = SYNC by trace
  7 = spare
  8 = unknown`;

export function rack({
  supply = SUPPLY,
  bus = BUS,
  plane = PLANE,
  cards = '',
  fitted = '',
  rest = '',
}: Parts): string {
  return `pinout 1
${supply}
connector E10 {
  shape edge 1 x 10
}
connector H4 {
  shape header 1 x 4
}
bus B on E10 {
${bus}
}
backplane CAGE {
  slots 1..4 on B
${plane}
}
${cards}
fitted CAGE {
${fitted}
}
${rest}
`;
}

/** A display on a harness of up to eight wires from a supply with a sense lead. */
export interface Harness {
  readonly supply?: string;
  readonly near?: string;
  readonly far?: string;
  readonly takes?: string;
  readonly wires?: string;
}

const SENSED = `  1..2 = +5V by trace
  3..4 = GND by trace
  5 = S+ by trace
  6 = S- by trace
  7..8 = spare by trace`;

export const harness = ({
  supply = '',
  near = SENSED,
  far = SENSED,
  takes = '+5V 1 A at J9',
  wires = 'PSU.P1.1..8 = DISPLAY.J9.1..8',
}: Harness): string => `pinout 1
connector H8 {
  shape header 1 x 8
  contact 1 A
}
supply PSU {
  rail +5V 5 V max 5 A
  rail +12V 12 V max 1 A
  ground GND
  sense S+ for +5V
  sense S- for GND
${supply}
  port P1 on H8 {
${near}
  }
}
card DISPLAY {
  takes ${takes}
  port J9 on H8 {
${far}
  }
}
loose DISPLAY
cable C1 18 AWG 300 mm {
  ${wires}
}
`;
