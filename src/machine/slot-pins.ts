import type { BusTable } from './buses.ts';
import type { Board, PinMap, Port } from './types.ts';

/** Names that a bus gives to contacts in some of its slots only. */
export function namesInSlots({ inSlots }: BusTable): Set<string> {
  return new Set(inSlots.flatMap(({ claim }) => [claim.name, ...claim.aliases]));
}

/** The map of one slot: where the bus says something of certain slots only, and with the slot's own keys. */
export function slotPins(
  pins: PinMap,
  inSlots: BusTable['inSlots'],
  slot: string,
  keys: PinMap['keys'],
): PinMap {
  const own = keys.length > 0 ? { ...pins, keys: [...pins.keys, ...keys] } : pins;
  if (inSlots.length === 0) return own;
  const claims = [...pins.claims];
  for (const { contact } of inSlots) {
    const here = inSlots.find((one) => one.contact === contact && one.claim.slots?.has(slot));
    const everywhere = claims[contact]?.slots === undefined ? claims[contact] : undefined;
    claims[contact] = here?.claim ?? everywhere;
  }
  return { ...own, claims };
}

/** The map of a board's edge: where its slot differs from the bus at large, what the slot says. */
export function edgePins(edge: Port, board: Board): PinMap {
  const slot = board.slot?.instances.find((one) => one.port.bus === edge.bus);
  if (edge.bus === undefined || slot === undefined || slot.pins.claims === edge.bus.pins.claims)
    return edge.pins;
  return { ...edge.pins, claims: slot.pins.claims.map((claim, i) => edge.pins.own[i] ?? claim) };
}
