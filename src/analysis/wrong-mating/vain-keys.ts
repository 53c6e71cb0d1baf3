import type { PinMap } from '../../machine/types.ts';
import { type Fitting, isOwn, type Setting } from './fitting.ts';
import { leftToKeys } from './guards.ts';
import type { Plug } from './plugs.ts';
import { isStraight, movesBetween } from './ways.ts';

/**
 * Symmetrical keys, above all: what they let in straight they let in turned. Where walls and shells leave nothing to keys, a key
 * beside them is one guard more.
 */
export function keyedInVain({ plugs, settings }: Fitting): Plug[] {
  const isKeyed = ({ keys, pulled, plugged }: PinMap): boolean =>
    keys.length + pulled.size + plugged.size > 0;
  return plugs.filter((plug) => {
    const { parts } = plug;
    if (!parts.some(({ pins, home }) => isKeyed(pins) || (home !== undefined && isKeyed(home.pins))))
      return false;
    const left = settings.filter((setting) => setting.plug.parts === parts).flatMap(movesLeftToKeys);
    return left.some(({ way }) => !isStraight(way)) && left.every(({ by }) => by === 'let in');
  });
}

/** The wrong ways of a plug at a place that its body does not keep out, and whether keys do. */
function movesLeftToKeys({ plug, mates, isHome }: Setting) {
  return mates.flatMap(({ part, socket }) => {
    const { pins, home } = part;
    const own = isOwn(part, socket);
    const halves = {
      plug: pins,
      home: home?.pins,
      socket: socket.pins,
      own,
      guides: false,
      bump: plug.bump,
    };
    return movesBetween(pins.connector, socket.pins.connector).flatMap(({ way }) => {
      const by = isHome && isStraight(way) ? 'none' : leftToKeys(halves, way);
      return by === 'none' ? [] : [{ way, by }];
    });
  });
}
