import { describe, expect, it } from 'vitest';
import type { Wanted } from '../../../src/drawing/to-host.ts';
import type { Shown } from '../../../src/drawing/to-page.ts';
import { menuOf } from '../../../src/editing/drawings/drawing.ts';
import { caseBeside, isStillToCome, wantedAs } from '../../../src/webview/wanted.ts';
import { drawingIn } from '../../support/drawings.ts';
import { opened } from '../../support/project.ts';
import { UNKEYED } from '../../support/unkeyed.ts';

const { project, file } = opened(UNKEYED);
const analysis = project.analysis(file)!;
const menu = menuOf(analysis.view);
const shownAs = (wanted: Wanted): Shown => drawingIn(analysis, wanted).shown as Shown;

const ALL: Wanted = { view: 'what-if', of: 'all plugs' };
const shown = shownAs(ALL);
const now = wantedAs(shown, 'all plugs');
const list = shown.view === 'what-if' ? shown.picture.list.map(({ id }) => id) : [];

describe('what is shown', () => {
  it('is asked for again with its case', () => {
    expect(now).toEqual({ ...ALL, cases: 'open', case: list[0] });
    expect(wantedAs(shownAs(now), now.of)).toEqual(now);
    expect(wantedAs(shownAs({ view: 'ribbon', of: 'W1' }), 'W1')).toEqual({ view: 'ribbon', of: 'W1' });
  });
});

describe('what is chosen', () => {
  const isToCome = (wanting: Wanted): boolean => isStillToCome(wanting, now, shown, menu);

  it.each<[string, Wanted]>([
    ['another view', { view: 'bus', of: 'CAGE.MAIN' }],
    ['another plug', { view: 'what-if', of: 'CPU' }],
    ['another case', { ...now, case: list[3]! }],
    ['all cases', { ...now, cases: 'all' }],
  ])('is still to come: %s', (_, wanting) => {
    expect(isToCome(wanting)).toBe(true);
  });

  it.each<[string, Wanted]>([
    ['the same', now],
    ['the same plugs, of which no case is said', ALL],
    ['a case that there is not', { ...now, case: 'gone' }],
    ['a drawing that there is not', { view: 'ribbon', of: 'W9' }],
  ])('is not: %s', (_, wanting) => {
    expect(isToCome(wanting)).toBe(false);
  });
});

describe('a step', () => {
  it('leads on from what is wanted, not from what is shown still, and ends with the list', () => {
    let at: Wanted = now;
    const met = [at.case];
    for (let next = caseBeside(shown, at, 1); next; next = caseBeside(shown, at, 1)) {
      at = next;
      met.push(at.case);
    }
    expect(met).toEqual(list);
    expect(caseBeside(shown, at, -1)?.case).toBe(list.at(-2));
    expect(caseBeside(shown, now, -1)).toBeUndefined();
  });

  it('is none in another drawing', () => {
    const ribbon: Wanted = { view: 'ribbon', of: 'W1' };
    expect(caseBeside(shownAs(ribbon), ribbon, 1)).toBeUndefined();
  });
});
