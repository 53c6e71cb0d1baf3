import { describe, expect, it } from 'vitest';
import { columnOf, columnOfGap, HEAD } from '../../../src/drawing/picture.ts';
import {
  findPlace,
  joinedWith,
  type Place,
  placeAt,
  type Step,
  stepFrom,
} from '../../../src/drawing/places.ts';
import { fileOf, sceneOf } from '../../../src/webview/scene.ts';
import { FRESH } from '../../../src/webview/state.ts';
import { drawingIn, EXAMPLES, example, looks, wantedOf } from '../../support/drawings.ts';
import { type Drawn, placed, readSvg } from '../../support/svg.ts';

const ROUND: readonly Step[] = ['left', 'right', 'up', 'down', 'first', 'last'];

/** All places that steps lead to. */
function reached(places: readonly Place[], from: Place | undefined): Set<Place> {
  const found = new Set<Place>();
  const open = [from];
  while (open.length > 0) {
    const place = open.pop();
    for (const step of ROUND) {
      const next = stepFrom(places, place, step);
      if (next === undefined || found.has(next)) continue;
      found.add(next);
      open.push(next);
    }
  }
  return found;
}

const holds = ({ x, y, width, height }: Place, at: { x: number; y: number }): boolean =>
  at.x >= x && at.x < x + width && at.y >= y && at.y < y + height;

/** Texts of one class where they stand, a little above their foot. */
const textsAt = (elements: readonly Drawn[], isMeant: (one: Drawn) => boolean) =>
  elements
    .filter((one) => one.name === 'text' && isMeant(one))
    .map((one) => {
      const at = placed(one, Number(one.attributes.x ?? 0), Number(one.attributes.y ?? 0));
      return { x: at.x, y: at.y - 3, text: one.text };
    });

describe.each(EXAMPLES)('what can be pointed at in %s', (name) => {
  const analysis = example(name);

  describe.each(wantedOf(analysis))('$view $of', (wanted) => {
    const { shown } = drawingIn(analysis, wanted);

    it('lies in the drawing, nothing on anything else', () => {
      // Marks stand where they stand, whatever they show; only a connector is laid out in several ways.
      const all = shown.view === 'connector' ? looks.filter(({ marks }) => marks === 'role') : [FRESH];
      for (const look of all) {
        const { places, width, height } = sceneOf(shown, look);
        for (const one of places) {
          expect(one.x).toBeGreaterThanOrEqual(0);
          expect(one.y).toBeGreaterThanOrEqual(0);
          expect(one.x + one.width).toBeLessThanOrEqual(width + 8);
          expect(one.y + one.height).toBeLessThanOrEqual(height);
          expect(placeAt(places, one.x + one.width / 2, one.y + one.height / 2)?.cell).toEqual(one.cell);
          expect(findPlace(places, one.cell)).toBe(one);
        }
      }
    });

    it('is led to by steps from anywhere', () => {
      const { places } = sceneOf(shown, FRESH);
      expect(reached(places, undefined).size).toBe(places.length);
      // And back again.
      expect(reached(places, places.at(-1)).size).toBe(places.length);
    });

    it('lights what shares a net with it, and itself', () => {
      const { places } = sceneOf(shown, FRESH);
      for (const one of places.slice(0, 200)) {
        const lit = joinedWith(places, one);
        expect(lit).toContain(one);
        for (const other of lit)
          expect(other === one || other.nets.some((net) => one.nets.includes(net))).toBe(true);
      }
    });

    it('is where it is drawn', () => {
      const { places } = sceneOf(shown, FRESH);
      const elements = readSvg(fileOf(shown, FRESH));
      if (shown.view === 'bus') {
        const { lines, slots } = shown.picture;
        const isIn = (one: Drawn, group: string) => one.inside.at(-1) === `g ${group}`;
        const labels = textsAt(
          elements,
          (one) => one.attributes.class === 'mono' && !isIn(one, 'line'),
        ).slice(0, slots.length);
        expect(labels.map(({ text }) => text)).toEqual(slots.map(({ label }) => label));
        const names = textsAt(elements, (one) => isIn(one, 'line') && one.attributes.class === undefined);
        expect(names.map(({ text }) => text)).toEqual(lines.map((line) => line.name));
        lines.forEach(({ crossings, ends, beyond, chain }, row) => {
          const { x, y } = names[row]!;
          expect(placeAt(places, x, y)?.cell).toEqual({ row, column: HEAD });
          crossings.forEach((one, slot) => {
            if (one === undefined) return;
            const place = placeAt(places, labels[slot]!.x, y)!;
            expect(place.cell).toEqual({ row, column: columnOf(slot) });
            // A chain lights as the one way that it is.
            const way = crossings.flatMap((other) => [other?.net ?? [], other?.out ?? []].flat());
            expect(place.nets).toEqual(chain ? [...new Set(way)] : [one.net]);
          });
          for (const { gap } of ends)
            expect(findPlace(places, { row, column: columnOfGap(gap) })).toBeDefined();
          expect(findPlace(places, { row, column: columnOfGap(slots.length) + 1 }) !== undefined).toBe(
            beyond.length > 0,
          );
        });
        return;
      }
      // Contacts have a mark each, with their label in it.
      const marks = textsAt(elements, (one) => one.inside.at(-1)?.startsWith('g contact ') === true);
      // A cable's ends lie anywhere, so there a contact's mark says where it is.
      const labels =
        shown.view === 'connector'
          ? shown.picture.contacts.map(({ label }) => label)
          : shown.view === 'what-if'
            ? (shown.picture.shown?.mates ?? []).flatMap(({ plugContacts, socketContacts }) =>
                [...plugContacts, ...socketContacts].map(({ label }) => label),
              )
            : shown.picture.conductors.flatMap(({ meets }) =>
                meets.flatMap((met) => (met ? (shown.picture.kind === 'cable' ? met.place : met.label) : [])),
              );
      const contacts = places.filter(({ cell }) => cell.row >= 0 && cell.column >= 0);
      const read = contacts.map((place) => marks.filter((one) => holds(place, one)).map(({ text }) => text));
      expect(read).toEqual(labels.map((label) => [label]));
    });
  });
});

