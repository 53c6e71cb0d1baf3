import type { Instance } from './types.ts';

/** The edge of a board that goes into this socket: by the place's name, else by its bus, else by its connector. */
export function matingEdge(edges: readonly Instance[], socket: Instance): Instance | undefined {
  const fits = edges.filter((edge) => edge.pins.connector === socket.pins.connector);
  return (
    fits.find((edge) => edge.port.name === socket.port.name) ??
    fits.find((edge) => edge.port.bus !== undefined && edge.port.bus === socket.port.bus) ??
    (edges.length === 1 ? fits[0] : undefined)
  );
}
