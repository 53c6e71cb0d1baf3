import type { Instance } from './types.ts';

/** The edge among a board's connectors that goes into this socket: by the place's name, else its bus, else its connector. */
export function matingEdge(instances: readonly Instance[], socket: Instance): Instance | undefined {
  const edges = instances.filter(({ kind }) => kind === 'edge');
  const fits = edges.filter((edge) => edge.pins.connector === socket.pins.connector);
  const [only] = fits;
  if (edges.length === 1) return only && socketOf(only, socket) === socket ? only : undefined;
  return fits.find((edge) => isNamed(edge, socket)) ?? fits.find((edge) => isFor(edge, socket));
}

/** Where a slot has several sockets that a board's only edge would fit, it goes into one of them. */
function socketOf(edge: Instance, { slot, pins }: Instance): Instance | undefined {
  const sockets = (slot?.instances ?? []).filter((one) => one.pins.connector === pins.connector);
  return sockets.find((one) => isNamed(edge, one)) ?? sockets.find((one) => isFor(edge, one)) ?? sockets[0];
}

const isNamed = (edge: Instance, socket: Instance): boolean => edge.port.name === socket.port.name;

const isFor = (edge: Instance, socket: Instance): boolean =>
  edge.port.bus !== undefined && edge.port.bus === socket.port.bus;
