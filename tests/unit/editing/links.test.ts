import { expect, it } from 'vitest';
import { linksIn } from '../../../src/editing/links.ts';
import { parseDocument } from '../../../src/language/blocks.ts';

const links = (text: string): string[] =>
  linksIn(parseDocument(text), '/work/rack/main.pinout', '/work').map(({ from, to, target }) => {
    const where = target.kind === 'file' ? target.path : `published ${target.name}`;
    return `${text.slice(from, to)} → ${where}`;
  });

it('leads to used files, published tables and photos', () => {
  const text = `pinout 1
use "bus.pinout"
use "../shared/./edge.pinout"
use published "isa-8"
card A {
  takes +5V 1 A by meter 2026-05-02 "cold" photo "img/slot 3.jpg"
}
`;
  expect(links(text)).toEqual([
    'bus.pinout → /work/rack/bus.pinout',
    '../shared/./edge.pinout → /work/shared/edge.pinout',
    'isa-8 → published isa-8',
    'img/slot 3.jpg → /work/rack/img/slot 3.jpg',
  ]);
});

it('leads nowhere out of the workspace', () => {
  const text = `use "../../etc/passwd"
use "/etc/passwd"
use "..\\\\x"
use "../../workshop/a.pinout"
title "x" by trace photo "../../../a.jpg"
use ""
`;
  expect(links(text)).toEqual([]);
});
