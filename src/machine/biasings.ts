import { nodeOfName } from './board-nodes.ts';
import { lineNode, placeOnBackplane } from './bus-lines.ts';
import { unknown } from './cards.ts';
import type { Problems } from './scope.ts';
import type { Backplane, Bias, Biasing, Board } from './types.ts';
import type { Wiring } from './wiring.ts';

/** Terminators and pull-ups in their places, each on each of its lines: of backplanes, then of boards. */
export function placeBiasings(
  wiring: Wiring,
  backplanes: Iterable<Backplane>,
  boards: readonly Board[],
  problems: Problems,
): Biasing[] {
  const list: Biasing[] = [];
  for (const backplane of backplanes) list.push(...onBackplane(wiring, backplane, problems));
  for (const board of boards) list.push(...onBoard(wiring, board));
  return list;
}

function onBackplane(wiring: Wiring, backplane: Backplane, problems: Problems): Biasing[] {
  const list: Biasing[] = [];
  for (const bias of backplane.biases) {
    checkPlace(backplane, bias, problems);
    for (const { name, source } of bias.names) {
      const node = biasNode(wiring, backplane, bias.place, name);
      if (node !== undefined) list.push({ bias, name, node, backplane, source });
      // A backplane whose bus is not known is reported once, where the bus is named.
      else if (backplane.buses.length > 0)
        problems.add('name-unknown', source, `no line of ${backplane.name} is called \`${name}\``);
    }
  }
  return list;
}

function onBoard(wiring: Wiring, board: Board): Biasing[] {
  const list: Biasing[] = [];
  for (const bias of board.card.biases) {
    if (bias.as !== undefined && board.without.has(bias.as)) continue;
    const at = bias.place?.word === 'at' ? bias.place.of : undefined;
    for (const { name, source } of bias.names) {
      list.push({ bias, name, node: nodeOfName(wiring, board, name, at), board, source });
    }
  }
  return list;
}

/** A terminator sits after or before a slot of the backplane, or at a port of it. */
function checkPlace({ name, slots, ports }: Backplane, { place, source }: Bias, problems: Problems): void {
  if (place === undefined || slots.length === 0) return;
  const [what, known] =
    place.word === 'at'
      ? ['port', ports.map((port) => port.name)]
      : ['slot', slots.map((slot) => slot.label)];
  if (known.includes(place.of)) return;
  const message = `${unknown(what, place.of, known)} (\`${place.word} ${place.of}\` of ${name})`;
  problems.add('name-unknown', source, message);
}

function biasNode(
  wiring: Wiring,
  backplane: Backplane,
  place: Bias['place'],
  name: string,
): number | undefined {
  const port = place?.word === 'at' ? wiring.instanceAt(`${backplane.name}.${place.of}`) : undefined;
  if (port !== undefined) {
    const contact = port.pins.claims.findIndex((claim) => claim?.name === name);
    if (contact >= 0) return port.base + contact;
  }
  const slot = place === undefined ? 0 : backplane.slots.findIndex((one) => one.label === place.of);
  return lineNode(wiring, backplane, name, Math.max(slot, 0)) ?? placeOnBackplane(wiring, backplane, name);
}
