/** An element's attributes; undefined leaves one out. Numbers are in user units, which are CSS pixels. */
type Attributes = Readonly<Record<string, string | number | undefined>>;

/** One element with what is in it, as SVG text. */
export function element(name: string, attributes: Attributes, ...content: readonly string[]): string {
  let text = `<${name}`;
  for (const [key, value] of Object.entries(attributes)) {
    if (value === undefined) continue;
    text += ` ${key}="${typeof value === 'number' ? short(value) : escaped(value)}"`;
  }
  const inside = content.join('');
  return inside === '' ? `${text}/>` : `${text}>${inside}</${name}>`;
}

/** Hundredths of a pixel are enough. */
const short = (value: number): string => String(Math.round(value * 100) / 100);

/** Control characters and halves of characters, for which XML 1.0 has no place, and what turns or breaks a text unseen. */
const UNFIT = /[\p{Cc}\p{Cs}\p{Cf}\p{Zl}\p{Zp}\ufffe\uffff]/gu;

const ENTITIES: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&#39;',
};

/** Any text as it may stand in content and attributes: nothing in it is markup, and what cannot be shown is a box. */
export const escaped = (text: string): string =>
  text.replace(UNFIT, '\ufffd').replace(/[&<>"']/g, (one) => ENTITIES[one]!);

/** px that a character of the drawing's fonts takes at most, of its size: names are mostly capitals and digits. */
const WIDTH = 0.62;
/** Broad letters, scripts whose characters fill a square, and what is shown as a box, take this many times as much. */
const BROAD = /[MW@%\p{Cc}\p{Cf}\p{Cs}]|[^\0-\u10ff]/u;
const TIMES = 1.65;

/** px */
export function widthOf(text: string, size: number): number {
  let units = 0;
  for (const one of text) units += BROAD.test(one) ? TIMES : 1;
  return units * size * WIDTH;
}

/** The text as far as it goes into a width in px; what is cut is shown to be. */
function fitted(text: string, width: number, size: number): string {
  // Widths that were reckoned from the text itself must hold it.
  const room = width / (size * WIDTH) + 0.01;
  let [units, kept] = [0, ''];
  for (const one of text) {
    units += BROAD.test(one) ? TIMES : 1;
    if (units > room) return `${kept}\u2026`;
    if (units <= room - TIMES) kept += one;
  }
  return text;
}

/** A text in its place; cut to a width in px where one is given, and then told whole where one points. */
export function label(text: string, attributes: Attributes, width?: number, size = 11): string {
  const shown = width === undefined ? text : fitted(text, width, size);
  const whole = shown === text ? '' : element('title', {}, escaped(text));
  return element('text', attributes, whole, escaped(shown));
}

/** A drawing of some size in px. */
export interface Sheet {
  readonly name: string;
  readonly width: number;
  readonly height: number;
  readonly content: readonly string[];
}

/** A drawing as one element, with what stands before its content: in a file its palette, in a page nothing. */
export function svgElement(
  { name, width, height, content }: Sheet,
  before: readonly string[] = [],
  length: (px: number) => string | number = (px) => px,
): string {
  const root = {
    xmlns: 'http://www.w3.org/2000/svg',
    viewBox: `0 0 ${width} ${height}`,
    width: length(width),
    height: length(height),
    role: 'img',
  };
  return element('svg', root, element('title', {}, escaped(name)), ...before, ...content);
}
