import { element, label, widthOf } from './svg.ts';

/** px: the size that the palette gives to plain text. */
const PLAIN = 11;

interface Written {
  readonly class?: string;
  /** px */
  readonly size?: number;
  readonly upwards?: boolean;
  readonly anchor?: 'middle' | 'end';
  /** px; a longer text is cut, and told whole where one points. */
  readonly room?: number;
}

/** A text of any size and direction: sizes come by scaling, because the size itself belongs to the palette. */
export function written(text: string, x: number, y: number, how: Written = {}): string {
  const { size = PLAIN, upwards, anchor, room } = how;
  const turn = upwards ? ' rotate(-90)' : '';
  const scale = size === PLAIN ? '' : ` scale(${Math.round((size / PLAIN) * 1000) / 1000})`;
  const [left, top] = [x, y].map((one) => Math.round(one * 100) / 100);
  return label(
    text,
    {
      ...(how.class === undefined ? {} : { class: how.class }),
      transform: `translate(${left} ${top})${turn}${scale}`,
      ...(anchor ? { 'text-anchor': anchor } : {}),
    },
    room,
    size,
  );
}

/** A sentence in lines of at most this width in px, broken between words. */
export function wrapped(text: string, width: number, size = PLAIN): string[] {
  const lines: string[] = [];
  let line = '';
  for (const word of text.split(' ')) {
    const longer = line === '' ? word : `${line} ${word}`;
    if (line !== '' && widthOf(longer, size) > width) {
      lines.push(line);
      line = word;
    } else line = longer;
  }
  return [...lines, line];
}

/** Sentences below each other, the first at y = 11. */
export function paragraph(
  sentences: readonly { readonly text: string; readonly class?: string }[],
  x: number,
  width: number,
): { readonly svg: string; readonly height: number } {
  const lines = sentences.flatMap(({ text, ...rest }) =>
    wrapped(text, width).map((line) => ({ line, ...rest })),
  );
  const svg = lines
    .map(({ line, ...rest }, i) => written(line, x, 11 + i * 15, { ...rest, room: width }))
    .join('');
  return { svg, height: lines.length * 15 };
}

/** What the marks mean, in as many columns as the width holds; each mark stands around the middle it is given. */
export function keyTo(
  entries: readonly { readonly mark: (x: number, y: number) => string; readonly says: string }[],
  x: number,
  width: number,
): { readonly svg: string; readonly height: number } {
  const widest = Math.max(...entries.map(({ says }) => widthOf(says, PLAIN))) + 44;
  const columns = Math.max(1, Math.floor(width / widest));
  const rows = Math.ceil(entries.length / columns);
  const svg = entries
    .map(({ mark, says }, i) => {
      const [left, middle] = [x + Math.floor(i / rows) * widest + 14, 28 + (i % rows) * 20];
      return mark(left, middle) + written(says, left + 20, middle + 4);
    })
    .join('');
  return {
    svg: written('What the marks mean', x, 11, { class: 'strong' }) + svg,
    height: 32 + rows * 20,
  };
}

export const moved = (y: number, content: string): string =>
  element('g', { transform: `translate(0 ${Math.round(y * 100) / 100})` }, content);
