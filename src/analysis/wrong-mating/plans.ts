import { keeping } from '../../machine/keep.ts';
import type { Connector, Machine } from '../../machine/types.ts';
import { type Case, isHarmful, type WrongMating } from './cases.ts';
import { type KeyPlan, keyedConnector, planKeys } from './keys.ts';

/** The keys that one connector of the machine lacks. */
export interface ConnectorPlan {
  readonly connector: Connector;
  /** The harmful cases that nothing prevents and in which this connector would get the key. */
  readonly cases: readonly Case[];
  /** Undefined where no keys of this connector prevent them, none without a contact that is needed, or fewer than a wall would. */
  readonly plan: KeyPlan | undefined;
  /** Whether a wall with a notch, and a bump on the plug, would prevent some of them. */
  readonly wall: boolean;
}

/**
 * The fewest keys against all that is harmful and open, connector by connector, in order of their cases. What a guard prevents if
 * its other half is there (`unsaid`) asks for a look, not for another key.
 */
export const keyPlansOf = keeping((machine: Machine, wrongMating: WrongMating): readonly ConnectorPlan[] => {
  const open = new Map<Connector, Case[]>();
  for (const one of wrongMating.open()) {
    if (one.verdict.state !== 'open' || !isHarmful(one, wrongMating.outcome(one))) continue;
    const connector = keyedConnector(one);
    const its = open.get(connector);
    if (its) its.push(one);
    else open.set(connector, [one]);
  }
  return [...open].map(([connector, cases]) => {
    const users = machine.instances.filter(({ pins }) => pins.connector === connector);
    const walled = canHaveWall(connector)
      ? cases.filter(({ fault }) => fault === 'turned' || fault === 'over')
      : [];
    const keys = planKeys(connector, cases, users);
    // Keys that leave more open than a wall would are not worth their pins.
    const plan = keys && keys.leaves > 0 && walled.length > keys.prevents ? undefined : keys;
    return { connector, cases, wall: walled.length > 0, plan };
  });
});

const canHaveWall = ({ shape, shroud }: Connector): boolean =>
  (shape === 'header' || shape === 'row') && shroud === undefined;
