/** A small machine without a finding above a note, for tests that write a file of their own. */
export const RACK = `pinout 1

supply PSU {
  rail    +5V    5 V     2 %   max 4 A   by silkscreen
  ground  GND
}

connector EDGE44 {
  shape     edge 2 x 22
  numbers   1..22, A..Z
  pitch     3.96 mm
  contact   3 A  20 mohm
  ends      closed
}

bus MAIN on EDGE44 {
  1, A          = GND           by silkscreen
  2, B          = +5V           by silkscreen
  4..11         = D0..D7        by trace
  D..M          = A0..A7        by trace
  12            = /IRQ          wired-or  by trace
  3, C, 13..22, N..Z = spare    by trace
}

backplane CAGE {
  slots        1..4               on MAIN     pitch 25.4 mm
  feed         +5V                from PSU    at 2, B
  feed         GND                from PSU    at 1, A
  pull-up      /IRQ               1 kohm to +5V  after 4  by trace
}

card CPU "Processor" {
  edge         on MAIN
  takes        +5V                1.2 A       by meter 2026-05-09
  drives       A0..A7             with 74LS244  by trace
  transceives  D0..D7             with 74LS245  by trace
  receives     /IRQ               with 74LS   by trace
  untouched    rest
}

card CLOCK {
  edge         on MAIN
  takes        +5V                600 mA      by meter 2026-05-09
  receives     A0..A7             with 74LS   by trace
  transceives  D0..D7             with 74LS245  by trace
  pulls        /IRQ               with 7406   by trace
  untouched    rest
}

fitted CAGE {
  1    = CPU
  2    = CLOCK
  3..4 = empty
}
`;
