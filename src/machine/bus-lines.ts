import { contactsByName } from './claims.ts';
import { keeping } from './keep.ts';
import type { Backplane, Bus, Claim, PinMap } from './types.ts';
import type { BusLine, Wiring } from './wiring.ts';

/** The lines of a bus on a backplane by name and alias, spares by contact; not wired yet. Chains are no lines. */
export function linesOfBus(backplane: Backplane, place: string, bus: Bus): Map<string, BusLine> {
  const table = new Map<string, BusLine>();
  const chained = new Set(bus.chains.flatMap(({ input, output }) => [input, output]));
  const maps = slotMaps(backplane, bus);
  const names = contactsInMaps(bus, maps);
  const add = (key: string, label: string, contacts: readonly number[], claim: Claim): void => {
    const name = `${backplane.name} ${place === '' ? '' : `${place}.`}${label}`;
    const nodes = new Array<number>(backplane.slots.length).fill(-1);
    const line: BusLine = { name, contacts, claim, nodes };
    table.set(key, line);
    for (const alias of claim.aliases) table.set(alias, line);
  };
  const read = (claim: Claim | undefined, contact: number): void => {
    if (claim === undefined || chained.has(contact) || claim.private) return;
    if (claim.kind === 'spare') {
      const key = spareKey(contact);
      if (!table.has(key)) add(key, `spare ${bus.pins.connector.labels[contact]}`, [contact], claim);
    } else if (claim.name !== '' && !table.has(claim.name))
      add(claim.name, claim.name, names.get(claim.name)!, claim);
  };
  for (const pins of [bus.pins, ...maps]) pins.claims.forEach(read);
  return table;
}

/** Spares have no name, and each is a line of its own. No name in a text has this character. */
const spareKey = (contact: number): string => `\0${contact}`;

/** Where each name stands: in the bus at large or in one of its slots. */
function contactsInMaps(bus: Bus, maps: readonly PinMap[]): ReadonlyMap<string, readonly number[]> {
  const everywhere = contactsOfBus(bus);
  if (maps.length === 0) return everywhere;
  const names = new Map<string, readonly number[]>(everywhere);
  for (const pins of maps) {
    for (const [name, contacts] of contactsByName(pins, bus.chains))
      names.set(name, [...new Set([...(names.get(name) ?? []), ...contacts])]);
  }
  return names;
}

const contactsOfBus = keeping(({ pins, chains }: Bus) => contactsByName(pins, chains));

/** The different maps of slots in which the bus says something of its own. */
function slotMaps(backplane: Backplane, bus: Bus): PinMap[] {
  const maps = new Map<string, PinMap>();
  for (const slot of backplane.slots) {
    const pins = slot.instances.find((one) => one.port.bus === bus)?.pins;
    if (pins === undefined || pins.claims === bus.pins.claims) continue;
    const special = pins.claims.map((claim) => (claim?.slots === undefined ? '' : claim.source.from)).join();
    if (!maps.has(special)) maps.set(special, pins);
  }
  return [...maps.values()];
}

/** Whether a bus of the backplane has such a line, in some slot at least. */
export function hasLine(wiring: Wiring, backplane: Backplane, name: string): boolean {
  return wiring.lines.get(backplane)?.some((table) => table.has(name)) === true;
}

/** The node of a bus line at a slot; undefined where no bus of the backplane has such a line. */
export function lineNode(
  wiring: Wiring,
  backplane: Backplane,
  name: string,
  slot: number,
  bus?: Bus,
): number | undefined {
  const tables = wiring.lines.get(backplane) ?? [];
  let elsewhere: number | undefined;
  for (let n = 0; n < tables.length; n++) {
    const its = backplane.buses[n]!.bus;
    if (bus !== undefined && its !== bus) continue;
    const node = tables[n]!.get(name)?.nodes[slot];
    if (node === undefined || node < 0) continue;
    // Of two buses with lines of one name, the one that the slot carries is meant.
    if (tables.length === 1 || backplane.slots[slot]?.instances.some(({ port }) => port.bus === its))
      return node;
    elsewhere ??= node;
  }
  return elsewhere;
}

/** The node of the line that a contact of a bus is on, at a slot; the slot's own contact where it is not bussed. */
export function lineOfContact(
  wiring: Wiring,
  backplane: Backplane,
  bus: Bus,
  contact: number,
  slot: number,
): number | undefined {
  const claim = bus.pins.claims[contact];
  const chained = bus.chains.some(({ input, output }) => input === contact || output === contact);
  const key = claim?.kind === 'spare' ? spareKey(contact) : (claim?.name ?? '');
  const node = chained || key === '' ? undefined : lineNode(wiring, backplane, key, slot, bus);
  if (node !== undefined) return node;
  const instance = backplane.slots[slot]?.instances.find((one) => one.port.bus === bus);
  return instance && instance.base + contact;
}

/** A place in the text of a backplane: `1.19`, `1.P1.a19`, `PANEL.3`, or a line's name. */
export function placeOnBackplane(wiring: Wiring, backplane: Backplane, place: string): number | undefined {
  return (
    lineNode(wiring, backplane, place, 0) ??
    (place.includes('.') ? wiring.contactAt(`${backplane.name}.${place}`) : undefined)
  );
}
