import type { PinMap } from '../../machine/types.ts';
import { type Fitting, halvesOf, type Setting } from './fitting.ts';
import { leftToKeys } from './guards.ts';
import type { Plug } from './plugs.ts';
import { isStraight, movesBetween } from './ways.ts';

/** Whether a table or a connector says of any key, on either half. */
export const isKeyed = ({ keys, pulled, plugged }: Pick<PinMap, 'keys' | 'pulled' | 'plugged'>): boolean =>
  keys.length + pulled.size + plugged.size > 0;

/**
 * Symmetrical keys, above all: what they let in straight they let in turned. Where walls and shells leave nothing to keys, a key
 * beside them is one guard more.
 */
export function keyedInVain({ plugs, settings }: Fitting): Plug[] {
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
    const halves = halvesOf(plug, { part, socket }, false);
    return movesBetween(part.pins.connector, socket.pins.connector).flatMap(({ way }) => {
      const by = isHome && isStraight(way) ? 'none' : leftToKeys(halves, way);
      return by === 'none' ? [] : [{ way, by }];
    });
  });
}
