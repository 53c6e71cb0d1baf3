/** A small rack whose boards have neither key nor guides: put in wrong, they meet +12 V. The ribbon's headers have no shroud. */
export const UNKEYED = `pinout 1
title "Bare rack"

supply PSU {
  rail    +5V    5 V    max 3 A
  rail    +12V   12 V   max 1 A
  ground  GND
}

connector E16 {
  shape    edge 2 x 8
  numbers  1..8, A..J
  ends     closed
}

connector H10 {
  shape    header 2 x 5
  numbers  zigzag
}

bus MAIN on E16 {
  1, A          = GND           by silkscreen
  2, B          = +5V           by silkscreen
  3             = +12V          by meter 2026-05-02
  4..6          = D0..D2        by trace
  C             = /IRQ          wired-or  by trace
  F             = D3            by trace
  7..8          = spare         by guess
  D, E, H, J    = spare         by guess
}

backplane CAGE {
  slots        1..4               on MAIN
  feed         +5V                from PSU    at 2, B
  feed         +12V               from PSU    at 3
  feed         GND                from PSU    at 1, A
  pull-up      /IRQ               1 kohm to +5V  after 4
}

card CPU "Processor" {
  edge         on MAIN
  takes        +5V                1.2 A
  transceives  D0..D3             with 74LS245
  receives     /IRQ               with 74LS14
  drives       L0..L2             with 74LS244  at J1
  port J1 on H10 {
    1..3          = L0..L2        by trace
    4..8          = spare         by trace
    9..10         = GND           by trace
  }
}

card LAMPS "Lamp driver" {
  edge         on MAIN
  takes        +5V                600 mA
  pulls        /IRQ               with 7406
  receives     L0..L2             with 74LS14  at J1
  port J1 on H10 {
    1..3          = L0..L2        by trace
    4..8          = spare         by trace
    9..10         = GND           by trace
  }
}

fitted CAGE {
  1    = CPU
  2    = LAMPS
}

ribbon W1 10 way {
  end          CPU.J1             stripe 1
  end          LAMPS.J1           stripe 1
}
`;
