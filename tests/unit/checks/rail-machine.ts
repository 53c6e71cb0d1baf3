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
