import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { busPictures } from '../../../src/drawing/bus-picture.ts';
import { facesOf } from '../../../src/drawing/connector-picture.ts';
import { ribbonPictures } from '../../../src/drawing/ribbon-picture.ts';
import { machineTree } from '../../../src/editing/machine-tree.ts';
import { type MachineNode, remarkOn, spokenNode } from '../../../src/editing/tree-nodes.ts';
import { benchText } from '../../support/bench.ts';
import type { Files } from '../../support/machine.ts';
import { MAIN, opened } from '../../support/project.ts';

function treeOf(files: Files) {
  const { project, file, offset } = opened(files);
  const analysis = project.of(file)!;
  return { analysis, file, offset, tree: machineTree(analysis, 'main.pinout') };
}

function* allOf(node: MachineNode): Iterable<MachineNode> {
  yield node;
  for (const child of node.children) yield* allOf(child);
}

/** Each node on a line of its own, indented as on the screen: `slot 1  CPU · 1 error`. */
function drawn(node: MachineNode, indent = ''): string[] {
  const line = `${indent}${node.label}  ${remarkOn(node)}`.trimEnd();
  return [line, ...node.children.flatMap((child) => drawn(child, `${indent}  `))];
}

const nodeCalled = (root: MachineNode, label: string, kind?: string): MachineNode =>
  [...allOf(root)].find((one) => one.label === label && (kind === undefined || one.kind === kind))!;

const TEXT = benchText({
  bus: '  3 = /RD by trace\n  4..40 = spare',
  cards: {
    CPU: 'drives /RD with 74LS244\nport J1 on IDC10 {\n  1..10 = GND\n}',
    RAM: 'receives /RD with 74LS',
  },
  fitted: '  1 = CPU\n  2 = RAM as RAM-A\n  3 = empty',
  more: `card PANEL "Lamps" {
  port J1 on IDC10 {
    1..10 = GND
  }
}
loose PANEL
ribbon W1 10 way {
  end CPU.J1 stripe 1
  end PANEL.J1 stripe 1 found unplugged
}`,
});

