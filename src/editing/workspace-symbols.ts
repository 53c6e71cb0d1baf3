import { isPublished } from '../machine/uses.ts';
import type { Project } from './project.ts';
import type { SymbolKind } from './roles.ts';
import type { Occurrence } from './symbols.ts';

export interface WorkspaceSymbol {
  readonly name: string;
  readonly kind: SymbolKind;
  /** The block that it stands in: `MAIN`; empty outside the blocks. */
  readonly container: string;
  readonly file: string;
  readonly from: number;
  readonly to: number;
}

/** More than anyone reads; a longer query finds the rest. */
const MOST = 500;

/**
 * What is declared in the files of a project and holds the letters of a query, in this order and whatever their case.
 * A member of a vector (`D3` of `D0..D7`) is found by its own name.
 */
export function workspaceSymbols(project: Project, query: string): WorkspaceSymbol[] {
  const found: WorkspaceSymbol[] = [];
  for (const file of project.names()) {
    if (isPublished(file)) continue;
    for (const one of project.of(file)?.symbols.in(file) ?? []) {
      if (!one.defines || !SHOWN.has(one.kind)) continue;
      for (const name of namesOf(one, query)) {
        const { kind, from, to } = one;
        found.push({ name, kind, container: containerOf(one), file, from, to });
        if (found.length === MOST) return found;
      }
    }
  }
  return found;
}

/** Contacts, slots and the parts of a card are found through what they belong to. */
const SHOWN = new Set<SymbolKind>([
  ...(['supply', 'connector', 'bus', 'backplane', 'card', 'board', 'port'] as const),
  ...(['ribbon', 'cable', 'part', 'name'] as const),
]);

/** A vector goes by what is written where that fits, else by the members that do. */
function namesOf({ names, range }: Occurrence, query: string): readonly string[] {
  const written = range ? [`${range.first}..${range.last}`] : names;
  const whole = written.filter((name) => fits(name, query));
  return whole.length > 0 ? whole : names.filter((name) => fits(name, query));
}

function containerOf({ around }: Occurrence): string {
  const subject = around[0]?.statement.subject[0];
  return subject?.kind === 'item' ? subject.first : '';
}

/** Whether a name holds the query's letters in their order. */
function fits(name: string, query: string): boolean {
  const [where, what] = [name.toLowerCase(), query.trim().toLowerCase()];
  let at = 0;
  for (const letter of what) {
    const found = where.indexOf(letter, at);
    if (found < 0) return false;
    at = found + letter.length;
  }
  return true;
}
