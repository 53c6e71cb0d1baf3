/** How the lines of a bus are sorted into groups, in the order in which they are drawn. */
export const GROUPS = ['power', 'address', 'data', 'control', 'chains', 'unknown'] as const;
export type Group = (typeof GROUPS)[number];

/** From this many lines with one stem and numbers behind it, they are a word of the machine and not a few like-named lines. */
const WORD = 4;

/** How address and data lines are named on nearly every bus: A0, ADR07, BA3; D0, DI3, DAT12, BD7 (common practice). */
const ADDRESS = /(?:A|AD|ADR|ADDR)$/i;
const DATA = /(?:D|DA|DI|DO|DB|DQ|DAT|DATA)$/i;

/** A name with its number: stem `A` and 12 for `A12*`; undefined for a name without one. */
export function numbered(name: string): { readonly stem: string; readonly number: number } | undefined {
  const found = /^[^\p{L}]*(.*?)_?(\d+)[^\p{L}\d]*$/u.exec(name);
  return found ? { stem: found[1]!, number: Number(found[2]) } : undefined;
}

/** The group of each signal among these names: address, data or control. */
export function groupsOf(names: Iterable<string>): ReadonlyMap<string, Group> {
  const words = new Map<string, string[]>();
  const groups = new Map<string, Group>();
  for (const name of names) {
    groups.set(name, 'control');
    const stem = numbered(name)?.stem;
    if (stem === undefined) continue;
    words.set(stem, [...(words.get(stem) ?? []), name]);
  }
  for (const [stem, its] of words) {
    const group = ADDRESS.test(stem) ? 'address' : DATA.test(stem) ? 'data' : undefined;
    if (group === undefined || its.length < WORD) continue;
    for (const name of its) groups.set(name, group);
  }
  return groups;
}
