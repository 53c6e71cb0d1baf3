import type { Finding } from '../checks/types.ts';
import type { Machine } from '../machine/types.ts';
import type { TreeIndex } from './tree-index.ts';
import type { Growing } from './tree-nodes.ts';

/** Counts each finding at the things it concerns and at all that hold them, once at each; all of them at the root. */
export function countFindings(
  root: Growing,
  findings: readonly Finding[],
  machine: Machine,
  index: TreeIndex,
): void {
  const lines = linesOf(machine);
  const counted = new Map<Growing, Finding>();
  for (const finding of findings) {
    for (const concerned of [root, ...concernedBy(finding, lines, index)]) {
      let node: Growing | undefined = concerned;
      while (node !== undefined && counted.get(node) !== finding) {
        counted.set(node, finding);
        node.counts[finding.severity]++;
        node = node.parent;
      }
    }
  }
}

/**
 * What a finding names and what its path touches; where there is neither, what the statement describes in which it
 * lies. A bus counts beside what else is named only in the backplanes that are.
 */
function concernedBy(
  { about, path, source }: Finding,
  lines: ReadonlySet<string>,
  index: TreeIndex,
): readonly Growing[] {
  const names = [
    // Lines and rails are named among the things: a board that is called like one is told by the path.
    ...about.filter((name) => !lines.has(name)),
    // A step that says nothing of how it is known is a remark, not a place.
    ...path.flatMap(({ contact, evidence }) => (evidence === '' ? [] : [contact])),
  ];
  const found = [...new Set(names)].flatMap((name) => index.named(name));
  if (found.length === 0) return index.describedAt(source.file, source.from);
  const things = found.filter(({ kind }) => kind !== 'bus');
  if (things.length === 0) return found;
  const backplanes = new Set(things.flatMap((node) => backplaneOf(node) ?? []));
  return [...things, ...found.filter((node) => node.kind === 'bus' && backplanes.has(node.parent!))];
}

function backplaneOf(node: Growing): Growing | undefined {
  let at: Growing | undefined = node;
  while (at !== undefined && at.kind !== 'backplane') at = at.parent;
  return at;
}

/** Every name that a rail, a ground, a line of a bus or a signal at a header or on a board has. */
function linesOf({ buses, instances, uses, railNames }: Machine): ReadonlySet<string> {
  const names = new Set([...railNames.rails.keys(), ...railNames.grounds.keys()]);
  for (const { card } of uses) names.add(card.name);
  for (const { claims } of new Set([...buses, ...instances].map(({ pins }) => pins)))
    for (const claim of claims) if (claim) for (const one of [claim.name, ...claim.aliases]) names.add(one);
  return names;
}
