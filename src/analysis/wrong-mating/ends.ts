import type { Instance } from '../../machine/types.ts';
import type { Meeting } from './bench.ts';
import type { Case } from './cases.ts';
import { type Fitting, movesOf, strictest } from './fitting.ts';
import type { Verdict } from './guards.ts';
import type { CableNodes, Place, Plug, PlugPart } from './plugs.ts';
import { isStraight, movesBetween, STRAIGHT } from './ways.ts';

/**
 * Cables laid end for end: both connectors fit, each straight where the other belongs. Where every wire joins contacts of one number
 * that changes nothing.
 */
export function exchangedEnds({ plugs, settings, cables }: Fitting): Case[] {
  return plugs.flatMap((plug) =>
    plugs.flatMap((also): Case[] => {
      if (plug.ribbon === undefined || also.ribbon !== plug.ribbon || also.end! <= plug.end!) return [];
      const [home, other] = [plug.parts[0]!.home!, also.parts[0]!.home!];
      if (home === other || isAlike(plug, also, cables)) return [];
      const halves = [straightAt(settings, plug, other), straightAt(settings, also, home)];
      const both = halves.filter((half) => half !== undefined);
      if (both.length < halves.length) return [];
      return [
        {
          plug,
          also,
          place: { path: home.path, sockets: [home] },
          way: STRAIGHT,
          meetings: both.map(({ meeting }) => meeting),
          fault: 'exchanged',
          verdict: strictest(both.map(({ verdict }) => verdict)),
        },
      ];
    }),
  );
}

/** A plug straight in a socket, where it fits. */
function straightAt(settings: Fitting['settings'], plug: Plug, socket: Instance) {
  const setting = settings.find((one) => one.plug === plug && one.mates[0]!.socket === socket);
  const move = setting && movesOf(setting).find(({ way }) => isStraight(way));
  if (setting === undefined || move === undefined) return undefined;
  const meeting: Meeting = { ...setting.mates[0]!, pairs: move.pairs[0]! };
  return { meeting, verdict: move.verdict };
}

/** Whether two ends have the same conductors, or ends of the same wires, at the same contacts. */
function isAlike({ kind, parts: [one] }: Plug, { parts: [other] }: Plug, { wires }: CableNodes): boolean {
  const [a, b] = [one!.copper, other!.copper];
  const [short, long] = a.length < b.length ? [a, b] : [b, a];
  if (kind === 'ribbon') return long.every((node, i) => node === (short[i] ?? -1));
  return wires.every(([from, to]) => {
    const [i, j] = [a.indexOf(from), b.indexOf(to)];
    if (i >= 0 && j >= 0) return i === j;
    const [k, l] = [a.indexOf(to), b.indexOf(from)];
    return k < 0 || l < 0 || k === l;
  });
}

/**
 * Connectors crimped wrong: turned on the ribbon, or one conductor over. No key keeps that from happening, but who says which
 * contact the stripe meets has looked.
 */
export function crimpCases(plugs: readonly Plug[], plug: Plug): Case[] {
  const [part] = plug.parts;
  const across = part?.home?.pins.connector.conductors;
  if (plug.kind !== 'ribbon' || plug.rigid || part === undefined || across === undefined) return [];
  if (across.length === 0) return [];
  const { ribbon, end } = plug;
  const place: Place = { path: part.home!.path, sockets: [part.home!] };
  const verdict: Verdict = {
    state: ribbon!.ends[end!]!.stripe === undefined ? 'unsaid' : 'prevented',
    by: ['stripe'],
  };
  const crimped = (one: PlugPart, order: readonly number[], from: (i: number) => number): Meeting => ({
    part: { ...one, copper: recrimped(one, order, from) },
    socket: one.home!,
    pairs: movesBetween(one.pins.connector, one.home!.pins.connector)[0]!.pairs,
  });
  const turnedOf = (one: PlugPart, order: readonly number[]): Meeting =>
    crimped(one, order, (i) => order.length - 1 - i);
  const common = { plug, place, way: STRAIGHT, verdict };
  const cases: Case[] = [
    { ...common, fault: 'crimped turned', meetings: [turnedOf(part, across)] },
    ...[1, -1].map(
      (by): Case => ({
        ...common,
        fault: 'crimped over',
        meetings: [crimped(part, across, (i) => i - by)],
      }),
    ),
  ];
  // Two connectors turned on one ribbon undo each other, between these two.
  for (const also of plugs) {
    const [other] = also.parts;
    const its = other?.home?.pins.connector.conductors;
    if (also.ribbon !== ribbon || also.end! <= end! || other === undefined || !its?.length) continue;
    cases.push({
      ...common,
      also,
      fault: 'crimped turned',
      meetings: [turnedOf(part, across), turnedOf(other, its)],
    });
  }
  return cases;
}

/** The copper behind each contact when the connector takes conductors otherwise; −1 where none lies. */
function recrimped({ copper }: PlugPart, across: readonly number[], from: (i: number) => number): Int32Array {
  const moved = new Int32Array(copper.length).fill(-1);
  across.forEach((contact, i) => {
    const other = across[from(i)];
    if (other !== undefined) moved[contact] = copper[other]!;
  });
  return moved;
}
