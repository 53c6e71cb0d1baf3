/**
 * A pure function of objects that gives the same result again for the same objects, without doing its work again. Results
 * go when one of the objects goes. Lists and tables count as the same only where they are the same object.
 */
export function keeping<A extends readonly [object, ...object[]], R>(make: (...of: A) => R): (...of: A) => R {
  const kept = new WeakMap<object, unknown>();
  return (...of) => {
    let level = kept;
    for (let i = 0; i < of.length - 1; i++) {
      let next = level.get(of[i]!) as WeakMap<object, unknown> | undefined;
      if (next === undefined) {
        next = new WeakMap();
        level.set(of[i]!, next);
      }
      level = next;
    }
    const last = of[of.length - 1]!;
    if (level.has(last)) return level.get(last) as R;
    const result = make(...of);
    level.set(last, result);
    return result;
  };
}
