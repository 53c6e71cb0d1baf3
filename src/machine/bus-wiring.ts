import { lineNode, linesOfBus } from './bus-lines.ts';
import { wireChains } from './chain-wiring.ts';
import { contactsByName } from './claims.ts';
import { checkCut, cutsOf, slotsBeforeCuts } from './cuts.ts';
import type { Problems } from './scope.ts';
import type { Backplane, Bus, Claim, Instance, Rework } from './types.ts';
import type { BusLine, Wiring } from './wiring.ts';

/** Joins each line through the slots of a backplane, in stretches where it is cut. Linear in the contacts. */
export function wireBuses(wiring: Wiring, backplane: Backplane, problems: Problems): void {
  const tables = backplane.buses.map(({ place, bus }) => linesOfBus(backplane, place, bus));
  wiring.lines.set(backplane, tables);
  const cuts = cutsOf(backplane);
  for (const table of tables) {
    // A line is in its table once for each of its names.
    for (const line of new Set(table.values())) makeStretches(wiring, backplane, line, cuts);
  }
  for (const cut of cuts) checkCut(wiring, backplane, cut, problems);
  backplane.buses.forEach(({ bus }, n) => {
    joinSlots(wiring, backplane, bus, tables[n]!);
    wireChains(wiring, backplane, bus, cuts);
  });
  for (const instance of backplane.portInstances) joinPort(wiring, backplane, instance);
}

/** A node for each stretch of a line between its cuts. */
function makeStretches(wiring: Wiring, backplane: Backplane, line: BusLine, cuts: readonly Rework[]): void {
  const { name, aliases } = line.claim;
  const cutAfter = slotsBeforeCuts(backplane, cuts, (place) => place === name || aliases.includes(place));
  let node = -1;
  for (const slot of backplane.slots) {
    if (node < 0 || cutAfter.has(slot.index - 1)) node = wiring.node(line.name);
    line.nodes[slot.index] = node;
  }
}

function joinSlots(
  wiring: Wiring,
  backplane: Backplane,
  bus: Bus,
  table: ReadonlyMap<string, BusLine>,
): void {
  const sockets = backplane.slots.flatMap((slot) => slot.instances.find((one) => one.port.bus === bus) ?? []);
  for (const line of new Set(table.values())) {
    const cause = wiring.joins.because('bus', line.claim.source, line.claim.evidence);
    for (const { base, pins, slot } of sockets) {
      for (const contact of line.contacts) {
        // A claim for some slots only does not hold in the others.
        const here = pins.claims[contact];
        if (here === undefined || here.private || !sameLine(here, line.claim)) continue;
        wiring.joins.join(base + contact, line.nodes[slot!.index]!, cause);
      }
    }
  }
}

/** Whether a claim means the line that another claim made. */
const sameLine = (here: Claim, line: Claim): boolean =>
  here === line || (here.kind === line.kind && (here.name === line.name || here.aliases.includes(line.name)));

/** A header of the backplane itself: its names are lines of the bus. */
function joinPort(wiring: Wiring, backplane: Backplane, instance: Instance): void {
  instance.pins.claims.forEach((claim, contact) => {
    if (claim === undefined || claim.name === '') return;
    const node = lineNode(wiring, backplane, claim.name, 0);
    if (node === undefined) return;
    const cause = wiring.joins.because('bus', claim.source, claim.evidence);
    wiring.joins.join(instance.base + contact, node, cause);
  });
  joinEqualNames(wiring, instance);
}

/** Contacts of one port that carry one name which is no line elsewhere are one all the same. */
function joinEqualNames({ joins }: Wiring, { base, pins, port }: Instance): void {
  const cause = joins.because('bus', port.source);
  for (const [first, ...others] of contactsByName(pins, []).values()) {
    for (const contact of others) joins.join(base + first!, base + contact, cause);
  }
}
