import { describe, expect, it } from 'vitest';
import { type Cell, HEAD } from '../../../src/drawing/picture.ts';
import { VIEWS, type Wanted } from '../../../src/drawing/to-host.ts';
import { applied, textChanges } from '../../../src/editing/changes.ts';
import { spansAt, wantedAt } from '../../../src/editing/drawings/at.ts';
import { cellsIn, drawingOf, menuOf, spotAt } from '../../../src/editing/drawings/drawing.ts';
import { sceneOf } from '../../../src/webview/scene.ts';
import { FRESH } from '../../../src/webview/state.ts';
import { drawingIn, EXAMPLES, example, wantedOf } from '../../support/drawings.ts';
import { opened } from '../../support/project.ts';
import { UNKEYED } from '../../support/unkeyed.ts';

describe.each(EXAMPLES)('every drawing of %s', (name) => {
  const analysis = example(name);

  it.each(wantedOf(analysis))(
    '$view $of tells of each cell, and leads to a statement that leads back',
    (wanted) => {
      const drawing = drawingIn(analysis, wanted);
      const { places } = sceneOf(drawing.shown, FRESH);
      expect(places.length).toBeGreaterThan(0);
      const silent = places.filter(({ cell }) => drawing.tell(cell) === '');
      expect(silent.map(({ cell }) => cell)).toEqual([]);
      // Whatever leads somewhere is a place; where it leads there is a text; and from there it leads back.
      for (const [cell] of drawing.spots) {
        expect(places.some((one) => one.cell.row === cell.row && one.cell.column === cell.column)).toBe(true);
        const spot = spotAt(drawing, cell)!;
        const document = analysis.documents.get(spot.file)!;
        expect(document.text.slice(spot.from, spot.to).trim()).not.toBe('');
        expect(cellsIn(drawing, spot.file, spot)).toContainEqual(cell);
        const back = spansAt(document, spot.from).flatMap((span) => cellsIn(drawing, spot.file, span));
        expect(back).toContainEqual(cell);
      }
    },
  );

  it('each line of a bus, each crossing and each slot leads to a statement', () => {
    for (const of of menuOf(analysis.view).bus) {
      const drawing = drawingIn(analysis, { view: 'bus', of });
      const inSlots = sceneOf(drawing.shown, FRESH).places.filter(({ cell }) => cell.column % 2 === 1);
      const lost = inSlots.filter(({ cell }) => spotAt(drawing, cell) === undefined);
      // What lies elsewhere is said in several places.
      const beyond = Math.max(...inSlots.map(({ cell }) => cell.column));
      expect(lost.filter(({ cell }) => cell.column >= 0 && cell.column < beyond)).toEqual([]);
    }
  });
});

describe('what there is to draw', () => {
  it('is nothing in an empty file, and what is not there has no drawing', () => {
    const { project, file } = opened('pinout 1\n');
    const { view, findings, machine, documents } = project.analysis(file)!;
    const menu = menuOf(view);
    expect(menu).toEqual({ bus: [], connector: [], ribbon: [], 'what-if': [] });
    for (const kind of VIEWS) expect(drawingOf(view, findings, { view: kind, of: 'NONE' })).toBeUndefined();
    expect(wantedAt(machine, menu, documents.get(file)!, 3)).toBeUndefined();
  });

  it('has the names that the command line takes', () => {
    const menu = menuOf(example('tide-gauge').view);
    expect(menu.bus).toEqual(['CAGE.MAIN']);
    expect(menu.connector).toEqual(expect.arrayContaining(['PSU.P1', 'CAGE.3', 'CPU.J2', 'EDGE44']));
    expect(menu.ribbon).toEqual(['W1', 'W2', 'W3', 'W4', 'C1', 'C2', 'C3']);
    expect(menu['what-if']).toEqual(expect.arrayContaining(['all plugs', 'CPU', 'RAM-B', 'W1 at GAUGE.J1']));
  });
});

describe('the drawing of what stands at the cursor', () => {
  const { view, machine, documents } = example('tide-gauge');
  const menu = menuOf(view);

  /** By the text that the cursor stands before. */
  const at = (file: string, text: string): string => {
    const document = documents.get(`/machine/${file}.pinout`)!;
    const offset = document.text.indexOf(text);
    expect(offset).toBeGreaterThan(-1);
    const wanted = wantedAt(machine, menu, document, offset);
    return `${wanted?.view} ${wanted?.of}`;
  };

  it.each([
    ['tide-gauge', 'ribbon W2', 'ribbon W2'],
    ['tide-gauge', 'end  LAMPS.J1', 'ribbon W2'],
    ['tide-gauge', 'cable C2', 'ribbon C2'],
    ['tide-gauge', 'PSU.P2.6..9', 'ribbon C2'],
    ['tide-gauge', 'port J2 on IDC20', 'connector GAUGE.J2'],
    ['tide-gauge', '2..16 step 2  = F0..F7', 'connector GAUGE.J2'],
    ['tide-gauge', 'port P1 on DA15', 'connector PSU.P1'],
    ['tide-gauge', 'edge         on MAIN {', 'connector CPU.edge'],
    ['bus', 'connector DE9', 'connector DE9'],
    ['bus', 'shroud    notch', 'connector IDC10'],
    ['bus', '/RD           strobe', 'bus CAGE.MAIN'],
    ['tide-gauge', 'card CPU', 'bus CAGE.MAIN'],
    ['tide-gauge', '4    = CLOCK', 'bus CAGE.MAIN'],
    ['tide-gauge', '# A harbour', 'bus CAGE.MAIN'],
  ])('%s, %s: %s', (file, text, drawing) => {
    expect(at(file, text)).toBe(drawing);
  });
});

