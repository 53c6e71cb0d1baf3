import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { BusPicture, LineRow } from '../../../src/drawing/picture.ts';
import { type SentLines, sending } from '../../../src/drawing/send.ts';
import { readKept, readToHost, type ToHost } from '../../../src/drawing/to-host.ts';
import { arrived, readToPage, type Shown, type ToPage } from '../../../src/drawing/to-page.ts';
import { drawingIn, EXAMPLES, example, wantedOf } from '../../support/drawings.ts';

/** As a message travels. */
const travelled = (message: unknown): unknown => JSON.parse(JSON.stringify(message));

const CELL = { row: 3, column: 1 };

const TO_HOST: readonly ToHost[] = [
  { kind: 'ready' },
  { kind: 'choose', wanted: { view: 'ribbon', of: 'W1' } },
  { kind: 'key', version: 4 },
  { kind: 'go', version: 4, cell: CELL },
  { kind: 'tell', version: 4, cell: { row: -1, column: 3 } },
  { kind: 'save', name: 'CAGE.MAIN', format: 'svg', data: '<svg/>' },
];

const TO_PAGE: readonly ToPage[] = [
  {
    kind: 'nothing',
    root: '/machine/main.pinout',
    why: 'There is none.',
    menu: { bus: [], connector: [], ribbon: [], 'what-if': [] },
  },
  { kind: 'cursor', version: 4, cells: [CELL] },
  { kind: 'select', version: 4, cell: CELL },
  { kind: 'told', version: 4, cell: CELL, markdown: '**A2**' },
];

/** A message with one of its members, at any depth, missing or of another kind. */
function nearMisses(message: object): unknown[] {
  return Object.entries(message).flatMap(([key, value]) => {
    const { [key]: _, ...rest } = message as Record<string, unknown>;
    const other = typeof value === 'string' ? 7 : 'seven';
    const deeper =
      typeof value === 'object' && !Array.isArray(value)
        ? nearMisses(value).map((one) => ({ ...message, [key]: one }))
        : [];
    return [rest, { ...message, [key]: other }, { ...message, [key]: null }, ...deeper];
  });
}

describe.each([
  ['host', readToHost, TO_HOST],
  ['page', readToPage, TO_PAGE],
] as const)('what the %s is told', (_, read: (message: unknown) => unknown, messages: readonly object[]) => {
  it.each(messages)('is read: %j', (message) => {
    expect(read(travelled(message))).toEqual(message);
  });

  it.each(messages.flatMap(nearMisses))('is nothing where it is nearly one: %j', (message) => {
    expect(read(message)).toBeUndefined();
  });

  it('is nothing where it is anything else', () => {
    fc.assert(
      fc.property(fc.anything(), (message) => {
        expect(read(message)).toBeUndefined();
      }),
    );
  });
});

it('a wanted case is read, and kept', () => {
  const wanted = { view: 'what-if', of: 'CPU', cases: 'all', case: 'CPU, CAGE.1, turned' } as const;
  expect(readToHost({ kind: 'choose', wanted })).toEqual({ kind: 'choose', wanted });
  expect(readKept({ root: '/m.pinout', wanted })).toEqual({ root: '/m.pinout', wanted });
  expect(readToHost({ kind: 'choose', wanted: { ...wanted, cases: 'some' } })).toBeUndefined();
  expect(readToHost({ kind: 'choose', wanted: { ...wanted, case: 3 } })).toBeUndefined();
});

describe('what a page says', () => {
  it('is heard without what was not asked', () => {
    expect(readToHost({ kind: 'ready', file: '/etc/hosts' })).toEqual({ kind: 'ready' });
  });

  it.each<[string, unknown]>([
    ['a cell without a column', { kind: 'go', version: 1, cell: { row: 0 } }],
    ['another kind of drawing', { kind: 'choose', wanted: { view: 'file', of: '/etc/hosts' } }],
    ['another kind of file', { kind: 'save', name: 'x', format: 'html', data: '' }],
  ])('is not heard: %s', (_, message) => {
    expect(readToHost(message)).toBeUndefined();
  });
});

/** A picture as it is drawn, without the places it came from: what has to come out at the other end. */
const plain = (shown: Shown): unknown =>
  JSON.parse(JSON.stringify(shown, (key, one) => (key === 'spot' || key === 'origin' ? undefined : one)));

