import type { SlotParts } from './backplanes.ts';
import type { BusTable } from './buses.ts';
import type { Problems } from './scope.ts';
import { edgePins, slotPins } from './slot-pins.ts';
import type { Backplane, Board, Slot, Supply } from './types.ts';
import type { Wiring } from './wiring.ts';

/** More contacts than any machine in one card cage, or ten, has. */
const MOST_CONTACTS = 1_000_000;

/** What the slots of all backplanes carry, and what the buses say of certain slots only. */
interface SlotContents {
  readonly slots: ReadonlyMap<Slot, SlotParts>;
  readonly tables: ReadonlyMap<string, BusTable>;
}

/** Gives every connector in the machine its contacts: of supplies, then backplanes, then boards. */
export function placeInstances(
  wiring: Wiring,
  supplies: Iterable<Supply>,
  backplanes: Iterable<Backplane>,
  contents: SlotContents,
  boards: readonly Board[],
  problems: Problems,
): void {
  for (const supply of supplies) {
    for (const port of supply.ports)
      wiring.instance(`${supply.name}.${port.name}`, 'supply port', port, { supply });
  }
  for (const backplane of backplanes) {
    for (const slot of backplane.slots) {
      if (!placeSlot(wiring, slot, contents, problems)) return;
    }
    for (const port of backplane.ports) {
      const path = `${backplane.name}.${port.name}`;
      backplane.portInstances.push(wiring.instance(path, 'backplane port', port, { backplane }));
    }
  }
  for (const board of boards) placeBoard(wiring, board);
}

/** Whether the slot's contacts still fit: a slip such as `1..4096` must not fill the memory. */
function placeSlot(wiring: Wiring, slot: Slot, { slots, tables }: SlotContents, problems: Problems): boolean {
  const { backplane, label } = slot;
  const { buses, keys } = slots.get(slot)!;
  const count = buses.reduce((sum, { bus }) => sum + bus.pins.connector.labels.length, 0);
  if (wiring.contactCount + count > MOST_CONTACTS) {
    const message = `from slot ${label} on, this machine has more than ${MOST_CONTACTS} contacts; check the numbers of slots and contacts`;
    problems.add('range-mismatch', slot.source, message);
    return false;
  }
  for (const { place, bus } of buses) {
    const path = `${backplane.name}.${label}${buses.length > 1 ? `.${place}` : ''}`;
    const port = { name: place === '' ? 'edge' : place, pins: bus.pins, bus, source: bus.source };
    // Keys were read by the labels of the slot's first connector.
    const its = bus.pins.connector === buses[0]!.bus.pins.connector ? keys : [];
    const pins = slotPins(bus.pins, tables.get(bus.name)?.inSlots ?? [], label, its);
    slot.instances.push(wiring.instance(path, 'slot', port, { slot, backplane, pins }));
  }
  return true;
}

function placeBoard(wiring: Wiring, board: Board): void {
  const { name, card, instances } = board;
  for (const edge of card.edges) {
    const pins = edgePins(edge, board);
    instances.push(wiring.instance(`${name}.${edge.name}`, 'edge', edge, { board, pins }));
  }
  for (const port of card.ports)
    instances.push(wiring.instance(`${name}.${port.name}`, 'port', port, { board }));
}
