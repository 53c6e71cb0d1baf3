import { edit, preferred, replacing } from '../checks/edits.ts';
import type { Edit, Finding } from '../checks/types.ts';
import { nearest } from '../language/problems.ts';
import type { Item } from '../language/tree.ts';
import { items, subjects } from '../language/tree.ts';
import type { Source } from '../machine/types.ts';
import { type Place, placeAt } from './place.ts';
import type { Analysis } from './project.ts';
import { readings } from './roles.ts';
import { describing } from './skeletons.ts';
import { labelsAround } from './tables.ts';

type Asked = Pick<Analysis, 'machine' | 'documents' | 'library'>;

/** What mends an error of the language that the parser and the machine's builder give no edit for, likeliest first. */
export function languageEdits(analysis: Asked, finding: Finding): Edit[] {
  const { rule, source } = finding;
  const document = analysis.documents.get(source.file);
  if (document === undefined) return [];
  const place = placeAt(document, source.from);
  switch (rule) {
    case 'name-unknown':
      return [...meantNames(analysis, place, source), ...describing(analysis, place, source)];
    case 'contact-unknown':
      return meantContact(analysis, place, source);
    case 'duplicate':
      return toldApart(analysis, finding, place);
    case 'use-missing':
      return meantTable(analysis, place, source);
    case 'use-cycle':
      return [edit('take this `use` out', { kind: 'remove', source })];
    case 'attribute-twice':
      return [preferred(edit('keep the first', { kind: 'replace', source, text: '' }))];
    case 'block-unclosed':
      return [closing(document.text, source)];
    case 'brace-misplaced':
      return document.text.slice(source.from, source.to) === '{' ? [replacing('remove it', source, '')] : [];
    default:
      return [];
  }
}

function closing(text: string, { file }: Source): Edit {
  const end = { file, from: text.length, to: text.length };
  const gap = text === '' || text.endsWith('\n') ? '' : '\n';
  return edit('close the block at the end of the file', { kind: 'replace', source: end, text: `${gap}}\n` });
}

// ---- names ----

/** The item that a finding marks. */
function itemAt({ entry }: Place, { from, to }: Source): Item | undefined {
  if (entry === undefined) return undefined;
  const { statement, offset } = entry;
  const values = [...statement.subject, ...statement.attributes.flatMap((one) => one.values)];
  return values.find(
    (value): value is Item =>
      value.kind === 'item' && offset + value.from === from && offset + value.to === to,
  );
}

function meantNames({ machine }: Asked, place: Place, source: Source): Edit[] {
  const { entry, attribute } = place;
  const item = itemAt(place, source);
  if (entry === undefined || item === undefined || item.last !== undefined || item.quoted) return [];
  const { form } = entry.statement;
  const reading = readings[form]?.[attribute?.key ?? ''];
  const meant = nearest(item.first, namesFor(machine, place, reading?.kind ?? '', form));
  return meant === undefined || meant === item.first ? [] : [replacing(`write \`${meant}\``, source, meant)];
}

/** What a name of this kind may be here. */
function namesFor(machine: Asked['machine'], { around, entry }: Place, kind: string, form: string): string[] {
  const of = (list: readonly { readonly name: string }[]): string[] => list.map(({ name }) => name);
  const outer = around[0] && subjects(around[0].statement)[0]?.first;
  const backplane = machine.backplanes.find(({ name }) => name === outer);
  const card = machine.cards.find(({ name }) => name === outer);
  switch (kind) {
    case 'supply':
      return of(machine.supplies);
    case 'connector':
      return of(machine.connectors);
    case 'bus':
    case 'buses':
      return of(machine.buses);
    case 'backplane':
      return of(machine.backplanes);
    case 'card':
      return of(machine.cards);
    case 'slot':
      return (backplane ?? machine.backplanes[0])?.slots.map(({ label }) => label) ?? [];
    case 'port':
      return of([...(card?.ports ?? []), ...(card?.edges ?? []), ...(backplane?.ports ?? [])]);
    case 'label':
      return machine.cards.flatMap(({ chips, biases }) => [
        ...chips.flatMap(({ names }) => names),
        ...biases.flatMap(({ as }) => as ?? []),
      ]);
    case 'place':
      return form === 'end'
        ? machine.instances.filter((one) => one.kind !== 'slot').map(({ path }) => path)
        : [];
    case 'name': {
      const from = entry && form === 'feed' ? items(entry.statement, 'from')[0]?.first : outer;
      const supply = machine.supplies.find(({ name }) => name === from);
      if (supply) return [...of(supply.rails), ...supply.grounds];
      const tables = [
        ...(backplane?.buses.map(({ bus }) => bus) ?? []),
        ...(card?.edges ?? []),
        ...(card?.ports ?? []),
      ];
      return tables.flatMap(({ pins }) => pins.claims.flatMap((claim) => (claim?.name ? [claim.name] : [])));
    }
    default:
      return [];
  }
}

