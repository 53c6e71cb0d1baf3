import sax from 'sax';
import { widthOf } from '../../src/drawing/svg.ts';

/** An element of an SVG text, where it stands. */
export interface Drawn {
  readonly name: string;
  readonly attributes: Readonly<Record<string, string>>;
  /** What is written in it, without its `<title>`. */
  readonly text: string;
  readonly title: string;
  /** Names of the elements and classes of the groups around it. */
  readonly inside: readonly string[];
  /** From its own units to those of the picture: a, b, c, d, e, f as in SVG. */
  readonly matrix: Matrix;
}

type Matrix = readonly [number, number, number, number, number, number];

/** Its types do not know the first of these. */
const STRICT = { strictEntities: true, xmlns: false };

const NOT_XML = /[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\u{10000}-\u{10ffff}]/u;

/** Reads an SVG text as XML; throws where it is not well-formed. Elements in the order in which they end. */
export function readSvg(text: string): Drawn[] {
  const bad = NOT_XML.exec(text);
  if (bad) throw new Error(`no character of XML: U+${bad[0].codePointAt(0)!.toString(16)}`);
  // XML has no such thing; the parser lets it pass.
  if (/="[^"<>]*<[^"]*"/.test(text)) throw new Error('an attribute with an open angle bracket in it');
  const parser = sax.parser(true, STRICT);
  const open: {
    name: string;
    attributes: Record<string, string>;
    text: string;
    title: string;
    matrix: Matrix;
  }[] = [];
  const done: Drawn[] = [];
  parser.onerror = (error) => {
    throw error;
  };
  parser.onopentag = ({ name, attributes: all }) => {
    const attributes = Object.fromEntries(Object.entries(all).map(([key, value]) => [key, String(value)]));
    const matrix = times(open.at(-1)?.matrix ?? [1, 0, 0, 1, 0, 0], matrixOf(attributes.transform ?? ''));
    open.push({ name, attributes, text: '', title: '', matrix });
  };
  parser.ontext = (written) => {
    const [last, before] = [open.at(-1), open.at(-2)];
    if (last?.name === 'title' && before) before.title += written;
    else if (last) last.text += written;
  };
  parser.onclosetag = () => {
    const inside = open.slice(0, -1).map(({ name, attributes }) => `${name} ${attributes.class ?? ''}`);
    done.push({ ...open.pop()!, inside });
  };
  parser.write(text).close();
  return done;
}

function matrixOf(transform: string): Matrix {
  let matrix: Matrix = [1, 0, 0, 1, 0, 0];
  for (const [, name, list] of transform.matchAll(/(\w+)\(([^)]*)\)/g)) {
    const [a = 0, b = 0] = list!.split(/[ ,]+/).map(Number);
    if (name === 'translate') matrix = times(matrix, [1, 0, 0, 1, a, b]);
    else if (name === 'scale') matrix = times(matrix, [a, 0, 0, a, 0, 0]);
    else if (name === 'rotate') {
      const [sin, cos] = [Math.sin((a * Math.PI) / 180), Math.cos((a * Math.PI) / 180)];
      matrix = times(matrix, [cos, sin, -sin, cos, 0, 0]);
    } else throw new Error(`unread transform ${transform}`);
  }
  return matrix;
}

const times = ([a, b, c, d, e, f]: Matrix, [g, h, i, j, k, l]: Matrix): Matrix => [
  a * g + c * h,
  b * g + d * h,
  a * i + c * j,
  b * i + d * j,
  a * k + c * l + e,
  b * k + d * l + f,
];

/** A point of an element in units of the picture. */
export const placed = ({ matrix: [a, b, c, d, e, f] }: Drawn, x = 0, y = 0): { x: number; y: number } => ({
  x: a * x + c * y + e,
  y: b * x + d * y + f,
});

interface Box {
  readonly text: string;
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

/** px of a text by its class, as the palette has them. */
const SIZES: Readonly<Record<string, number>> = { mono: 10, value: 9, amount: 9 };

/** Where the texts of a picture stand, by the widths that the drawing reckons with. */
export function textBoxes(elements: readonly Drawn[]): Box[] {
  return elements
    .filter(({ name, text }) => name === 'text' && text !== '')
    .map((element) => {
      const { attributes, text } = element;
      const size = SIZES[attributes.class ?? ''] ?? 11;
      const width = widthOf(text, size);
      const anchor = attributes['text-anchor'];
      const start =
        Number(attributes.x ?? 0) - (anchor === 'end' ? width : anchor === 'middle' ? width / 2 : 0);
      const y = Number(attributes.y ?? 0);
      // Capitals of the drawing's fonts are some 0.72 of their size high.
      const corners = [placed(element, start, y), placed(element, start + width, y - 0.72 * size)];
      const [xs, ys] = [corners.map((one) => one.x), corners.map((one) => one.y)];
      return {
        text,
        left: Math.min(...xs),
        right: Math.max(...xs),
        top: Math.min(...ys),
        bottom: Math.max(...ys),
      };
    });
}

/** Pairs of texts of which one lies on the other. */
export function overlaps(boxes: readonly Box[]): string[] {
  const found: string[] = [];
  const sorted = [...boxes].sort((a, b) => a.left - b.left);
  sorted.forEach((a, i) => {
    for (const b of sorted.slice(i + 1)) {
      if (b.left > a.right - 0.5) break;
      if (a.top < b.bottom - 0.5 && b.top < a.bottom - 0.5) found.push(`${a.text} | ${b.text}`);
    }
  });
  return found;
}

/** Texts that stick out of a picture of this width and height. */
export function outside(boxes: readonly Box[], text: string): string[] {
  const [, width, height] = /viewBox="0 0 (\d+) (\d+)"/.exec(text)!.map(Number) as [number, number, number];
  return boxes
    .filter(({ left, right, top, bottom }) => left < 0 || top < 0 || right > width || bottom > height)
    .map((box) => box.text);
}

/** Names that must stay text. */
export const HOSTILE: readonly string[] = [
  '<img src=x onerror=alert(1)>',
  '"]]>',
  "' onload='alert(1)",
  '\u202eabc\u2066\u200f',
  '&lt;script&gt;alert(1)&lt;/script&gt;',
  Array.from({ length: 32 }, (_, i) => String.fromCharCode(i)).join(''),
  '\u007f\u0080\u009f\ufffe\ud800',
  'x'.repeat(10_000),
];

const ELEMENTS = ['svg', 'g', 'path', 'rect', 'circle', 'text', 'title', 'style'];

/** What of a picture could run, load or turn something. */
export const dangers = (elements: readonly Drawn[]): string[] =>
  elements.flatMap(({ name, attributes, text, title }) => [
    ...(ELEMENTS.includes(name) ? [] : [name]),
    ...Object.keys(attributes).filter((key) => /^on|href|style/i.test(key)),
    ...(/\p{Cf}|\p{Cc}/u.test(text.replaceAll('\n', '') + title) ? ['unseen character'] : []),
  ]);
