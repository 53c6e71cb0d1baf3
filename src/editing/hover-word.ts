import { awgDiameter } from '../knowledge/wire.ts';
import { formNamed, formsWith } from '../language/forms.ts';
import type { Quantity } from '../language/tree.ts';
import { canonicalUnit, dimensionOf, measure, units } from '../language/units.ts';
import { meanings } from '../language/words.ts';
import { code, paragraphs } from './markdown.ts';
import type { Place } from './place.ts';

/** A word of the language or a quantity at a place: where it stands, from the start of its line, and what it means. */
export interface WordHover {
  readonly from: number;
  readonly to: number;
  readonly markdown: string;
}

/** What the word or quantity at a place means. Undefined where there is none, or where the words are the writer's. */
export function wordHover(place: Place): WordHover | undefined {
  const { entry, value, line, column } = place;
  if (value?.kind === 'quantity' && entry !== undefined) {
    const markdown = quantityHover(value);
    const shift = entry.offset - line.start;
    return markdown === undefined ? undefined : { from: value.from + shift, to: value.to + shift, markdown };
  }
  if (value?.kind === 'text' || value?.kind === 'date' || place.piece === undefined) return undefined;
  const word = wordAt(line.text, column);
  if (word === undefined) return undefined;
  const markdown = firstWord(place, word) ?? meaning(word.text);
  return markdown === undefined ? undefined : { from: word.from, to: word.to, markdown };
}

interface WordAt {
  readonly text: string;
  readonly from: number;
  readonly to: number;
}

const isLetter = (char: string | undefined): boolean => char !== undefined && /[a-z-]/.test(char);

function wordAt(text: string, column: number): WordAt | undefined {
  let [from, to] = [column, column];
  while (from > 0 && isLetter(text[from - 1])) from--;
  while (to < text.length && isLetter(text[to])) to++;
  const isWord = to > from && !/[\p{L}\p{N}_+*/~#$!."]/u.test((text[from - 1] ?? ' ') + (text[to] ?? ' '));
  return isWord ? { text: text.slice(from, to), from, to } : undefined;
}

/** The word that begins a line, by its line form: what the line says, and how it is written. */
function firstWord({ entry, line, kind, piece }: Place, { text, from }: WordAt): string | undefined {
  const start = entry === undefined ? piece!.from : entry.offset + entry.statement.from - line.start;
  if (from !== start) return undefined;
  const own = entry && formNamed(entry.statement.form);
  const form = own?.word === text ? own : formsWith(text).find(({ blocks }) => blocks.includes(kind));
  if (form === undefined) return undefined;
  return paragraphs([`**${code(text)}** ${form.says}`, `\`\`\`pinout\n${form.example}\n\`\`\``]);
}

function meaning(text: string): string | undefined {
  const says = meanings.get(text);
  return says === undefined ? undefined : `**${code(text)}** ${says}`;
}

/** What a quantity measures; in the plain unit too where it is written in another. */
function quantityHover(quantity: Quantity): string | undefined {
  const dimension = dimensionOf(quantity);
  const unit = canonicalUnit(quantity.unit);
  if (dimension === undefined || unit === undefined) return undefined;
  const value = measure(quantity, dimension);
  if (value === undefined) return undefined;
  const { low, high } = quantity;
  const title = `**${low}${high === undefined ? '' : `..${high}`} ${unit}** ${dimension}`;
  if (dimension === 'percent') return `**${low}${high === undefined ? '' : `..${high}`} ${unit}** either way`;
  if (dimension === 'gauge')
    return `${title} of the wire: ${Number((awgDiameter(value.low) * 1e3).toPrecision(3))} mm across`;
  const plainUnit = [...units].find(([, one]) => one.dimension === dimension && one.factor === 1)?.[0];
  if (plainUnit === undefined || plainUnit === unit) return title;
  const number = (one: number): string => String(Number(one.toPrecision(6)));
  const range = high === undefined ? number(value.low) : `${number(value.low)} to ${number(value.high)}`;
  return `${title}: ${range} ${plainUnit}`;
}
