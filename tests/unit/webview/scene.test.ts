import { describe, expect, it } from 'vitest';
import { fileOf, hindrance, sceneOf } from '../../../src/webview/scene.ts';
import { FRESH } from '../../../src/webview/state.ts';
import { drawingIn, EXAMPLES, example, looks, wantedOf } from '../../support/drawings.ts';
import { readSvg } from '../../support/svg.ts';

/** Elements where they stand, whatever groups they are in. Backgrounds are the page's own matter. */
const elements = (svg: string) =>
  readSvg(svg)
    .filter(
      ({ name, attributes }) =>
        !['svg', 'g', 'style', 'title'].includes(name) && attributes.class !== 'ground',
    )
    .map(({ name, attributes: { transform: _, ...attributes }, text, title, matrix }) => ({
      name,
      attributes,
      text,
      title,
      matrix: matrix.map((one) => Math.round(one * 1000)),
    }));

describe.each(EXAMPLES)('%s', (name) => {
  const analysis = example(name);

  it.each(wantedOf(analysis))('$view $of: the pieces of the page are the picture of the file', (wanted) => {
    const { shown } = drawingIn(analysis, wanted);
    for (const look of looks) {
      const { pieces, width, height } = sceneOf(shown, look);
      const file = fileOf(shown, look);
      const whole = pieces.map(({ top, svg }) => `<g transform="translate(0 ${top})">${svg}</g>`).join('');
      expect(elements(`<svg>${whole}</svg>`)).toEqual(elements(file));
      expect(file).toContain(`viewBox="0 0 ${width} ${height}"`);
    }
  });

  it.each(wantedOf(analysis))('$view $of: pieces stand below each other, down to the end', (wanted) => {
    const { pieces, height, head } = sceneOf(drawingIn(analysis, wanted).shown, FRESH);
    let bottom = 0;
    for (const piece of pieces) {
      expect(piece.top).toBeGreaterThanOrEqual(bottom);
      bottom = piece.top + piece.height;
    }
    expect(bottom).toBeLessThanOrEqual(height);
    // What stays in sight ends between two pieces.
    expect(pieces.some(({ top }) => top === head) || head === 0).toBe(true);
  });
});

describe('a bus', () => {
  const { shown } = drawingIn(example('as-found'), { view: 'bus', of: 'CAGE.MAIN' });

  it('shows the lines that the filter lets through, by the rows that they have in the whole', () => {
    const all = sceneOf(shown, FRESH);
    const some = sceneOf(shown, { ...FRESH, filter: { text: '/RESET' } });
    const rows = [...new Set(some.places.map(({ cell }) => cell.row))].filter((row) => row >= 0);
    expect(rows).toHaveLength(1);
    if (shown.view !== 'bus') throw new Error('no bus');
    expect(shown.picture.lines[rows[0]!]!.name).toBe('/RESET');
    expect(some.height).toBeLessThan(all.height);
    expect([some.width, some.head]).toEqual([all.width, all.head]);
  });
});

describe('a connector whose pitch nobody knows', () => {
  const analysis = example('tide-gauge');
  const shown = (of: string) => drawingIn(analysis, { view: 'connector', of }).shown;

  it('is drawn to read instead of life-size, and says why', () => {
    const look = { ...FRESH, scale: '1:1' } as const;
    expect(hindrance(shown('DE9'), look)).toMatch(/^DE9 cannot be drawn at 1:1: /);
    expect(hindrance(shown('DE9'), FRESH)).toBeUndefined();
    expect(hindrance(shown('IDC10'), look)).toBeUndefined();
    expect(fileOf(shown('DE9'), look)).toBe(fileOf(shown('DE9'), FRESH));
    expect(fileOf(shown('IDC10'), look)).not.toBe(fileOf(shown('IDC10'), FRESH));
  });
});
