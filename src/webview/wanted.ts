import type { Wanted } from '../drawing/to-host.ts';
import type { Menu, Shown } from '../drawing/to-page.ts';

/** What is shown, as it would be asked for again. */
export function wantedAs(shown: Shown, of: string): Wanted {
  if (shown.view !== 'what-if') return { view: shown.view, of };
  const { cases, shown: its } = shown.picture;
  return { view: 'what-if', of, cases, ...(its ? { case: its.id } : {}) };
}

/** Whether what somebody has chosen is neither shown `now` nor gone: a drawing from the menu, a case from its list. */
export function isStillToCome(wanting: Wanted, now: Wanted, shown: Shown, menu: Menu): boolean {
  const { view, of, cases, case: one } = wanting;
  if (view !== now.view || of !== now.of) return menu[view].includes(of);
  if (cases !== undefined && cases !== now.cases) return true;
  if (one === undefined || one === now.case || shown.view !== 'what-if') return false;
  return shown.picture.list.some(({ id }) => id === one);
}

/** The case so many behind the one that is wanted; undefined where the list ends before. */
export function caseBeside(shown: Shown, wanted: Wanted, by: number): Wanted | undefined {
  if (shown.view !== 'what-if') return undefined;
  const { list, cases, of } = shown.picture;
  const at = list.findIndex(({ id }) => id === (wanted.case ?? shown.picture.shown?.id));
  const next = at < 0 ? undefined : list[at + by];
  return next && { view: 'what-if', of, cases, case: next.id };
}