/** A label that differs in its letters' case only. */
function meantContact({ machine }: Asked, place: Place, source: Source): Edit[] {
  const item = itemAt(place, source);
  const labels = labelsAround(machine, place.around);
  const meant = labels?.find((label) => label.toLowerCase() === item?.first.toLowerCase());
  if (meant === undefined || item?.last !== undefined) return [];
  return [replacing(`write \`${meant}\``, source, meant)];
}

function meantTable({ library }: Asked, { entry }: Place, { file }: Source): Edit[] {
  const [value] = entry?.statement.subject ?? [];
  if (entry === undefined || value?.kind !== 'text') return [];
  const meant = nearest(value.value.toLowerCase(), library.publishedNames);
  const source = { file, from: entry.offset + value.from, to: entry.offset + value.to };
  return meant === undefined ? [] : [replacing(`write \`"${meant}"\``, source, `"${meant}"`)];
}

// ---- what is said twice ----

function toldApart(
  { machine, documents }: Asked,
  { source, path }: Finding,
  { entry, around }: Place,
): Edit[] {
  if (entry === undefined) return [];
  const { statement, offset } = entry;
  const { form, subject } = statement;
  const first = subjects(statement)[0];
  const isBoard = (form === 'slot' || form === 'loose') && path.length > 0;
  if (isBoard) {
    const card = (form === 'slot' ? items(statement, 'is')[0] : first)?.first ?? '';
    const taken = new Set(
      [...machine.boards, ...machine.supplies, ...machine.backplanes].map(({ name }) => name),
    );
    const name = freeName(card, taken);
    return [edit(`name it \`${name}\``, { kind: 'say', source, say: { as: `as ${name}` } })];
  }
  if (form === 'slot') {
    const text = documents.get(source.file)!.text.slice(source.from, source.to);
    if (subject.length === 1 && first?.last === undefined)
      return [edit('take this line out', { kind: 'remove', source })];
    return text.includes('..')
      ? []
      : [edit(`take slot ${text} out of this line`, { kind: 'list', source, from: [text], to: [] })];
  }
  if (form === 'entry') return path[0] ? keptOne(documents, source, path[0].source) : [];
  if (first !== undefined && (around.length === 0 || form === 'port' || form === 'edge')) {
    const kin = around.length === 0 ? [] : around.at(-1)!.block!.entries;
    const others = [
      ...machine.cards,
      ...machine.buses,
      ...machine.connectors,
      ...machine.supplies,
      ...machine.ribbons,
    ];
    const taken = new Set([
      ...others.map(({ name }) => name),
      ...kin.flatMap((one) => subjects(one.statement).map((item) => item.first)),
    ]);
    const name = freeName(first.first, taken);
    const at = { file: source.file, from: offset + first.from, to: offset + first.to };
    return [edit(`name it \`${name}\``, { kind: 'replace', source: at, text: name })];
  }
  return around.length > 0 && path.length === 0 && form !== 'reading' && form !== 'numbers'
    ? [edit('take this line out', { kind: 'remove', source })]
    : [];
}

/** `RAM` → `RAM-B`, `J1` → `J2`: the next name of its kind that is free. */
function freeName(name: string, taken: ReadonlySet<string>): string {
  const [, stem = name, digits] = /^(.*?[A-Za-z])(\d+)$/.exec(name) ?? [];
  for (let n = 2; n < 1000; n++) {
    const letter = n <= 26 ? String.fromCharCode(64 + n) : String(n);
    const next = digits === undefined ? `${name}-${letter}` : `${stem}${Number(digits) + n - 1}`;
    if (!taken.has(next)) return next;
  }
  return `${name}-x`;
}

/** Of two lines for one contact either is taken out, the later first; never one that the meter vouches for. */
function keptOne(documents: Asked['documents'], later: Source, earlier: Source): Edit[] {
  return [
    { source: later, title: 'take this line out' },
    { source: earlier, title: 'keep this line, and take the earlier one out' },
  ].flatMap(({ source, title }) => {
    const document = documents.get(source.file);
    const entry = document && placeAt(document, source.from).entry;
    const [only, other] = entry?.statement.subject ?? [];
    const alone = only?.kind === 'item' && only.last === undefined && other === undefined;
    const metered = entry?.statement.attributes.some(
      ({ key, values }) =>
        key === 'by' && values.some((value) => value.kind === 'word' && value.text === 'meter'),
    );
    return alone && !metered ? [edit(title, { kind: 'remove', source })] : [];
  });
}
