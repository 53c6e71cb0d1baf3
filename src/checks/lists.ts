import { vectorName } from '../machine/names.ts';

/** `a`, `a and b`, `a, b and c`, `a, b, c and 4 more`. */
export function spokenList(items: readonly string[], most = 4): string {
  const shown = items.length > most ? items.slice(0, most) : items.slice(0, -1);
  const last = items.length > most ? `${items.length - most} more` : (items.at(-1) ?? '');
  return shown.length === 0 ? last : `${shown.join(', ')} and ${last}`;
}

/** Names as the trade writes them: runs of three or more that differ in one number become `D0..D7`. */
export const spokenNames = (names: readonly string[], most = 6): string => spokenList(runsOf(names), most);

/** The same as a list: `D0..D7`, `/RD`. */
export function runsOf(names: readonly string[]): string[] {
  const parts: string[] = [];
  let run: string[] = [];
  const close = (): void => {
    if (run.length > 2) parts.push(`${run[0]}..${run.at(-1)}`);
    else parts.push(...run);
    run = [];
  };
  for (const name of inOrder(names)) {
    if (run.length > 0 && !follows(run.at(-1) as string, name)) close();
    run.push(name);
  }
  close();
  return parts;
}

/** Each name once: vectors where their first member stands, their members in rising order. */
function inOrder(names: readonly string[]): string[] {
  const groups = new Map<string, string[]>();
  for (const name of new Set(names)) {
    const group = groups.get(stemOf(name));
    if (group === undefined) groups.set(stemOf(name), [name]);
    else group.push(name);
  }
  const number = (name: string): number => vectorName(name)?.number ?? 0;
  return [...groups.values()].flatMap((group) => group.sort((a, b) => number(a) - number(b)));
}

function follows(a: string, b: string): boolean {
  const [one, next] = [vectorName(a), vectorName(b)];
  return stemOf(a) === stemOf(b) && one !== undefined && next !== undefined && next.number === one.number + 1;
}

/** What the members of a vector share; for other names the name itself. */
export function stemOf(name: string): string {
  const vector = vectorName(name);
  return vector === undefined ? name : `${vector.before}\n${vector.after}`;
}

/** `is` or `are`, `it` or `them`: what goes with one thing or with several. */
export const agree = (count: number, one: string, several: string): string => (count === 1 ? one : several);