describe('machineTree', () => {
  it('walks from backplanes through slots, boards and headers to the ribbons', () => {
    expect(drawn(treeOf(`title "Tide gauge"\n${TEXT}`).tree.root)).toMatchInlineSnapshot(`
      [
        "main.pinout  1 note · Tide gauge",
        "  PSU  1 rail",
        "  CAGE  1 note · 2 of 4 slots fitted",
        "    B  1 note · 40 contacts",
        "    slot 1  CPU · 1 note",
        "      CPU",
        "        edge  on B",
        "        J1  on IDC10",
        "          W1  to PANEL.J1 (unplugged)",
        "    slot 2  RAM-A",
        "      RAM-A  RAM",
        "        edge  on B",
        "    slot 3  empty",
        "    slot 4  not said",
        "  Loose boards  1 board",
        "    PANEL  Lamps",
        "      J1  on IDC10",
        "        W1  unplugged, to CPU.J1",
        "  Ribbons and cables",
        "    W1  CPU.J1 to PANEL.J1 (unplugged)",
        "      CPU.J1  stripe at 1",
        "      PANEL.J1  unplugged, stripe at 1",
      ]
    `);
  });

  it('is bare where there is nothing', () => {
    const { root } = treeOf('pinout 1').tree;
    expect(drawn(root)).toEqual(['main.pinout']);
    expect(root.source).toMatchObject({ file: MAIN, from: 0 });
  });

  describe('counts a finding', () => {
    const FIGHT = TEXT.replace('receives /RD with 74LS', 'drives /RD with 74LS04');

    it('once at each thing that it concerns and at all that hold them', () => {
      const { root } = treeOf(FIGHT).tree;
      const errors = (label: string) => nodeCalled(root, label).counts.error;
      expect(['main.pinout', 'CAGE', 'slot 1', 'CPU', 'slot 2', 'RAM-A'].map(errors)).toEqual([
        1, 1, 1, 1, 1, 1,
      ]);
      expect(['slot 3', 'slot 4', 'Loose boards', 'PSU'].map(errors)).toEqual([0, 0, 0, 0]);
    });

    it('that is the same on more boards at each of them', () => {
      const { root } = treeOf(
        benchText({
          bus: '  3..40 = spare',
          cards: { RAM: 'takes +12V 40 mA' },
          fitted: '  1 = RAM as A\n  2 = RAM as B1\n  3 = RAM as C\n  4 = empty',
        }),
      ).tree;
      const errors = (label: string) => nodeCalled(root, label).counts.error;
      expect(['A', 'B1', 'C', 'CAGE', 'main.pinout'].map(errors)).toEqual([1, 1, 1, 1, 1]);
      expect(errors('slot 4')).toBe(0);
    });

    it('of the text itself at what the statement describes, for every board of the card', () => {
      const { root } = treeOf(
        TEXT.replace('3 = empty', '3 = RAM as RAM-B').replace(
          'receives /RD with 74LS',
          'receives /RD with 74LS\n  frobs /RD',
        ),
      ).tree;
      const errors = (label: string) => nodeCalled(root, label).counts.error;
      expect(['main.pinout', 'CAGE', 'RAM-A', 'RAM-B', 'CPU'].map(errors)).toEqual([1, 1, 1, 1, 0]);
    });

    it('at the bus only of the backplane that it names', () => {
      const { root } = treeOf(`${TEXT}backplane SIDE {\n  slots 1..2 on B\n}\n`).tree;
      const backplanes = root.children.filter(({ kind }) => kind === 'backplane');
      expect(backplanes.map((one) => nodeCalled(one, 'B').counts.note)).toEqual([1, 0]);
    });

    it('not at a board for a line that is called like it', () => {
      const text = FIGHT.replaceAll('/RD', 'PANEL');
      expect(nodeCalled(treeOf(text).tree.root, 'PANEL', 'board').counts.error).toBe(0);
    });

    it('nor for a signal of headers that is called like it', () => {
      const hearing = (name: string, edge: string) =>
        `card ${name} {\n${edge}  port J1 on IDC10 {\n    1 = PANEL by trace\n    2..10 = GND\n  }\n  receives PANEL with 74LS04\n  untouched rest\n}\n`;
      const { root } = treeOf(
        benchText({
          bus: '  3..40 = spare',
          cards: { PANEL: '' },
          fitted: '  1 = PANEL\n  2 = empty\n  3 = empty\n  4 = empty',
          more: `${hearing('GAUGE', '')}${hearing('DISP', '')}loose GAUGE
loose DISP
ribbon W1 10 way {
  end GAUGE.J1 stripe 1
  end DISP.J1 stripe 1
}`,
        }),
      ).tree;
      const found = (label: string, kind?: string) => {
        const { error, warning, question } = nodeCalled(root, label, kind).counts;
        return error + warning + question;
      };
      expect([found('GAUGE', 'board'), found('DISP', 'board')]).toEqual([1, 1]);
      expect([found('PANEL', 'board'), found('slot 1')]).toEqual([0, 0]);
    });

    it('at the whole machine though it lies in no thing of it', () => {
      const { root } = treeOf(`${TEXT}frobnicate\n`).tree;
      expect(root.counts.error).toBe(1);
      expect(root.children.map(({ counts }) => counts.error)).toEqual(root.children.map(() => 0));
    });

    it('as it is ranked', () => {
      const { analysis } = treeOf(FIGHT);
      const { root, machine, documents, findings } = analysis;
      const questions = findings.map((one) => ({ ...one, severity: 'question' as const }));
      const tree = machineTree({ root, machine, documents, findings: questions }, 'main.pinout');
      expect(tree.root.counts).toEqual({ error: 0, warning: 0, question: findings.length, note: 0 });
    });
  });

  describe('finds what the cursor means', () => {
    const at = (text: string) => {
      const { tree, file, offset } = treeOf(text);
      return tree.at(file, offset).id.split('\n').slice(1);
    };

    it.each([
      ['the board of a slot', '1 = CPU', ['backplane CAGE', 'slot slot 1', 'board CPU']],
      ['a slot that is empty', '3 = empty', ['backplane CAGE', 'slot slot 3']],
      ['the first board of a card', 'receives /RD', ['backplane CAGE', 'slot slot 2', 'board RAM-A']],
      ['a header', 'port J1', ['backplane CAGE', 'slot slot 1', 'board CPU', 'port J1']],
      ['a line of a bus', '3 = /RD', ['backplane CAGE', 'bus B']],
      ['a backplane, by its slots', 'slots 1', ['backplane CAGE']],
      ['a ribbon', 'ribbon W1', ['backplane CAGE', 'slot slot 1', 'board CPU', 'port J1', 'ribbon W1']],
      [
        'the end of a ribbon',
        'end PANEL',
        ['ribbons and cables Ribbons and cables', 'ribbon W1', 'end PANEL.J1'],
      ],
      ['a rail', 'rail +5V', ['supply PSU']],
      ['nothing in particular', 'connector E40', []],
    ])('%s', (_, before, path) => {
      expect(at(TEXT.replace(before, `|${before}`))).toEqual(path);
    });
  });

  it('keeps the ids of its nodes while other lines come and go', () => {
    const ids = (text: string) => [...allOf(treeOf(text).tree.root)].map(({ id }) => id);
    expect(ids(`# a remark\n${TEXT.replace('drives /RD', 'pulls /RD')}`)).toEqual(ids(TEXT));
  });

  it('never has two nodes of one id, however wrong the text is', () => {
    const ids = [...allOf(treeOf(`${TEXT}${TEXT}`).tree.root)].map(({ id }) => id);
    expect(new Set(ids).size).toBe(ids.length);
    const mixed = [...allOf(treeOf(`${TEXT}loose PANEL as CPU\nloose RAM as CPU\n`).tree.root)];
    expect(new Set(mixed.map(({ id }) => id)).size).toBe(mixed.length);
  });

  it('leaves names as they are written, and short enough to read', () => {
    const { root } = treeOf(`pinout 1\ntitle "$(zap) \u202e${'x'.repeat(10_000)}"\n`).tree;
    expect(root.description.startsWith('$(zap) ?xxx')).toBe(true);
    expect(root.description.length).toBeLessThan(250);
  });

  it('tells all of a node to those who listen', () => {
    const { root } = treeOf(TEXT.replace('receives /RD with 74LS', 'drives /RD with 74LS04')).tree;
    expect(spokenNode(nodeCalled(root, 'slot 3'))).toBe('slot 3, empty, no findings');
    expect(spokenNode(nodeCalled(root, 'RAM-A'))).toMatch(/^board RAM-A, RAM, 1 error/);
  });
});

