import { describe, expect, it } from 'vitest';
import { label, widthOf } from '../../../src/drawing/svg.ts';
import { overlaps, readSvg, textBoxes } from '../../support/svg.ts';

describe('texts in a drawing', () => {
  it('gives broad letters and square scripts the room that they take', () => {
    expect(widthOf('WWW', 10)).toBeGreaterThan(28);
    expect(widthOf('\u6f22\u5b57', 10)).toBeGreaterThan(20);
    expect(widthOf('D07', 10)).toBeLessThan(20);
  });

  it.each(['SYSRESET*', 'WWMMWW', '\u6f22\u5b57\u6f22\u5b57', '\u0000\u0001\u0002\u0003'])(
    'holds %j in the width that it was reckoned to take, and cuts it in less',
    (text) => {
      const width = widthOf(text, 11);
      expect(label(text, {}, width)).not.toContain('<title>');
      const [title, cut] = readSvg(label(text, {}, width * 0.6));
      expect(title!.name).toBe('title');
      expect(cut!.text).toMatch(/\u2026$/);
      expect(widthOf(cut!.text, 11)).toBeLessThanOrEqual(width * 0.6);
    },
  );
});

describe('what the tests of drawings look with', () => {
  it.each(['<svg><g></svg>', '<svg a="<"/>', '<svg>&nbsp;</svg>', '<svg>\u0001</svg>'])(
    'refuses %j',
    (text) => {
      expect(() => readSvg(text)).toThrow();
    },
  );

  it('finds texts that lie on each other, turned ones too', () => {
    const turned = '<text transform="translate(10 50) rotate(-90)">upwards</text>';
    const crossing = '<text x="0" y="40">across</text>';
    expect(overlaps(textBoxes(readSvg(`<svg>${turned}${crossing}</svg>`)))).toEqual(['across | upwards']);
    const beside = '<text x="12" y="40">across</text>';
    expect(overlaps(textBoxes(readSvg(`<svg>${turned}${beside}</svg>`)))).toEqual([]);
  });
});
