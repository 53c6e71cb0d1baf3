import type { Case } from '../analysis/wrong-mating/cases.ts';
import { pushOf, RANKS } from '../analysis/wrong-mating/harms.ts';
import { wrongMatingOf } from '../analysis/wrong-mating/wrong-mating.ts';
import type { Ribbon } from '../machine/types.ts';
import { spokenList } from './lists.ts';
import { matings } from './matings.ts';
import type { Finding, Rule, View } from './types.ts';

/** A ribbon or harness that can be plugged in turned, or whose connectors are. */
export const ribbonTurned: Rule = {
  id: 'ribbon-turned',
  severity: 'warning',
  summary: 'a ribbon, cable or harness can be plugged in turned, and does harm',
  *check(view) {
    const isMeant = ({ plug, fault }: Case): boolean => plug.kind !== 'board' && fault === 'turned';
    const told = new Set<string>();
    for (const finding of matings('ribbon-turned', view, isMeant)) {
      for (const name of finding.about) told.add(name);
      yield finding;
    }
    yield* bothTurned(view);
    yield* harmless(view, (one) => isMeant(one) && !told.has(one.plug.name));
  },
};

/** Two connectors turned on one ribbon undo each other: nothing is wrong until one of them is put right. */
function* bothTurned({ machine }: View): Iterable<Finding> {
  for (const { name, ends, source } of machine.ribbons) {
    const known = ends.filter(({ instance }) => instance !== undefined);
    if (known.length < 2 || !known.every(({ turned }) => turned)) continue;
    const places = known.map(({ place }) => place);
    yield {
      rule: 'ribbon-turned',
      severity: 'note',
      message: `the connectors of ${name} at ${spokenList(places)} are all turned on the ribbon: they undo each other, and the stripe is at the last contact`,
      source,
      path: [],
      fix: 'leave them as they are, or do all of them again; one alone would turn the ribbon round',
      about: [name, ...places],
    };
  }
}

/** A ribbon that may be turned without harm, because nothing but open collectors and inputs meets ground: it is said, so that nobody need wonder. */
function* harmless({ machine }: View, isMeant: (one: Case) => boolean): Iterable<Finding> {
  const wrong = wrongMatingOf(machine);
  const told = new Set<Ribbon>();
  for (const one of wrong.open()) {
    const ribbon = one.plug.ribbon;
    if (ribbon === undefined || told.has(ribbon) || !isMeant(one) || one.way.shift !== 0) continue;
    const { rank, unknown } = wrong.outcome(one);
    if (rank !== RANKS['ground-on-line'] || unknown > 0) continue;
    const uses = wrong.harms(one).flatMap((harm) => harm.uses ?? []);
    if (!uses.some((use) => pushOf(machine, use) === 'down')) continue;
    told.add(ribbon);
    const { source, place } = ribbon.ends[one.plug.end!]!;
    yield {
      rule: 'ribbon-turned',
      severity: 'note',
      message: `${ribbon.name} can be plugged in turned; it will not work so, but does no harm: all its lines that meet ground are pulled by open collectors, or are inputs`,
      source,
      path: [],
      fix: 'mark contact 1 on plug and header',
      about: [ribbon.name, place],
    };
  }
}
