import { isGroundName } from '../../src/machine/names.ts';
import type { Biasing } from '../../src/machine/types.ts';
import { attributeOf, type Example, type Placed, replaced, type Seed, statementAt } from './example.ts';
import { type LineAt, linesOf, withoutResistors } from './line-places.ts';
import { type FaultKind, seed } from './places.ts';

/** The pull-ups of open-collector lines that nothing else holds, each statement with one of its lines. */
function* pulledUp(example: Example): Iterable<{ line: LineAt; biasing: Biasing; statement: Placed }> {
  const seen = new Set<Placed>();
  for (const line of linesOf(example)) {
    const [biasing, another] = line.biasings;
    if (biasing === undefined || another || line.drivers.length === 0) continue;
    if (!line.drivers.every(({ card }) => card.kind === 'pulls')) continue;
    if (biasing.bias.legs.some(({ rail }) => isGroundName(rail))) continue;
    const statement = statementAt(example, biasing.bias.source);
    if (seen.has(statement)) continue;
    seen.add(statement);
    yield { line, biasing, statement };
  }
}

function* ofOtherValue(example: Example, ohms: string): Iterable<Seed> {
  for (const { line, biasing, statement } of pulledUp(example)) {
    const legs = attributeOf(statement, 'legs')!;
    yield* seed(
      line.name,
      [replaced(statement, `${ohms} to ${biasing.bias.legs[0]!.rail}`, legs)],
      line.name,
    );
  }
}

export const resistorFaults: readonly FaultKind[] = [
  {
    kind: 'a pull-up of 10 ohm',
    rule: 'pull-up-out-of-range',
    severity: 'error',
    seeds: (example) => ofOtherValue(example, '10 ohm'),
  },
  {
    kind: 'a pull-up of 1 megohm',
    rule: 'pull-up-out-of-range',
    severity: 'warning',
    seeds: (example) => ofOtherValue(example, '1 megohm'),
  },
  {
    kind: 'a pull-up to a higher rail',
    rule: 'pull-up-too-high',
    severity: 'error',
    *seeds(example) {
      const { machine } = example;
      for (const { line, biasing, statement } of pulledUp(example)) {
        const backplane = biasing.backplane ?? biasing.board?.slot?.backplane;
        const fed = backplane?.feeds.map(({ rail, supply }) =>
          supply.rails.find(({ name }) => name === rail),
        );
        const high = fed?.find((rail) => rail !== undefined && rail.low > 7);
        // A line outside the cage has no rail at hand that is higher than its own.
        if (high === undefined || machine.railNames.rails.get(high.name) === undefined) continue;
        const legs = attributeOf(statement, 'legs')!;
        yield* seed(line.name, [replaced(statement, `1 kohm to ${high.name}`, legs)], line.name);
      }
    },
  },
  {
    kind: 'a wired line without its resistors',
    rule: 'line-no-pull-up',
    severity: 'warning',
    *seeds(example) {
      for (const line of linesOf(example)) {
        if (!line.wired || line.biasings.length === 0 || line.drivers.length + line.hearers.length === 0)
          continue;
        yield* seed(line.name, withoutResistors(example, line), line.name);
      }
    },
  },
];
