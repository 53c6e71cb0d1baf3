import type { Drawn } from './picture.ts';
import type { Sent, Shown } from './to-page.ts';

/** The lines of a bus as they were sent last, by their text, and the version that they were sent in. */
export interface SentLines {
  readonly version: number;
  readonly at: ReadonlyMap<string, number>;
}

/**
 * A picture as it goes to a page: without the places it came from, and of a bus only the lines that are not as the page
 * has them already. `before` is what the page has; `version` is the one that goes now.
 */
export function sending(
  shown: Shown,
  version: number,
  before: SentLines | undefined,
): { readonly sent: Sent; readonly lines: SentLines | undefined } {
  if (shown.view !== 'bus') return { sent: JSON.parse(travelling(shown)) as Sent, lines: undefined };
  const { lines, ...rest } = shown.picture;
  const texts = lines.map(travelling);
  const sent = {
    view: 'bus',
    picture: JSON.parse(travelling(rest)),
    before: before?.version ?? -1,
    lines: texts.map((text) => before?.at.get(text) ?? JSON.parse(text)),
  } as Sent;
  return { sent, lines: { version, at: new Map(texts.map((text, i) => [text, i])) } };
}

/** What travels of a value: no places, and no amount beyond all numbers, which JSON cannot write. */
const travelling = <T>(value: T): string =>
  JSON.stringify(value satisfies T | Drawn<T>, (key, one) =>
    key === 'spot' || key === 'origin' || (typeof one === 'number' && !Number.isFinite(one))
      ? undefined
      : one,
  );
