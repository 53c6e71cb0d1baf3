/** Things by what they have in common, each group in their order, the groups in that of their first. */
export function groupBy<T, K>(all: Iterable<T>, keyOf: (one: T) => K): Map<K, T[]> {
  const groups = new Map<K, T[]>();
  for (const one of all) {
    const key = keyOf(one);
    const its = groups.get(key);
    if (its) its.push(one);
    else groups.set(key, [one]);
  }
  return groups;
}