describe('a what-if', () => {
  const { project, file } = opened(UNKEYED);
  const analysis = project.analysis(file)!;
  const wanted: Wanted = { view: 'what-if', of: 'CPU' };
  const drawn = drawingIn(analysis, wanted);
  const picture = drawn.shown.view === 'what-if' ? drawn.shown.picture.shown! : undefined!;
  /** The cell of a contact: on the plug, or on the socket. */
  const cellOf = (label: string, side: 0 | 1) => {
    const { plugContacts, socketContacts } = picture.mates[0]!;
    return {
      row: (side === 0 ? plugContacts : socketContacts).findIndex((one) => one.label === label),
      column: side,
    };
  };
  const statementAt = (cell: Cell): string => {
    const { from, to } = spotAt(drawn, cell)!;
    return UNKEYED.slice(from, to).replace(/\s+/g, ' ');
  };

  it('leads from a contact to what says what it is, and from a head to what sits there', () => {
    expect(statementAt(cellOf('F', 0))).toBe('F = D3 by trace');
    expect(statementAt(cellOf('3', 1))).toBe('3 = +12V by meter 2026-05-02');
    expect(statementAt({ row: HEAD, column: 0 })).toBe('1 = CPU');
  });

  it('tells of a contact what it meets and what that does, and of a head all that happens', () => {
    const { tell } = drawn;
    expect(tell(cellOf('F', 0))).toMatch(
      /^\*\*`CPU\.edge F` meets `CAGE\.1 3`\*\* \\\+12V\n\n- \*\*foreign rail\*\* /,
    );
    expect(tell(cellOf('A', 0))).toMatch(/^\*\*`CPU\.edge A` meets `CAGE\.1 8`\*\* spare/);
    expect(tell({ row: HEAD, column: 1 })).toMatch(
      /^\*\*CPU turned in CAGE\.1\*\*: nothing that the file says prevents it\n\nIt comes to the same in `CAGE\.2`, /,
    );
  });

  it('offers keys that strike the case out once they are written, and offers them no more', () => {
    const changes = textChanges(drawn.edit!, analysis.documents);
    const after = opened(applied(UNKEYED, changes));
    const now = after.project.analysis(after.file)!;
    const then = drawingIn(now, { ...wanted, case: picture.id });
    expect(then.shown).toMatchObject({
      picture: { harmful: 0, shown: { id: picture.id, state: 'prevented' } },
    });
    expect(then.edit).toBeUndefined();
    expect(then.tell(cellOf('F', 0))).toMatch(/would meet/);
  });
});

describe('what is told', () => {
  const analysis = example('as-found');

  /** Of a line of the bus: in a slot, counted from 0, or of its name. */
  const told = (line: string, slot?: number): string => {
    const drawing = drawingIn(analysis, { view: 'bus', of: 'CAGE.MAIN' });
    if (drawing.shown.view !== 'bus') throw new Error('no bus');
    const row = drawing.shown.picture.lines.findIndex((one) => one.name === line);
    return drawing.tell({ row, column: slot === undefined ? HEAD : 2 * slot + 1 });
  };

  it('of a crossing: what the board does, how it is known, what is found, its net', () => {
    const text = told('-5V', 6);
    expect(text).toMatch(/^\*\*`-5V` in slot 7\*\*, board `ADC`/);
    expect(text).toMatch(/- \*\*error\*\* `rail-conflict`: /);
  });

  it('of a line: who drives, hears and terminates it, and what that asks of the driver', () => {
    const text = told('A2');
    expect(text).toMatch(/driven by/);
    expect(text).toMatch(/must sink/);
    expect(text).toMatch(/terminated/);
  });

  it('of a place that the picture has not: nothing', () => {
    for (const wanted of wantedOf(analysis)) {
      const { tell } = drawingIn(analysis, wanted);
      for (const cell of [
        { row: 10_000, column: 1 },
        { row: HEAD, column: 10_000 },
        { row: 10_000, column: HEAD },
      ])
        expect([wanted.of, tell(cell)]).toEqual([wanted.of, '']);
    }
  });
});
