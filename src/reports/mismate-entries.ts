import { type Case, isHarmful, type WrongMating } from '../analysis/wrong-mating/cases.ts';
import type { Harm } from '../analysis/wrong-mating/harms.ts';
import type { Outcome } from '../analysis/wrong-mating/judge.ts';
import { grouped } from '../checks/sisters.ts';
import { spokenWay } from '../checks/spoken-mating.ts';

/** A wrong way with what comes of it. */
export interface Judged {
  readonly one: Case;
  readonly outcome: Outcome;
  readonly harmful: boolean;
}

/** What a person takes as one mistake: the same plug or card, the same fault, the same guard, the same worst consequence. */
export interface Entry {
  readonly rank: number;
  /** In their order; the first stands for all. */
  readonly cases: readonly Case[];
  /** Most meetings with contacts that nobody knows, in one of the cases. */
  readonly unknown: number;
}

export interface MismateSummary {
  readonly cases: number;
  readonly harmful: number;
  /** The harmful ones: those that something prevents, and all others. */
  readonly prevented: number;
  readonly open: number;
}

export function judgedCases(wrongMating: WrongMating, cases: readonly Case[]): Judged[] {
  return cases.map((one) => {
    const outcome = wrongMating.outcome(one);
    return { one, outcome, harmful: isHarmful(one, outcome) };
  });
}

export function summariseMismates(judged: readonly Judged[]): MismateSummary {
  const harmful = judged.filter((one) => one.harmful);
  const prevented = harmful.filter(({ one }) => one.verdict.state === 'prevented').length;
  return {
    cases: judged.length,
    harmful: harmful.length,
    prevented,
    open: harmful.length - prevented,
  };
}

/**
 * Gathers cases into entries, worst first. Boards of one card in several slots are one entry. With `eachWay`, ways that lie
 * otherwise along the socket are entries of their own.
 */
export function entriesOf(
  wrongMating: WrongMating,
  judged: readonly Judged[],
  { eachWay }: { readonly eachWay: boolean },
): Entry[] {
  const keyOf = ({ one, outcome, harmful }: Judged): string => {
    const { plug, also, place, fault, verdict } = one;
    const who = plug.board ? plug.board.card.name : `${plug.name} ${plug.end} ${place.path}`;
    const worst = harmful ? wrongMating.worst(one)?.kind : '';
    const lies = eachWay ? spokenWay(one) : '';
    const unknown = outcome.unknown > 0;
    return [who, also?.end, fault, verdict.state, verdict.by.join(), outcome.rank, worst, unknown, lies].join(
      '\n',
    );
  };
  return grouped(judged, keyOf)
    .map((group) => ({
      rank: group[0]!.outcome.rank,
      cases: group.map(({ one }) => one),
      unknown: Math.max(...group.map(({ outcome }) => outcome.unknown)),
    }))
    .sort((a, b) => a.rank - b.rank);
}

/** Who suffers: a line of a board with its part, or a rail or ground of it. */
export interface Party {
  readonly line: string;
  readonly of: string;
}

/** What happens by one pair of contacts for one reason, and to whom else than the first tells. */
export interface HarmGroup {
  readonly first: Harm;
  readonly also: readonly Party[];
}

/** Harms in their order, those of one kind that come by the same two contacts and from the same rail as one. */
export function harmGroups(harms: readonly Harm[]): HarmGroup[] {
  const keyOf = ({ kind, power, other, contacts }: Harm): string =>
    [kind, power?.name, power?.owner, other?.name, ...contacts].join('\n');
  return grouped(harms, keyOf).map((group) => {
    const [first] = group as [Harm, ...Harm[]];
    const parties = new Map(group.flatMap(partiesOf).map((party) => [spokenParty(party), party]));
    for (const party of partiesOf(first)) parties.delete(spokenParty(party));
    return { first, also: [...parties.values()] };
  });
}

const partiesOf = ({ uses = [], wish }: Harm): Party[] => [
  ...uses.map(({ board, card }) => ({
    line: card.name,
    of: card.part === undefined ? board.name : `${board.name} (${card.part})`,
  })),
  ...(wish ? [{ line: wish.name, of: wish.board.name }] : []),
];

export const spokenParty = ({ line, of }: Party): string => `${line} of ${of}`;
