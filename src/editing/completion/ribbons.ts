import type { Candidate } from './candidate.ts';
import type { Cursor } from './cursor.ts';
import type { Slot } from './grammar.ts';

/** Connectors whole, for a ribbon's end: those it fits and that hold no ribbon yet first. */
export function ribbonEnds({ scope, analysis: { machine }, elsewhere }: Cursor): Candidate[] {
  const { ribbon } = scope;
  const mine = new Set(
    (ribbon?.ends ?? []).filter(({ source }) => elsewhere(source)).map(({ instance }) => instance?.path),
  );
  return machine.instances
    .filter(({ kind, path }) => kind !== 'slot' && !mine.has(path))
    .map((one) => {
      const ways = one.pins.connector.labels.length;
      const fits = ribbon === undefined || ribbon.conductors === 0 || ways === ribbon.conductors;
      const plug = one.plugs.find(({ name }) => name !== ribbon?.name);
      const rank = (fits ? 0 : 4) + (plug || one.kind === 'edge' ? 1 : 0) + (one.kind === 'edge' ? 2 : 0);
      const detail = `${one.pins.connector.name}, ${ways} ways${plug ? `, holds ${plug.name}` : ''}`;
      return { label: one.path, kind: 'port', rank, detail, whole: true };
    });
}

/** `stripe`: the first and the last contact of the end's connector. */
export function stripes({ analysis: { machine } }: Cursor, slot: Slot): Candidate[] {
  const [place] = slot.statement.subject;
  const path = place?.kind === 'item' ? place.first : undefined;
  const labels = machine.instances.find((one) => one.path === path)?.pins.connector.labels ?? [];
  if (labels.length === 0) return [];
  return [
    { label: labels[0]!, kind: 'contact', rank: 0, detail: 'the usual way', preselect: true },
    { label: labels.at(-1)!, kind: 'contact', rank: 1, detail: 'the plug is turned' },
  ];
}

/** Conductors of a ribbon, where one twists or ends only there. */
export function conductors({ scope: { ribbon } }: Cursor, slot: Slot): Candidate[] {
  const count = Math.min(ribbon?.conductors ?? 0, 200);
  const from = slot.first === undefined ? 1 : Number(slot.first) + 1;
  const singles = Array.from(
    { length: Math.max(count - from + 1, 0) },
    (_, i): Candidate => ({
      label: String(from + i),
      kind: 'contact',
      rank: 1,
      detail: 'conductor',
    }),
  );
  return slot.first === undefined && count > 1
    ? [{ label: `1..${count}`, kind: 'contact', rank: 0, detail: 'all conductors' }, ...singles]
    : singles;
}

/** Ways that ports without a ribbon ask for. */
export function ways({ analysis: { machine } }: Cursor): Candidate[] {
  const counts = new Map<number, string[]>();
  for (const { kind, pins, plugs, path } of machine.instances) {
    if (kind === 'slot' || kind === 'edge' || plugs.length > 0) continue;
    const { shape, labels } = pins.connector;
    if (shape === 'row') continue;
    counts.set(labels.length, [...(counts.get(labels.length) ?? []), path]);
  }
  return [...counts].map(([count, paths]) => ({
    label: `${count} way`,
    kind: 'value',
    rank: 0,
    detail: `fits ${paths.slice(0, 3).join(', ')}`,
  }));
}
