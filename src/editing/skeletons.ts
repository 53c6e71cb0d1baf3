import { edit, writtenNames } from '../checks/edits.ts';
import type { Edit } from '../checks/types.ts';
import type { Entry } from '../language/tree.ts';
import { items, subjects } from '../language/tree.ts';
import { expandVector, isGroundName, voltsOfName } from '../machine/names.ts';
import type { Machine, Source } from '../machine/types.ts';
import type { Place } from './place.ts';
import { statementsOf } from './place.ts';
import type { Analysis } from './project.ts';

type Asked = Pick<Analysis, 'machine' | 'documents'>;

/** The block that a name lacks, with as much in it as the text already says. What nobody knows stays unsaid. */
export function describing(analysis: Asked, place: Place, source: Source): Edit[] {
  const { entry, attribute: part } = place;
  if (entry === undefined) return [];
  const { form } = entry.statement;
  const key = part?.key ?? '';
  const name = nameAt(entry, source);
  if (name === undefined) return [];
  if (form === 'slot' && key === 'is') return card(analysis.machine, place, name, source);
  if (form === 'loose' && key === '') return [block(`describe card ${name}`, [`card ${name} {`], source)];
  if (form === 'feed' && key === 'from') return supply(analysis, name, source);
  if (form === 'fitted' && key === '') return backplane(analysis.machine, entry, name, source);
  if (form === 'slots' || (form === 'edge' && key === 'on')) return bus(analysis.machine, name, source);
  return [];
}

const block = (title: string, lines: readonly string[], after: Source): Edit =>
  edit(title, { kind: 'block', lines: [...lines, '}'], after });

/** The single name that a finding marks. */
function nameAt({ statement, offset }: Entry, { from, to }: Source): string | undefined {
  const values = [...statement.subject, ...statement.attributes.flatMap((one) => one.values)];
  const item = values.find((value) => offset + value.from === from && offset + value.to === to);
  return item?.kind === 'item' && item.last === undefined && !item.quoted ? item.first : undefined;
}

/** A card for what a slot line names, made for the buses of that slot; behind the last card of the file. */
function card(
  { backplanes, cards }: Machine,
  { around, entry }: Place,
  name: string,
  source: Source,
): Edit[] {
  const cage = around[0] && subjects(around[0].statement)[0]?.first;
  const backplane = backplanes.find((one) => one.name === cage);
  const label = entry && subjects(entry.statement)[0]?.first;
  const slot = backplane?.slots.find((one) => one.label === label) ?? backplane?.slots[0];
  const instances = slot?.instances ?? [];
  const edges = instances.map(({ port }) =>
    instances.length > 1 ? `edge ${port.name} on ${port.bus!.name}` : `edge on ${port.bus!.name}`,
  );
  const last = cards.findLast((one) => one.source.file === source.file);
  return [block(`describe card ${name}`, [`card ${name} {`, ...edges], last?.source ?? source)];
}

/** A supply with the rails and grounds that are fed from it, at the volts that their names say. */
function supply({ documents }: Asked, name: string, source: Source): Edit[] {
  const fed = new Set<string>();
  for (const document of documents.values()) {
    for (const { entry } of statementsOf(document)) {
      const { statement } = entry;
      if (statement.form !== 'feed' || items(statement, 'from')[0]?.first !== name) continue;
      for (const { first } of subjects(statement)) fed.add(first);
    }
  }
  const rails = [...fed].flatMap((rail) => {
    const volts = voltsOfName(rail);
    return volts === undefined ? [] : [`rail ${rail} ${volts} V`];
  });
  const grounds = [...fed].filter(isGroundName);
  const ground = grounds.length > 0 ? [`ground ${grounds.join(', ')}`] : [];
  return [block(`describe supply ${name}`, [`supply ${name} {`, ...rails, ...ground], source)];
}

/** A backplane with the slots that are filled; one edit for each bus that they may carry. */
function backplane({ buses }: Machine, { block: table }: Entry, name: string, source: Source): Edit[] {
  const labels = (table?.entries ?? []).flatMap(({ statement }) =>
    subjects(statement).flatMap(({ first, last }) => {
      const all = last === undefined ? [first] : expandVector(first, last);
      return 'problem' in all ? [first] : all;
    }),
  );
  if (labels.length === 0) return [];
  const slots = writtenNames(labels);
  return buses.map((one) =>
    block(
      `describe backplane ${name} with bus ${one.name}`,
      [`backplane ${name} {`, `slots ${slots} on ${one.name}`],
      source,
    ),
  );
}

/** A bus without lines yet; one edit for each edge connector that it may sit on. */
function bus({ connectors }: Machine, name: string, source: Source): Edit[] {
  return connectors
    .filter(({ shape, labels }) => (shape === 'edge' || shape === 'din') && labels.length > 0)
    .map((one) => block(`describe bus ${name} on ${one.name}`, [`bus ${name} on ${one.name} {`], source));
}
