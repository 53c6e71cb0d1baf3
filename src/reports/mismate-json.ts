import type { Case } from '../analysis/wrong-mating/cases.ts';
import { RANKS } from '../analysis/wrong-mating/harms.ts';
import type { Live } from '../analysis/wrong-mating/pieces.ts';
import type { ConnectorPlan } from '../analysis/wrong-mating/plans.ts';
import type { WrongMating } from '../analysis/wrong-mating/wrong-mating.ts';
import { placeOf } from '../checks/explain.ts';
import { spokenHarm } from '../checks/spoken-mating.ts';
import type { View } from '../checks/types.ts';
import {
  type HarmGroup,
  harmGroups,
  type Judged,
  spokenParty,
  summariseMismates,
} from './mismate-entries.ts';

/**
 * All wrong ways as JSON, in the order of the machine's plugs and places; the shape that README documents. What is prevented
 * tells its worst harm only: a cage of twenty slots has tens of thousands of them.
 */
export function mismateJson(
  view: View,
  wrongMating: WrongMating,
  judged: readonly Judged[],
  plans: readonly ConnectorPlan[],
): string {
  const cases = judged.map(({ one, outcome, harmful }) => {
    const { plug, also, place, fault, way, verdict } = one;
    return {
      plug: plug.name,
      kind: plug.kind,
      end: endOf(plug),
      also: also === undefined ? null : endOf(also),
      place: place.path,
      fault,
      way,
      verdict: verdict.state,
      by: verdict.by,
      rank: outcome.rank,
      harmful,
      unknown: outcome.unknown,
      harms: harmful ? told(wrongMating, one).map((group) => harmJson(view, group)) : [],
    };
  });
  const keys = plans.map(({ connector, cases: open, plan }) => ({
    connector: connector.name,
    open: open.length,
    prevents: plan?.prevents ?? 0,
    sets: (plan?.groups ?? []).map(({ owners, places }) => ({
      on: owners.map(({ name }) => name),
      keys: places.map((place) => place.map((contact) => connector.labels[contact]!)),
    })),
  }));
  return `${JSON.stringify({ cases, keys, summary: summariseMismates(judged) }, null, 2)}\n`;
}

function told(wrongMating: WrongMating, one: Case): HarmGroup[] {
  if (one.verdict.state !== 'prevented') return harmGroups(wrongMating.harms(one));
  const worst = wrongMating.worst(one);
  return worst === undefined ? [] : [{ first: worst, also: [] }];
}

/** The port that an end of a ribbon or cable is for; null for a board. */
const endOf = ({ ribbon, end }: Judged['one']['plug']): string | null =>
  ribbon === undefined ? null : ribbon.ends[end!]!.place;

function harmJson(view: View, { first, also }: HarmGroup): object {
  const { kind, power, other, uses = [], board, part, contacts } = first;
  return {
    kind,
    rank: RANKS[kind],
    contacts: contacts[1] < 0 ? null : contacts.map((node) => contactJson(view, node)),
    power: power === undefined ? null : liveJson(power),
    other: other === undefined ? null : liveJson(other),
    board: board?.name ?? null,
    part: part ?? uses.at(-1)?.card.part ?? null,
    text: spokenHarm(first),
    also: also.map(spokenParty),
  };
}

/** A wire of a cable has no name of its own. */
const contactJson = (view: View, node: number): string | null =>
  node < view.machine.nodeCount ? placeOf(view, node) : null;

const liveJson = ({ kind, name, volts, owner, amps }: Live): object => ({
  kind,
  name,
  volts: [volts.low, volts.high],
  amps: amps ?? null,
  of: owner,
});
