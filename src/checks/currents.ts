import { boardsBeyond, type Hub, type Load } from '../analysis/power.ts';
import { spokenAmount } from './explain.ts';
import { spokenList } from './lists.ts';

/** More names than this in one sentence help nobody. */
const MOST = 8;

/** `CPU 2.6 A, RAM-A 1.1 A`: what is said, board by board, the largest first. */
export function spokenLoads(loads: readonly Load[]): string {
  const said = loads.filter(({ take }) => take.current !== undefined);
  const largest = [...said].sort((a, b) => (b.take.current ?? 0) - (a.take.current ?? 0));
  return spokenList(
    largest.map(({ board, take }) => `${board.name} ${spokenAmount(take.current ?? 0, 'A')}`),
    MOST,
  );
}

/** Who takes a rail without saying how much: `; what GAUGE takes is not said`. Empty where all is said. */
export function spokenUnsaid(loads: readonly Load[]): string {
  const names = loads.filter(({ take }) => take.current === undefined).map(({ board }) => board.name);
  return names.length === 0
    ? ''
    : `; what ${spokenList(names, MOST)} ${names.length === 1 ? 'takes' : 'take'} is not said`;
}

/** The thing whose current this is: a board, or the board that alone hangs on this ribbon. */
export function drawerOf(hub: Hub): Hub {
  const [only, other] = hub.below;
  return hub.owner.kind === 'bundle' && only !== undefined && other === undefined ? only : hub;
}

/** ` (with DISPLAY beyond it)` where others get their current through this one. */
export function spokenBeyond(hub: Hub): string {
  const others = boardsBeyond(hub).filter((board) => hub.owner.kind !== 'board' || board !== hub.owner.board);
  if (others.length === 0) return '';
  return ` (with ${spokenList(others.map(({ name }) => name))} beyond it)`;
}

/** `-5 V`, for a rail that nothing on the board names. */
export const spokenVoltage = (volts: number): string => spokenAmount(volts, 'V');
