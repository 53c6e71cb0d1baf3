/** A small machine in two files, as fixtures of the editor's features need one: a bus, and the machine that uses it. */
export const BUS = `pinout 1

connector EDGE14 {
  shape    edge 2 x 7
  numbers  1..7, A..H
  pitch    3.96 mm
}

bus MAIN on EDGE14 {
  1, A          = GND           by silkscreen
  2, B          = +5V           by meter 2026-05-02
  3             = +12V          by guess
  4..6          = D0..D2        by trace
  C             = /IRQ          wired-or
  7 > H         = GRANT
  D..F          = unknown
}
`;

export const MACHINE = `pinout 1
title "Small logger"
use "bus.pinout"

supply PSU {
  rail    +5V    5 V     max 3 A
  rail    +12V   12 V    max 1 A
  ground  GND
}

connector IDC10 {
  shape     header 2 x 5
  numbers   zigzag
}

backplane CAGE {
  slots        1..4               on MAIN
  feed         +5V                from PSU    at 2
  feed         +12V               from PSU    at 3
  feed         GND                from PSU    at 1
  pull-up      /IRQ               1 kohm to +5V  after 4
  wire         1.D to 2.D
}

card CPU "Processor" {
  edge         on MAIN
  takes        +5V                1.2 A
  transceives  D0..D2             with 74LS245
  receives     /IRQ               with 74LS14
  starts       GRANT
}

card GAUGE "Float gauge" {
  edge         on MAIN
  takes        +5V                600 mA
  transceives  D0, D1, D2         with 74LS245
  pulls        /IRQ               with 7406
  passes       GRANT
  port J1 on IDC10 {
    1             = GND
    2..4          = Q0..Q2
    5             = STROBE
  }
  drives       Q0..Q2             with 74LS244  at J1
}

fitted CAGE {
  1    = CPU
  2    = GAUGE  as  GAUGE-A
  3    = GAUGE  as  GAUGE-B
  4    = empty
}

ribbon W1 10 way {
  end  GAUGE-A.J1    stripe 1
  end  unknown  "to the float"
}

readings 2026-05-02 power off {
  CAGE.1.4 to CAGE.3.4                = 0.2 ohm
  GAUGE-A.J1.5 to GND                 = open
}
`;

/** The machine's files with a cursor: at the `|` within the first place where the marked text stands. */
export function loggerAt(
  marked: string,
  file: 'main.pinout' | 'bus.pinout' = 'main.pinout',
): Record<string, string> {
  const files: Record<string, string> = { 'main.pinout': MACHINE, 'bus.pinout': BUS };
  const plain = marked.replace('|', '');
  if (!files[file]!.includes(plain)) throw new Error(`${file} does not hold ${plain}`);
  files[file] = files[file]!.replace(plain, () => marked);
  return files;
}
