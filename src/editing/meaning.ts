import type { Analysis, Project } from './project.ts';
import type { Occurrence } from './symbols.ts';

/** Everything that means the same as one name, over all machines that share it. */
export interface Meaning {
  /** The name that was asked about. */
  readonly occurrence: Occurrence;
  /** Each place once. */
  readonly places: readonly Occurrence[];
  readonly machines: readonly Analysis[];
}

/**
 * What the name at an offset means. A file that several machines use takes the others along: what is declared there is
 * one thing for all of them.
 */
export function meaningAt(project: Project, file: string, offset: number): Meaning | undefined {
  const occurrence = project.of(file)?.symbols.at(file, offset);
  if (occurrence === undefined || occurrence.keys.length === 0) return undefined;
  const places = new Map<string, Occurrence>();
  const machines = new Set<Analysis>();
  const pending = [occurrence];
  for (const one of pending) {
    for (const root of project.rootsOf(one.file)) {
      const analysis = project.analysis(root);
      if (analysis === undefined || machines.has(analysis)) continue;
      machines.add(analysis);
      // The same place may have been read in another machine before: here it has keys of its own.
      const here = analysis.symbols.at(one.file, one.from);
      for (const same of (here?.keys ?? []).flatMap((key) => analysis.symbols.of(key))) {
        const place = `${same.file}\n${same.from}`;
        if (places.has(place)) continue;
        places.set(place, same);
        pending.push(same);
      }
    }
  }
  const order = [...places.values()].sort((a, b) =>
    a.file < b.file ? -1 : a.file > b.file ? 1 : a.from - b.from,
  );
  return { occurrence, places: order, machines: [...machines] };
}
