import { spokenList } from '../checks/lists.ts';
import type { Instance, PinMap } from '../machine/types.ts';
import type { Judged } from './mismate-entries.ts';

/** A table of contacts, some of which nobody knows, with the ways that meet those. */
interface Doubt {
  readonly pins: PinMap;
  readonly met: Set<number>;
  readonly ways: Set<Judged>;
}

/** Which contacts to find out first: the unknown ones of the bus or port that most of these ways meet. */
export function whatToFindOut(unjudged: readonly Judged[]): string {
  const doubts = new Map<string, Doubt>();
  const doubtOf = (name: string, pins: PinMap): Doubt => {
    const known = doubts.get(name) ?? { pins, met: new Set(), ways: new Set() };
    doubts.set(name, known);
    return known;
  };
  for (const judged of unjudged) {
    for (const { part, socket, pairs } of judged.one.meetings) {
      const plug = part.edge ?? part.home;
      for (let k = 0; k < pairs.length; k += 2) {
        for (const [at, contact] of [
          [plug, pairs[k]!],
          [socket, pairs[k + 1]!],
        ] as const) {
          if (at === undefined || !isUnknown(at.pins, contact)) continue;
          const { met, ways } = doubtOf(ownerOf(at), at.pins);
          met.add(contact);
          ways.add(judged);
        }
      }
    }
  }
  const [first] = [...doubts].sort(([, a], [, b]) => b.ways.size - a.ways.size);
  if (first === undefined) return 'find out what the parts on the lines that meet there are';
  const [name, { pins, met, ways }] = first;
  const all = ways.size === unjudged.length ? 'all of them meet' : `${ways.size} of them meet`;
  return `find out first what ${spokenContactRuns(pins, met)} of ${name} are, which ${all}`;
}

const isUnknown = ({ claims }: PinMap, contact: number): boolean =>
  (claims[contact]?.kind ?? 'unknown') === 'unknown';

/** A bus says what its slots' and boards' contacts are; a port speaks for itself. */
const ownerOf = ({ port, path }: Instance): string => port.bus?.name ?? path;

/** `16..18 and L..V`: neighbours in the order of the connector, numbers and letters apart. */
function spokenContactRuns({ connector: { labels } }: PinMap, contacts: ReadonlySet<number>): string {
  const runs: number[][] = [];
  for (const one of [...contacts].sort((a, b) => a - b)) {
    const run = runs.at(-1);
    const last = run?.at(-1);
    if (last === one - 1 && isNumber(labels[last]!) === isNumber(labels[one]!)) run!.push(one);
    else runs.push([one]);
  }
  const said = runs.flatMap((run) => {
    const names = run.map((one) => labels[one]!);
    return names.length > 2 ? [`${names[0]}..${names.at(-1)}`] : names;
  });
  return spokenList(said, MOST_RUNS);
}

const isNumber = (label: string): boolean => /^\d/.test(label);

const MOST_RUNS = 8;
