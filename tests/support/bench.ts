/** A small machine to try line rules on: one supply, one backplane, what a test adds in each block. */
export interface Bench {
  /** Lines of the bus; contacts 3 and up are free. */
  readonly bus: string;
  /** Lines of the backplane; its slots are 1..4. */
  readonly backplane?: string;
  /** Card by name, its lines. Each has an edge, takes +5V and is closed unless `open`. */
  readonly cards: Readonly<Record<string, string>>;
  /** Lines of the fitted block. */
  readonly fitted: string;
  /** More blocks. */
  readonly more?: string;
  readonly open?: boolean;
  readonly rail?: string;
}

export function benchText({
  bus,
  backplane = '',
  cards,
  fitted,
  more = '',
  open,
  rail = '5 V',
}: Bench): string {
  const card = ([name, lines]: [string, string]): string => `card ${name} {
  edge on B
  takes +5V 100 mA
${lines}
${open ? '' : 'untouched rest'}
}`;
  return `pinout 1
supply PSU {
  rail +5V ${rail}
  ground GND
}
connector E40 {
  shape edge 1 x 40
  ends closed
}
connector IDC10 {
  shape header 2 x 5
  numbers zigzag
}
bus B on E40 {
  1 = GND by meter
  2 = +5V by meter
${bus}
}
backplane CAGE {
  slots 1..4 on B pitch 25.4 mm guides
  feed GND from PSU at 1
  feed +5V from PSU at 2
${backplane}
}
${Object.entries(cards).map(card).join('\n')}
fitted CAGE {
${fitted}
}
${more}
`;
}