const EXAMPLES = ['tide-gauge/tide-gauge', 'tide-gauge/as-found', 's100/s100', 'vme/vme', 'isa/isa'];

describe.each(EXAMPLES)('the tree of the example %s', (name) => {
  const file = `${name.split('/')[1]}.pinout`;
  const { analysis, tree } = treeOf({
    [file]: readFileSync(`examples/${name}.pinout`, 'utf8'),
    ...(name.startsWith('tide')
      ? { 'bus.pinout': readFileSync('examples/tide-gauge/bus.pinout', 'utf8') }
      : {}),
  });
  const nodes = [...allOf(tree.root)];

  it('counts all findings of the machine at its root', () => {
    const { error, warning, question, note } = tree.root.counts;
    expect(error + warning + question + note).toBe(analysis.findings.length);
  });

  it('has every supply, backplane, slot, board, connector and ribbon', () => {
    const { supplies, backplanes, boards, ribbons, instances } = analysis.machine;
    const count = (...kinds: string[]) => nodes.filter(({ kind }) => kinds.includes(kind)).length;
    expect(count('supply')).toBe(supplies.length);
    expect(count('backplane')).toBe(backplanes.length);
    expect(count('slot')).toBe(backplanes.flatMap(({ slots }) => slots).length);
    expect(count('board')).toBe(boards.length);
    const drawings = new Set(
      nodes.flatMap(({ drawing }) => (drawing?.view === 'connector' ? drawing.of : [])),
    );
    expect(drawings).toEqual(new Set(instances.map(({ path }) => path)));
    expect(count('ribbon', 'cable')).toBe(ribbons.reduce((sum, { ends }) => sum + 1 + ends.length, 0));
  });

  it('says of what it can draw the names that the drawings have', () => {
    const names = {
      bus: busPictures(analysis.view, []).map(({ backplane, bus }) => `${backplane}.${bus}`),
      connector: facesOf(analysis.view),
      ribbon: ribbonPictures(analysis.view).map((one) => one.name),
      // The cases of a plug are no thing in the tree.
      'what-if': [] as string[],
    };
    const drawings = nodes.flatMap(({ drawing }) => drawing ?? []);
    expect(drawings.filter(({ view, of }) => !names[view].includes(of))).toEqual([]);
    expect(new Set(drawings.map(({ root }) => root))).toEqual(new Set([analysis.root]));
  });
});

it('leads to the faults of the machine as it was found', () => {
  const { tree } = treeOf({
    'as-found.pinout': readFileSync('examples/tide-gauge/as-found.pinout', 'utf8'),
    'bus.pinout': readFileSync('examples/tide-gauge/bus.pinout', 'utf8'),
  });
  const remark = (label: string, kind?: string) => remarkOn(nodeCalled(tree.root, label, kind));
  expect(remarkOn(tree.root)).toBe(
    '16 errors, 12 warnings, 3 questions · Tide-gauge station logger, rack 2, as found',
  );
  expect(remark('slot 5')).toBe('empty · 1 error');
  expect(remark('slot 10')).toBe('empty');
  expect(remark('W1')).toBe('1 error · to DISPLAY.J1, CHART.J1');
  expect(remark('W3')).toBe('to ENCODER.J1');
  expect(remark('PANEL')).toBe('1 error, 2 warnings · on IDC34');
});
