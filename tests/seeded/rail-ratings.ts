import { powerOf } from '../../src/analysis/power.ts';
import { voltsOfName } from '../../src/machine/names.ts';
import type { Card } from '../../src/machine/types.ts';
import {
  attributeOf,
  type Edit,
  type Example,
  inserted,
  ofForm,
  type Placed,
  removed,
  replaced,
  sourceOf,
  statementAt,
  subjectNames,
  withAttribute,
  withSubject,
} from './example.ts';
import { cardLines, contactsOf, type FaultKind, seed } from './places.ts';
import { BIAS, edges } from './rail-places.ts';

/** Another polarity: 78xx for 79xx. */
const reversed = (part: string): string =>
  part.replace(/^7([89])/, (_, digit) => (digit === '8' ? '79' : '78'));

function* regulators(example: Example): Iterable<{ card: Card; line: Placed; part: string; rail: string }> {
  for (const { card, line } of cardLines(example, 'makes')) {
    const make = card.makes.find(({ source }) => source.from === sourceOf(line).from);
    if (make?.part) yield { card, line, part: make.part, rail: make.rail };
  }
}

function withPart(line: Placed, part: string): Edit {
  return replaced(line, part, attributeOf(line, 'with')!.values.at(-1)!);
}

export const railRatings: readonly FaultKind[] = [
  {
    kind: 'a supply rated half of what is taken',
    rule: 'supply-overload',
    severity: 'error',
    *seeds(example) {
      for (const { sources, loads, rail } of powerOf(example.machine).rails) {
        const declared = sources[0]?.kind === 'supply' ? sources[0].declared : undefined;
        const sum = loads.reduce((total, { take }) => total + (take.current ?? 0), 0);
        if (declared === undefined || sum === 0) continue;
        const line = statementAt(example, declared.source);
        const edit = withAttribute(line, 'max', `max ${Math.ceil(sum * 500)} mA`);
        yield* seed(`${declared.owner}: ${rail}`, [edit], rail);
      }
    },
  },
  {
    kind: 'a board that takes twenty times as much',
    rule: 'contact-overload',
    severity: 'error',
    *seeds(example) {
      for (const { card, line } of cardLines(example, 'takes')) {
        const take = card.takes.find(({ source }) => source.from === sourceOf(line).from)!;
        const port = [...card.ports, ...card.edges].find(({ name }) => name === (take.at ?? 'edge'));
        const contacts = port && contactsOf(port.pins, 'rail').get(take.rail)?.length;
        const { rating } = port?.pins.connector ?? {};
        if (!contacts || rating === undefined || take.current === undefined) continue;
        const much = take.current * 20;
        // What the contacts still carry is no fault.
        if (much / contacts <= rating) continue;
        const edit = replaced(line, `${much * 1000} mA`, attributeOf(line, 'current')!);
        yield* seed(`${card.name}: ${take.rail}`, [edit], take.rail);
      }
    },
  },
  {
    kind: 'contacts of a tiny rating',
    rule: 'contact-overload',
    severity: 'error',
    *seeds(example) {
      const carrying = new Set(
        powerOf(example.machine)
          .rails.flatMap(({ hubs }) => hubs)
          .filter(({ positive, negative }) => positive + negative > 0)
          .flatMap(({ by }) => by?.sides.map(({ instance }) => instance.pins.connector) ?? []),
      );
      for (const connector of carrying) {
        const block = statementAt(example, connector.source);
        const line = example.statements.find(
          ({ parent, entry }) => parent?.entry === block.entry && entry.statement.form === 'contact',
        );
        const current = line && attributeOf(line, 'current');
        const edits = current
          ? [replaced(line, '1 mA', current)]
          : inserted(example, block, ['contact 1 mA']);
        yield* seed(connector.name, edits);
      }
    },
  },
  {
    kind: 'a power cable of hair-thin wire',
    rule: 'rail-drop',
    severity: 'warning',
    *seeds(example) {
      for (const line of ofForm(example, 'cable', 'ribbon')) {
        const [name] = subjectNames(line) as [string];
        if (!powers(example, name)) continue;
        yield* seed(name, [replaced(line, '50 AWG', attributeOf(line, 'gauge')!)]);
      }
    },
  },
  {
    kind: 'corroded contacts',
    rule: 'rail-drop',
    severity: 'warning',
    *seeds(example) {
      for (const { card, edge, bus } of edges(example)) {
        const line = statementAt(example, bus.pins.connector.source);
        const contact = example.statements.find(
          ({ parent, entry }) => parent?.entry === line.entry && entry.statement.form === 'contact',
        );
        if (contact === undefined || !card.takes.some(({ rail }) => rail === '+5V')) continue;
        const edit = withAttribute(contact, 'resistance', ' 10 ohm');
        yield* seed(`${card.name} on ${edge.pins.connector.name}`, [edit], card.name);
      }
    },
  },
  {
    kind: 'a regulator of the other polarity',
    rule: 'regulator-wrong',
    severity: 'error',
    *seeds(example) {
      for (const { card, line, part, rail } of regulators(example))
        yield* seed(`${card.name}: ${part}`, [withPart(line, reversed(part))], rail);
    },
  },
  {
    kind: 'a regulator of another voltage',
    rule: 'regulator-wrong',
    severity: 'error',
    *seeds(example) {
      for (const { card, line, part, rail } of regulators(example)) {
        const other = part.endsWith('05') ? part.replace(/05$/, '12') : part.replace(/\d\d$/, '05');
        yield* seed(`${card.name}: ${part}`, [withPart(line, other)], rail);
      }
    },
  },
  {
    kind: 'a regulator with too little to regulate',
    rule: 'regulator-wrong',
    severity: 'error',
    *seeds(example) {
      const { machine } = example;
      for (const { card, line, part, rail } of regulators(example)) {
        const make = card.makes.find(({ source }) => source.from === sourceOf(line).from)!;
        const declared = machine.railNames.rails
          .get(make.from)
          ?.find(({ owner }) => machine.supplies.some(({ name }) => name === owner));
        if (declared === undefined) continue;
        const volts = (voltsOfName(rail) ?? 0) * 1.05;
        const edit = replaced(
          statementAt(example, declared.source),
          `${volts.toFixed(2)} V`,
          attributeOf(statementAt(example, declared.source), 'voltage')!,
        );
        yield* seed(`${card.name}: ${part} from ${make.from}`, [edit], rail);
      }
    },
  },
  {
    kind: 'a regulator too small for its board',
    rule: 'regulator-wrong',
    *seeds(example) {
      for (const { card, line, part, rail } of regulators(example)) {
        const make = card.makes.find(({ source }) => source.from === sourceOf(line).from)!;
        const raw = card.takes.find((take) => take.rail === make.from)?.current ?? 0;
        const chips = card.chips
          .flatMap(({ needs }) => needs)
          .filter((need) => need.rail === rail)
          .reduce((sum, need) => sum + need.current, 0);
        // Where a raw rail feeds several regulators, nobody can tell one's share; what its chips draw is certain.
        const shared = card.makes.filter(({ from }) => from === make.from).length > 1;
        const fromSupply = example.machine.railNames.rails
          .get(make.from)
          ?.some(({ low, high }) => low !== high);
        if (chips <= 0.1 && (shared || !fromSupply || raw <= 0.1 * make.count)) continue;
        yield* seed(
          `${card.name}: ${part}`,
          [replaced(line, `with ${small(part)}`, attributeOf(line, 'with')!)],
          rail,
        );
      }
    },
  },
  {
    kind: 'the bias rail not first',
    rule: 'rail-order',
    *seeds(example) {
      for (const line of ofForm(example, 'order')) {
        const names = subjectNames(line);
        const [first, ...others] = names as [string, ...string[]];
        for (let place = 1; place <= others.length; place++) {
          // Only what comes before the bias and reaches the same chips is a fault.
          const order = [...others.slice(0, place), first, ...others.slice(place)];
          if (!biasedFrom(example, first, others.slice(0, place))) continue;
          yield* seed(order.join(', '), [withSubject(line, order.join(', '))]);
        }
      }
    },
  },
  {
    kind: 'an order of rails that nobody knows',
    rule: 'rail-order',
    severity: 'question',
    *seeds(example) {
      for (const line of ofForm(example, 'order')) {
        // Only one maker demands an order: of others' chips nothing is asked.
        const binding = example.machine.cards.some(({ chips }) =>
          chips.some(({ part }) => part === 'MCM4116'),
        );
        if (binding) yield* seed('the order line', [removed(example, line)]);
      }
    },
  },
];

/** The same regulator in the small case: 100 mA. */
const small = (part: string): string => part.replace(/^(7[89])L?(\d\d)$/, '$1L$2');

/** Whether chips take their bias from this supply rail, and another rail from one of those. */
function biasedFrom({ machine }: Example, bias: string, others: readonly string[]): boolean {
  return machine.cards.some(({ chips, makes }) =>
    chips.some(({ part, needs }) => {
      const wanted = BIAS.get(part.replace(/^MCM/, ''));
      const from = (rail: string): string => makes.find((make) => make.rail === rail)?.from ?? rail;
      if (wanted === undefined || from(wanted) !== bias) return false;
      const rails = needs.length > 1 ? needs.map(({ rail }) => rail) : ['+5V', '+12V'];
      return rails.some((rail) => others.includes(from(rail)));
    }),
  );
}

/** Whether current of a rail that logic works from runs through a cable or ribbon. */
function powers({ machine }: Example, name: string): boolean {
  return powerOf(machine).rails.some(
    ({ hubs, sources }) =>
      (sources[0]?.low ?? 0) > 4.5 &&
      (sources[0]?.high ?? 9) < 5.5 &&
      hubs.some(({ by, positive }) => by?.ribbon?.name === name && positive > 0),
  );
}
