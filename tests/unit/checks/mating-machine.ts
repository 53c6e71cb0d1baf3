/** A cage of two slots on an edge of two by four, and what its tests are about: `parts` replaces or adds to it. */
export interface Cage {
  /** Lines of the connector's block. */
  readonly socket?: string;
  readonly bus?: string;
  /** Behind `slots 1..2 on B`. */
  readonly slots?: string;
  /** Line of the processor's edge. */
  readonly edge?: string;
  readonly cpu?: string;
  readonly fitted?: string;
  readonly rest?: string;
}

/** Turned, ground lies on +12 V. */
export const BUS = `  1, A = GND by meter
  2, B = +5V by meter
  3 = D0
  C = D1
  4, D = +12V by meter`;

export const cage = ({
  socket = '  ends closed',
  bus = BUS,
  slots = '',
  edge = '  edge on B',
  cpu = '  takes +5V 1 A\n  drives D0..D1 with 74LS244\n  untouched rest',
  fitted = '  1 = CPU\n  2 = empty',
  rest = '',
}: Cage): string => `pinout 1
supply PSU {
  rail +5V 5 V max 5 A
  rail +12V 12 V max 1 A
  ground GND
}
connector E8 {
  shape edge 2 x 4
  numbers 1..4, A..D
${socket}
}
bus B on E8 {
${bus}
}
backplane CAGE {
  slots 1..2 on B${slots}
  feed GND from PSU at 1
  feed +5V from PSU at 2
  feed +12V from PSU at 4
}
card CPU {
${edge}
${cpu}
}
fitted CAGE {
${fitted}
}
${rest}
`;

/** A ribbon from one board outside a cage, which a harness in shells feeds, to another. */
export interface Lead {
  /** Lines of the connector's block. */
  readonly header?: string;
  readonly near?: string;
  readonly far?: string;
  readonly ports?: string;
  readonly uses?: readonly [string, string];
  readonly ends?: readonly [string, string];
  readonly rest?: string;
}

/** Grounds in one row; turned, they lie on the lines. */
export const LINES = `    1..9 step 2 = GND by trace
    2, 4, 6 = Q0..Q2 by trace
    8, 10 = spare by trace`;

export const lead = ({
  header = '',
  near = LINES,
  far = LINES,
  ports = '',
  uses = ['drives Q0..Q2 with 74LS244 at J1', 'receives Q0..Q2 with 74LS at J1'],
  ends = ['stripe 1', 'stripe 1'],
  rest = '',
}: Lead): string => `pinout 1
supply PSU {
  rail +5V 5 V max 5 A
  rail +24V 24 V max 1 A
  ground GND
  port P1 on DE9 {
    1 = +5V by meter
    2 = GND by meter
    3..9 = spare by trace
  }
${ports}
}
connector DE9 {
  shape dshell 9
}
connector H10 {
  shape header 2 x 5
  numbers zigzag
${header}
}
card GAUGE {
  takes +5V 500 mA at J9
  ${uses[0]}
  untouched rest
  port J9 on DE9 {
    1 = +5V by trace
    2 = GND by trace
    3..9 = spare by trace
  }
  port J1 on H10 {
${near}
  }
}
card LAMPS {
  ${uses[1]}
  untouched rest
  port J1 on H10 {
${far}
  }
}
loose GAUGE
loose LAMPS
ribbon W1 10 way {
  end GAUGE.J1 ${ends[0]}
  end LAMPS.J1 ${ends[1]}
}
cable C1 18 AWG 300 mm {
  PSU.P1.1..2 = GAUGE.J9.1..2
}
${rest}
`;
