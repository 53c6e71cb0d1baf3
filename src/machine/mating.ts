import type { Instance } from './types.ts';

/** The edge among a board's connectors that goes into this socket: by the place's name, else its bus, else its connector. */
export function matingEdge(instances: readonly Instance[], socket: Instance): Instance | undefined {
  const edges = instances.filter(({ kind }) => kind === 'edge');
  const fits = edges.filter((edge) => edge.pins.connector === socket.pins.connector);
  return (
    fits.find((edge) => edge.port.name === socket.port.name) ??
    fits.find((edge) => edge.port.bus !== undefined && edge.port.bus === socket.port.bus) ??
    (edges.length === 1 ? fits[0] : undefined)
  );
}
