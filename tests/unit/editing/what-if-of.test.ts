import { describe, expect, it } from 'vitest';
import { drawingOf } from '../../../src/editing/drawings/drawing.ts';
import { shownInWhatIf, whatIfOf } from '../../../src/editing/drawings/what-if-of.ts';
import { example } from '../../support/drawings.ts';
import { opened } from '../../support/project.ts';
import { UNKEYED } from '../../support/unkeyed.ts';

const RULES = [
  'mate-turned',
  'mate-shifted',
  'mate-wrong-slot',
  'ribbon-turned',
  'ribbon-over',
  'ribbon-wrong-port',
];

function analysed(text: string) {
  const { project, file } = opened(text);
  return { analysis: project.analysis(file)!, file };
}

/** The case that the drawing of a finding shows, with the plug whose cases it goes through. */
function shownOf({ analysis }: ReturnType<typeof analysed>, rule: string): [string, string] {
  const finding = analysis.findings.find((one) => one.rule === rule)!;
  const wanted = whatIfOf(analysis.machine, finding)!;
  const { shown } = drawingOf(analysis.view, [], wanted)!;
  return [wanted.of, shown.view === 'what-if' ? shown.picture.shown!.says : ''];
}

describe('the what-if of a finding', () => {
  const bare = analysed(UNKEYED);

  it('shows the very case that is told of', () => {
    expect(shownOf(bare, 'mate-turned')).toEqual(['CPU', 'CPU turned in CAGE.1']);
    const [of, says] = shownOf(bare, 'ribbon-turned');
    expect(of).toMatch(/^W1 at /);
    expect(says).toMatch(/^W1 turned at /);
  });

  it('shows all that a connector lacks keys against, the worst first', () => {
    const lacks = bare.analysis.findings.filter(({ rule }) => rule === 'key-missing');
    const cases = lacks.map((one) => whatIfOf(bare.analysis.machine, one)!);
    expect(cases.map(({ of }) => of)).toEqual(['all plugs', 'all plugs']);
    expect(cases.map((one) => one.case)).toEqual([
      expect.stringMatching(/^CPU, CAGE\.1, turned/),
      expect.stringMatching(/^W1 at \S+, \S+, turned/),
    ]);
  });

  it.each(['as-found', 'tide-gauge', 's100', 'vme', 'isa'])(
    'is there for each that tells of harm or doubt: %s',
    (name) => {
      const { machine, findings, view } = example(name);
      for (const finding of findings.filter(
        ({ rule, severity }) => RULES.includes(rule) && severity !== 'note',
      )) {
        const wanted = whatIfOf(machine, finding)!;
        const drawing = drawingOf(view, [], wanted)!;
        const says = drawing.shown.view === 'what-if' ? drawing.shown.picture.shown!.says : '';
        expect(finding.message).toContain(says.split(' ')[0]);
        expect(drawing.shown).toMatchObject({ picture: { shown: { id: wanted.case } } });
      }
    },
  );

  it('is gone with the case', () => {
    const finding = bare.analysis.findings.find(({ rule }) => rule === 'mate-turned')!;
    const keyed = analysed(UNKEYED.replace('  ends     closed\n', '  ends     closed\n  key between 2, 3\n'));
    expect(whatIfOf(keyed.analysis.machine, finding)).toBeUndefined();
  });
});

describe('where it is offered', () => {
  const { analysis, file } = analysed(UNKEYED);
  const at = (text: string): string[] => {
    const from = UNKEYED.indexOf(text);
    return shownInWhatIf(analysis, file, { from, to: from }).map(({ rule }) => rule);
  };

  it('is at findings of wrong matings, each rule once', () => {
    expect(at('1    = CPU')).toEqual(['mate-turned']);
    expect(at('connector E16')).toEqual(['key-missing']);
    expect(at('title')).toEqual([]);
    const everywhere = shownInWhatIf(analysis, file, { from: 0, to: UNKEYED.length }).map(({ rule }) => rule);
    expect(new Set(everywhere).size).toBe(everywhere.length);
    expect(everywhere).toContain('ribbon-turned');
  });
});