/** What a page has after a message; it asks for the whole where it cannot put it together. */
function received(
  shown: Parameters<typeof sending>[0],
  version: number,
  lines: SentLines | undefined,
  before: { version: number; shown: Shown } | undefined,
) {
  const { sent, lines: next } = sending(shown, version, lines);
  const menu = { bus: [], connector: [], ribbon: [], 'what-if': [] };
  const message = readToPage(travelled({ kind: 'drawing', version, root: '', of: '', menu, at: 0, sent }));
  if (message?.kind !== 'drawing') throw new Error('the page does not know it');
  return { shown: arrived(message.sent, before), next, sent: message.sent };
}

describe('a picture on its way', () => {
  it.each(EXAMPLES)('arrives as it is drawn: all of %s', (name) => {
    const analysis = example(name);
    for (const wanted of wantedOf(analysis)) {
      const { shown } = drawingIn(analysis, wanted);
      expect(plain(received(shown, 1, undefined, undefined).shown!)).toEqual(plain(shown));
    }
  });

  const { shown: whole } = drawingIn(example('as-found'), { view: 'bus', of: 'CAGE.MAIN' });
  if (whole.view !== 'bus') throw new Error('no bus');
  const { picture } = whole;
  const withLines = (lines: readonly LineRow[]) => ({
    view: 'bus' as const,
    picture: { ...picture, lines } satisfies BusPicture,
  });

  /** Lines put in, taken out, moved, named anew. */
  const edit = fc.oneof(
    fc.record({ kind: fc.constant('insert' as const), at: fc.nat(), line: fc.nat() }),
    fc.record({ kind: fc.constant('remove' as const), at: fc.nat() }),
    fc.record({ kind: fc.constant('move' as const), at: fc.nat(), to: fc.nat() }),
    fc.record({ kind: fc.constant('name' as const), at: fc.nat(), name: fc.string() }),
  );

  function edited(
    lines: readonly LineRow[],
    one: typeof edit extends fc.Arbitrary<infer T> ? T : never,
  ): LineRow[] {
    const next = [...lines];
    const at = next.length === 0 ? 0 : one.at % next.length;
    switch (one.kind) {
      case 'insert':
        next.splice(at, 0, picture.lines[one.line % picture.lines.length]!);
        return next;
      case 'remove':
        next.splice(at, 1);
        return next;
      case 'move':
        next.splice(next.length === 0 ? 0 : one.to % next.length, 0, ...next.splice(at, 1));
        return next;
      case 'name':
        return next.map((line, i) => (i === at ? { ...line, name: one.name } : line));
    }
  }

  it('is the same after any edits as if all of it were sent', () => {
    fc.assert(
      fc.property(fc.array(edit, { maxLength: 12 }), (edits) => {
        let lines: readonly LineRow[] = picture.lines;
        let [sent, before]: [SentLines | undefined, { version: number; shown: Shown } | undefined] = [
          undefined,
          undefined,
        ];
        for (const [version, one] of [undefined, ...edits].entries()) {
          if (one !== undefined) lines = edited(lines, one);
          const now = withLines(lines);
          const came = received(now, version, sent, before);
          expect(plain(came.shown!)).toEqual(plain(now));
          sent = came.next;
          before = { version, shown: came.shown! };
        }
      }),
      { numRuns: 60 },
    );
  });

  it('is one line where one line was changed', () => {
    const first = received(whole, 1, undefined, undefined);
    const lines = picture.lines.map((line, i) => (i === 5 ? { ...line, name: 'OTHER' } : line));
    const { sent } = received(withLines(lines), 2, first.next, { version: 1, shown: first.shown! });
    if (sent.view !== 'bus') throw new Error('no bus');
    expect(sent.lines.filter((line) => typeof line !== 'number')).toHaveLength(1);
  });

  it('is nothing to a page that has another version, until the whole comes', () => {
    const first = received(whole, 1, undefined, undefined);
    const came = received(withLines(picture.lines.slice(1)), 3, first.next, {
      version: 2,
      shown: first.shown!,
    });
    expect(came.shown).toBeUndefined();
    expect(received(whole, 2, first.next, undefined).shown).toBeUndefined();
    expect(plain(received(whole, 4, undefined, undefined).shown!)).toEqual(plain(whole));
  });
});
