import { contactOf } from './contacts.ts';
import type { Analysis } from './project.ts';
import type { Occurrence } from './symbols.ts';

/** A place in a file. */
export interface Location {
  readonly file: string;
  readonly from: number;
  readonly to: number;
}

export interface Definition {
  /** The name that was asked about. */
  readonly origin: Location;
  /** Where it is declared, and the whole statement that does. */
  readonly targets: readonly (Location & { readonly statement: Location })[];
}

/** Where the name or contact at an offset is declared. Undefined where there is nothing to follow. */
export function definitionAt(analysis: Analysis, file: string, offset: number): Definition | undefined {
  const occurrence = analysis.symbols.at(file, offset);
  if (occurrence === undefined) return undefined;
  const targets =
    occurrence.kind === 'contact' ? contactTable(analysis, occurrence) : declarations(analysis, occurrence);
  return targets.length === 0
    ? undefined
    : {
        origin: locationOf(occurrence),
        targets: targets.map((one) => ({ ...locationOf(one), statement: statementOf(one) })),
      };
}

/** Every place that means the same as the name at an offset, in the order of the files and their text. */
export function referencesAt(
  analysis: Analysis,
  file: string,
  offset: number,
  declared = true,
): readonly Occurrence[] {
  const occurrence = analysis.symbols.at(file, offset);
  if (occurrence === undefined) return [];
  const found = new Set(occurrence.keys.flatMap((key) => analysis.symbols.of(key)));
  return [...found].filter((one) => declared || !one.defines);
}

/** The places of this file that mean the same as the name at an offset: those that declare it apart. */
export function highlightsAt(
  analysis: Analysis,
  file: string,
  offset: number,
): readonly (Location & { readonly declares: boolean })[] {
  return referencesAt(analysis, file, offset)
    .filter((one) => one.file === file)
    .map((one) => ({ ...locationOf(one), declares: one.defines }));
}

/** A rail or line is declared by its supply or bus where one does; in a card's table only where nothing else has it. */
function declarations({ symbols }: Analysis, { keys }: Occurrence): Occurrence[] {
  const found = [...new Set(keys.flatMap((key) => symbols.of(key)))].filter(({ defines }) => defines);
  const ranks = found.map(rankOf);
  const best = Math.min(...ranks);
  return found.filter((_, i) => ranks[i] === best);
}

function rankOf({ kind, entry, around }: Occurrence): number {
  if (kind !== 'name') return 0;
  if (entry.statement.form !== 'entry') return 0;
  return around[0]?.statement.form === 'bus' ? 1 : 2;
}

/** The table line that says what a contact is. */
function contactTable(analysis: Analysis, occurrence: Occurrence): Occurrence[] {
  const source = contactOf(analysis, occurrence)?.claim?.source;
  if (source === undefined) return [];
  const isThere = ({ kind, entry }: Occurrence): boolean =>
    kind === 'contact' && entry.offset + entry.statement.from === source.from;
  return analysis.symbols.in(source.file).filter(isThere).slice(0, 1);
}

const locationOf = ({ file, from, to }: Occurrence): Location => ({ file, from, to });

const statementOf = ({ file, entry: { offset, statement } }: Occurrence): Location => ({
  file,
  from: offset + statement.from,
  to: offset + statement.to,
});
