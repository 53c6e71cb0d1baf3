/** A place in a file, however it is held. */
const isPlace = (value: object): value is { file: string; from: number; to: number } =>
  'file' in value && 'from' in value && 'to' in value;

/** Things of a machine have names and hold each other; everything else is told by what it holds. */
const isThing = (value: object): boolean =>
  'name' in value || 'path' in value || 'label' in value || 'claims' in value;

/**
 * Everything that can be reached from a value, as text: equal texts, equal values, however places are held and whatever
 * plain values share. A thing that was met before is told by its number, so that circles end.
 */
export function dump(root: unknown): string {
  const out: string[] = [];
  const met = new Map<object, number>();
  const pair = (key: string, value: unknown): void => {
    if (value === undefined) return;
    out.push(key, ':');
    write(value);
    out.push(',');
  };
  const list = (values: Iterable<unknown>): void => {
    out.push('[');
    for (const one of values) {
      write(one);
      out.push(',');
    }
    out.push(']');
  };
  const fields = (value: object): void => {
    out.push('{');
    for (const [key, its] of Object.entries(value)) pair(key, its);
    out.push('}');
  };
  const place = (value: { file: string; from: number; to: number }): void => {
    out.push(`<${value.file}:${value.from}-${value.to}>`);
    if (!Object.hasOwn(value, 'from')) return;
    // Something with a place of its own, such as an occurrence.
    for (const [key, its] of Object.entries(value))
      if (key !== 'file' && key !== 'from' && key !== 'to') pair(key, its);
  };
  function write(value: unknown): void {
    if (typeof value !== 'object' || value === null) {
      out.push(typeof value === 'string' ? JSON.stringify(value) : String(value));
    } else if (ArrayBuffer.isView(value)) out.push(`[${(value as Int32Array).join()}]`);
    else if (isPlace(value)) place(value);
    else if (Array.isArray(value) || value instanceof Map || value instanceof Set) list(value);
    else {
      const before = isThing(value) ? met.get(value) : undefined;
      if (before !== undefined) out.push(`#${before}`);
      else {
        if (isThing(value)) met.set(value, met.size);
        fields(value);
      }
    }
  }
  write(root);
  return out.join('');
}
