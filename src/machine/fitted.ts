import type { Item } from '../language/tree.ts';
import { attribute, subjects } from '../language/tree.ts';
import { unknown } from './cards.ts';
import { inside, names, namesOf, type Problems, type Said, sourceOf, statementOf } from './scope.ts';
import type { Backplane, Slot } from './types.ts';

/** A slot that a board is said to sit in, with the name of its card. */
interface Occupied {
  readonly slot: Slot;
  readonly line: Said;
  readonly item: Item;
}

/** Marks slots as a `fitted` block says, puts bridges into them, and returns those that hold a board. */
export function readFitted(
  said: Said,
  backplanes: ReadonlyMap<string, Backplane>,
  problems: Problems,
): Occupied[] {
  const item = subjects(statementOf(said))[0];
  const backplane = item && backplanes.get(item.first);
  if (backplane === undefined) {
    if (item)
      problems.add(
        'name-unknown',
        sourceOf(said, item),
        unknown('backplane', item.first, [...backplanes.keys()]),
      );
    return [];
  }
  backplane.described = true;
  const slots = new Map(backplane.slots.map((slot) => [slot.label, slot]));
  const occupied: Occupied[] = [];
  for (const line of inside(said)) {
    const statement = statementOf(line);
    if (statement.form !== 'slot') continue;
    const is = attribute(statement, 'is')?.values[0];
    for (const { name: label, source } of names(line, statement.subject, problems)) {
      const slot = slots.get(label);
      if (slot === undefined) {
        problems.add('name-unknown', source, unknown('slot', label, [...slots.keys()]));
        continue;
      }
      if (slot.state !== 'unsaid') {
        problems.add(
          'duplicate',
          source,
          `slot ${label} of ${backplane.name} is filled twice; keep one line`,
        );
        continue;
      }
      slot.source = sourceOf(line);
      slot.bridges = namesOf(line, 'bridge', problems);
      slot.state = is?.kind === 'item' ? 'fitted' : 'empty';
      if (is?.kind === 'item') occupied.push({ slot, line, item: is });
    }
  }
  return occupied;
}