describe('a place', () => {
  const box = (row: number, column: number, x: number, y: number, width = 30): Place => ({
    cell: { row, column },
    x,
    y,
    width,
    height: 18,
    nets: [],
  });
  const places = [
    box(0, HEAD, 0, 0, 60),
    box(0, 1, 100, 0),
    box(0, 3, 140, 0),
    box(1, HEAD, 0, 18, 60),
    box(1, 3, 140, 18),
  ];

  it.each([
    ['on it', 110, 9, '0 1'],
    ['a little beside it, where copper runs on', 95, 9, '0 1'],
    ['between two, the nearer', 138, 9, '0 3'],
    ['far beside all', 250, 9, 'none'],
    ['below all', 110, 40, 'none'],
    ['where this row has none', 110, 20, 'none'],
  ])('is meant by a point %s', (_, x, y, cell) => {
    const place = placeAt(places, x, y);
    expect(place ? `${place.cell.row} ${place.cell.column}` : 'none').toBe(cell);
  });

  it.each<[Step, number, string]>([
    ['left', 1, '0 -1'],
    ['right', 1, '0 3'],
    ['right', 2, '0 3'],
    ['down', 2, '1 3'],
    ['down', 1, '1 3'],
    ['down', 4, '1 3'],
    ['up', 4, '0 3'],
    ['up', 3, '0 -1'],
    ['first', 2, '0 -1'],
    ['last', 3, '1 3'],
  ])('%s of place %i is what one sees there', (step, from, cell) => {
    const { row, column } = stepFrom(places, places[from], step)!.cell;
    expect(`${row} ${column}`).toBe(cell);
  });

  it('is nowhere where nothing is drawn', () => {
    expect(placeAt([], 0, 0)).toBeUndefined();
    expect(stepFrom([], undefined, 'down')).toBeUndefined();
  });
});
