import { tallyOf } from '../analysis/tally.ts';
import type { Block, Document, Entry, Item, Value } from '../language/tree.ts';
import { attribute, items } from '../language/tree.ts';
import { copperOn, isAbsent } from '../machine/copper.ts';
import { expandLabels, vectorName } from '../machine/names.ts';
import { contacts, names, Problems } from '../machine/scope.ts';
import type { Card, Connector } from '../machine/types.ts';
import { placesOf } from './declared.ts';
import { counted } from './markdown.ts';
import type { Analysis } from './project.ts';
import type { TextRange } from './semantic-tokens.ts';

/** Words that stand in the text without being part of it, behind an offset. */
export interface InlayHint {
  readonly offset: number;
  readonly label: string;
}

/** Which hints are wanted: what ranges stand for, and how much is left open. */
export interface HintKinds {
  readonly ranges: boolean;
  readonly unknown: boolean;
}

/** The hints of a part of a file, in the order of the text. */
export function inlayHints(
  analysis: Analysis,
  file: string,
  range: TextRange,
  { ranges, unknown }: HintKinds,
): InlayHint[] {
  const document = analysis.documents.get(file);
  if (document === undefined) return [];
  const places = placesOf(analysis.machine, file);
  const hints: InlayHint[] = [];
  const visible = (from: number, to: number): boolean => to >= range.from && from <= range.to;
  const block = (entry: Entry & { readonly block: Block }, outer?: Card): void => {
    const end = document.lines[entry.block.end]!;
    if (!visible(entry.offset, end.start + end.text.length)) return;
    const place = places.get(entry.offset + entry.statement.from);
    const isTable = place?.kind === 'bus' || place?.kind === 'port' || place?.kind === 'edge';
    const connector = isTable ? place.of.pins.connector : undefined;
    const card = place?.kind === 'card' ? place.of : outer;
    for (const one of entry.block.entries) {
      const { offset, statement } = one;
      if (one.block) block({ ...one, block: one.block }, card);
      else if (!visible(offset, offset + statement.to)) continue;
      else if (ranges && statement.form === 'entry' && connector)
        hints.push(...ofEntry(file, one, connector));
      else if (ranges && statement.form === 'numbers')
        hints.push(...statement.subject.flatMap(ofNumbers(offset)));
      else if (unknown && statement.form === 'untouched' && card) hints.push(...ofRest(one, card));
    }
    if (unknown && isTable) hints.push(...ofTable(document, entry.block, place.of.pins));
  };
  for (const entry of document.root.entries) if (entry.block) block({ ...entry, block: entry.block });
  const inRange = hints.filter(({ offset }) => visible(offset, offset));
  return inRange.sort((a, b) => a.offset - b.offset);
}

// ---- what ranges stand for ----

const ofNumbers =
  (offset: number) =>
  (value: Value): InlayHint[] => {
    if (value.kind !== 'item' || value.last === undefined) return [];
    const labels = expandLabels(value.first, value.last);
    return 'problem' in labels ? [] : skipped(value, offset, new Set(labels));
  };

/** One hint at the end of a table line: amid the line it would push the columns apart. */
function ofEntry(file: string, entry: Entry, connector: Connector): InlayHint[] {
  const { statement, offset } = entry;
  const has = (label: string): boolean => connector.indexOf.has(label);
  const contactItems = [...statement.subject, ...items(statement, 'out')].filter(isItem);
  const skips = contactItems.flatMap((item) => skipped(item, offset, { has }).map(({ label }) => label));
  const labels = [...skips, ...pairing(file, entry, connector)];
  return labels.length === 0 ? [] : [{ offset: offset + statement.to, label: labels.join('; ') }];
}

const isItem = (value: Value): value is Item => value.kind === 'item';

/** The first and the last pair of contact and name, where it has to be worked out which meets which. */
function pairing(file: string, entry: Entry, connector: Connector): string[] {
  const { statement } = entry;
  const is = attribute(statement, 'is');
  if (is === undefined || !isCrossed(statement.subject, is.values, connector)) return [];
  const said = { file, entry };
  const at = contacts(said, statement.subject, connector, new Problems());
  const named = names(said, is.values, new Problems());
  const count = Math.min(at.length, named.length);
  if (count < 2) return [];
  const pair = (i: number): string => `${connector.labels[at[i]!.index]} = ${named[i]!.name}`;
  return [`${pair(0)} … ${pair(count - 1)}`];
}

/** Letters that a range of them leaves out: `A..Z` on an edge skips G I O Q. */
function skipped(
  { first, last, to }: Item,
  offset: number,
  labels: { has(label: string): boolean },
): InlayHint[] {
  const lettered = /^([A-Z])\1?$/i;
  if (last === undefined || first.length !== last.length || !lettered.test(first) || !lettered.test(last))
    return [];
  const missing: string[] = [];
  const [low, high] = [first.charCodeAt(0), last.charCodeAt(0)].sort((a, b) => a - b) as [number, number];
  for (let letter = low; letter <= high; letter++) {
    const label = String.fromCharCode(letter).repeat(first.length);
    if (!labels.has(label)) missing.push(label);
  }
  // Letters of which the connector has none at all are an error, which the text shows already.
  const some = missing.length > 0 && missing.length <= high - low;
  return some ? [{ offset: offset + to, label: `skips ${missing.join(' ')}` }] : [];
}

/** Whether contacts and names pair off in a way that one has to work out: by steps, or against each other's direction. */
function isCrossed(left: readonly Value[], right: readonly Value[], { indexOf }: Connector): boolean {
  const isRange = (value: Value): value is Item => value.kind === 'item' && value.last !== undefined;
  const [at, named] = [left.filter(isRange), right.filter(isRange)];
  if (named.length === 0) return false;
  if ([...at, ...named].some(({ step = 1 }) => step > 1)) return true;
  const up = at.some(({ first, last }) => (indexOf.get(first) ?? 0) < (indexOf.get(last!) ?? 0));
  const down = at.some(({ first, last }) => (indexOf.get(first) ?? 0) > (indexOf.get(last!) ?? 0));
  const number = (name: string): number => vectorName(name)?.number ?? 0;
  return named.some(({ first, last }) => {
    const [one, other] = [number(first), number(last!)];
    return (one > other && up) || (one < other && down);
  });
}

// ---- what is left open ----

/** How many contacts `untouched rest` stands for. */
function ofRest({ offset, statement }: Entry, card: Card): InlayHint[] {
  const [word] = statement.subject;
  if (word?.kind !== 'word') return [];
  let count = 0;
  for (const { pins } of [...card.edges, ...card.ports]) {
    const copper = copperOn(card, pins);
    for (let i = 0; i < pins.claims.length; i++) {
      if (!isAbsent(pins, i) && copper[i] === 'no') count++;
    }
  }
  return count === 0 ? [] : [{ offset: offset + word.to, label: counted(count, 'contact') }];
}

/** Behind the brace that closes a table: what is not known of its contacts. */
function ofTable({ lines }: Document, { end }: Block, pins: Parameters<typeof tallyOf>[0]): InlayHint[] {
  const line = lines[end]!;
  const brace = line.pieces.find(({ kind }) => kind === 'close');
  const { unsaid, unknown } = tallyOf(pins);
  const parts = [
    ...(unsaid > 0 ? [`${counted(unsaid, 'contact')} unsaid`] : []),
    ...(unknown > 0 ? [`${unknown} unknown`] : []),
  ];
  return brace === undefined || parts.length === 0
    ? []
    : [{ offset: line.start + brace.to, label: parts.join(', ') }];
}
