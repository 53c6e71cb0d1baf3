import type { Case } from '../analysis/wrong-mating/cases.ts';
import { type Harm, RANKS } from '../analysis/wrong-mating/harms.ts';
import type { Outcome } from '../analysis/wrong-mating/judge.ts';
import { isHarmful, type WrongMating } from '../analysis/wrong-mating/wrong-mating.ts';
import { grouped } from '../checks/sisters.ts';
import { spokenHarm } from '../checks/spoken-mating.ts';

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
  /** Those in none of these counts: what they meet nobody knows, and nothing keeps them out for certain. */
  readonly unjudged: number;
}

export function judgedCases(wrongMating: WrongMating, cases: readonly Case[]): Judged[] {
  return cases.map((one) => {
    const outcome = wrongMating.outcome(one);
    return { one, outcome, harmful: isHarmful(one, outcome) };
  });
}

export const isUnjudged = ({ one, outcome, harmful }: Judged): boolean =>
  !harmful && outcome.unknown > 0 && one.verdict.state !== 'prevented';

export function summariseMismates(judged: readonly Judged[]): MismateSummary {
  const harmful = judged.filter((one) => one.harmful);
  const prevented = harmful.filter(({ one }) => one.verdict.state === 'prevented').length;
  return {
    cases: judged.length,
    harmful: harmful.length,
    prevented,
    open: harmful.length - prevented,
    unjudged: judged.filter(isUnjudged).length,
  };
}

/**
 * Gathers cases into entries, worst first. Boards of one card in several slots are one entry. With `inWords`, ways are one entry
 * where the same words tell what comes of them, so that none of it goes untold.
 */
export function entriesOf(
  wrongMating: WrongMating,
  judged: readonly Judged[],
  { inWords }: { readonly inWords: boolean },
): Entry[] {
  const keyOf = ({ one, outcome, harmful }: Judged): string => {
    const { plug, also, place, fault, verdict } = one;
    const who = plug.board ? plug.board.card.name : `${plug.name} ${plug.end} ${place.path}`;
    const worst = harmful ? wrongMating.worst(one) : undefined;
    const comes = worst && inWords ? spokenHarm(worst) : worst?.kind;
    // What does no harm is told alike, whatever it meets.
    const rank = inWords ? Math.min(outcome.rank, RANKS['ground-on-output'] + 1) : outcome.rank;
    // Where the harm is told, contacts that nobody knows make no other case of it.
    const unknown = outcome.unknown > 0 && !(inWords && harmful);
    return [who, also?.end, fault, verdict.state, verdict.by.join(), rank, comes, unknown].join('\n');
  };
  return grouped(judged, keyOf)
    .map((group) => ({
      rank: group[0]!.outcome.rank,
      cases: group.map(({ one }) => one),
      unknown: Math.max(...group.map(({ outcome }) => outcome.unknown)),
    }))
    .sort((a, b) => a.rank - b.rank);
}

/** All that is open for one cause: the worst of it, and what else it lets in, worst first. */
export interface Block {
  readonly worst: Entry;
  readonly others: readonly Entry[];
}

/**
 * Gathers harmful cases by what is lacking: ways of one ribbon, or of boards of one card, at one kind of place. Where half a guard
 * is said and one look settles it, boards of all cards are one block.
 */
export function blocksOf(
  wrongMating: WrongMating,
  judged: readonly Judged[],
  { inWords }: { readonly inWords: boolean },
): Block[] {
  const causeOf = ({ one: { plug, verdict, meetings } }: Judged): string => {
    const { pins, port } = meetings[0]!.socket;
    const looked = verdict.state === 'unsaid' && verdict.by.join() === 'walls';
    const who = looked ? '' : plug.board ? plug.board.card.name : plug.name;
    const where = looked ? pins.connector.name : `${port.bus?.name} ${pins.connector.name}`;
    return [plug.kind, who, where, verdict.state, verdict.by.join()].join('\n');
  };
  return grouped(judged, causeOf)
    .map((group) => {
      const [worst, ...others] = entriesOf(wrongMating, group, { inWords }) as [Entry, ...Entry[]];
      return { worst, others };
    })
    .sort((a, b) => a.worst.rank - b.worst.rank);
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
