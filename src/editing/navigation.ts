import { contactOf } from './contacts.ts';
import { meaningAt } from './meaning.ts';
import type { Analysis, Project } from './project.ts';
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
export function definitionAt(project: Project, file: string, offset: number): Definition | undefined {
  const analysis = project.of(file);
  const occurrence = analysis?.symbols.at(file, offset);
  if (analysis === undefined || occurrence === undefined) return undefined;
  const found =
    occurrence.kind === 'contact' ? contactTable(analysis, occurrence) : declarations(analysis, occurrence);
  if (found.length === 0) return undefined;
  const targets = found.map((one) => ({ ...locationOf(one), statement: statementOf(one) }));
  return { origin: locationOf(occurrence), targets };
}

/** Every place that means the same as the name at an offset, in the order of the files and their text. */
export function referencesAt(
  project: Project,
  file: string,
  offset: number,
  declarations = true,
): Location[] {
  const places = meaningAt(project, file, offset)?.places ?? [];
  return places.filter(({ defines }) => declarations || !defines).map(locationOf);
}

/** The places of this file that mean the same as the name at an offset, those that declare it apart. */
export function highlightsAt(
  project: Project,
  file: string,
  offset: number,
): (Location & { readonly declares: boolean })[] {
  const analysis = project.of(file);
  const keys = analysis?.symbols.at(file, offset)?.keys ?? [];
  const found = new Set(keys.flatMap((key) => analysis!.symbols.of(key)));
  return [...found]
    .filter((one) => one.file === file)
    .map((one) => ({ ...locationOf(one), declares: one.defines }));
}

/** A rail or line is declared by its supply or bus where one does; in a card's table only where nothing else has it. */
function declarations({ symbols }: Analysis, { keys }: Occurrence): Occurrence[] {
  const found = [...new Set(keys.flatMap((key) => symbols.of(key)))].filter(({ defines }) => defines);
  const best = Math.min(...found.map(rankOf));
  return found.filter((one) => rankOf(one) === best);
}

function rankOf({ kind, entry, around }: Occurrence): number {
  if (kind !== 'name' || entry.statement.form !== 'entry') return 0;
  return around[0]?.statement.form === 'bus' ? 1 : 2;
}

/** The table line that says what a contact is. */
function contactTable(analysis: Analysis, occurrence: Occurrence): Occurrence[] {
  const source = contactOf(analysis, occurrence)?.claim?.source;
  if (source === undefined) return [];
  const isThere = ({ kind, entry: { offset, statement } }: Occurrence): boolean =>
    kind === 'contact' && offset + statement.from <= source.from && source.to <= offset + statement.to;
  return analysis.symbols.in(source.file).filter(isThere).slice(0, 1);
}

const locationOf = ({ file, from, to }: Occurrence): Location => ({ file, from, to });

const statementOf = ({ file, entry: { offset, statement } }: Occurrence): Location => ({
  file,
  from: offset + statement.from,
  to: offset + statement.to,
});
