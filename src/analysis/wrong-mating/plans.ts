import { keeping } from '../../machine/keep.ts';
import type { Connector, Machine } from '../../machine/types.ts';
import { groupBy } from '../group-by.ts';
import type { Case } from './cases.ts';
import { halvesOf } from './fitting.ts';
import { verdictOn } from './guards.ts';
import { type KeyPlan, keyedConnector, planKeys } from './keys.ts';
import { isSame } from './ways.ts';
import { isHarmful, type WrongMating } from './wrong-mating.ts';

/** What one connector of the machine lacks. */
export interface ConnectorPlan {
  readonly connector: Connector;
  /** The harmful cases that are open for want of it. */
  readonly cases: readonly Case[];
  /** The keys against them; undefined where a wall is the better way, or nothing helps. */
  readonly plan: KeyPlan | undefined;
  /** Whether a wall with a notch round its pins, and a bump on the plugs, prevents these cases. */
  readonly wall: boolean;
}

/**
 * What the machine lacks against all that is harmful and open, connector by connector. Keys that cost no contact in use and leave
 * nothing open come first; then walls, which can be taken off again; then what keys can do, at the cost of contacts. What a guard
 * prevents if its other half is there (`unsaid`) asks for a look, not for another key; but keys are planned so that they hold
 * whatever is found at the ends of the sockets.
 */
export const keyPlansOf = keeping((machine: Machine, wrongMating: WrongMating): readonly ConnectorPlan[] => {
  const isBad = (one: Case): boolean => isHarmful(one, wrongMating.outcome(one));
  const bad = wrongMating
    .open()
    .filter(({ verdict }) => verdict.state === 'open')
    .filter(isBad);
  if (bad.length === 0) return [];
  const asked = wrongMating
    .open()
    .filter(({ verdict }) => verdict.state === 'unsaid' && verdict.by.join() === 'walls');
  const keysFor = (connector: Connector, cases: readonly Case[]): KeyPlan | undefined => {
    const users = machine.instances.filter(({ pins }) => pins.connector === connector);
    const doubtful = asked.filter((one) => keyedConnector(one) === connector && isBad(one));
    const both = doubtful.length > 0 ? planKeys(connector, [...cases, ...doubtful], users) : undefined;
    // They are not among what is open.
    return both?.leaves === 0 ? { ...both, prevents: cases.length } : planKeys(connector, cases, users);
  };
  const free = [...groupBy(bad, keyedConnector)].flatMap(([connector, cases]): ConnectorPlan[] => {
    const plan = keysFor(connector, cases);
    return plan?.leaves === 0 && plan.costs === 0 ? [{ connector, cases, plan, wall: false }] : [];
  });
  const keyed = new Set(free.flatMap(({ cases }) => cases));
  const left = bad.filter((one) => !keyed.has(one));
  const walled = left.filter(isForWall);
  const walls = [...groupBy(walled, socketOf)].map(
    ([connector, cases]): ConnectorPlan => ({ connector, cases, plan: undefined, wall: true }),
  );
  const behind = new Set(walled);
  const rest = [
    ...groupBy(
      left.filter((one) => !behind.has(one)),
      keyedConnector,
    ),
  ].map(
    ([connector, cases]): ConnectorPlan => ({
      connector,
      cases,
      plan: keysFor(connector, cases),
      wall: false,
    }),
  );
  return [...free, ...walls, ...rest];
});

/** What helps against one case, whichever list of cases it is from. */
export const lackFor = (plans: readonly ConnectorPlan[], one: Case): ConnectorPlan | undefined =>
  plans.find(({ cases }) =>
    cases.some(
      ({ plug, place, way, fault }) =>
        plug === one.plug && place.path === one.place.path && fault === one.fault && isSame(way, one.way),
    ),
  );

const socketOf = ({ meetings }: Case): Connector => meetings[0]!.socket.pins.connector;

/** Whether a wall with a notch round the pins would prevent a case, once the plug has its bump. */
function isForWall({ plug, place, meetings, way }: Case): boolean {
  const { part, socket } = meetings[0]!;
  const { shape, shroud } = socket.pins.connector;
  if ((shape !== 'header' && shape !== 'row') || shroud !== undefined || socket.pins.shroud !== undefined)
    return false;
  const said = halvesOf(plug, { part, socket }, place.slot?.guides === true);
  const halves = { ...said, socket: { ...socket.pins, shroud: 'notch' as const }, bump: true };
  return plug.kind !== 'board' && verdictOn(halves, way).state === 'prevented';
}
