// Follows what a finding on a wrong mating suggests, as the editor would write it, and asks again: the finding is gone, and no
// harmful way is left open but those of which the plan said that no key prevents them.
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { keyPlansOf } from '../../../src/analysis/wrong-mating/plans.ts';
import { isHarmful, wrongMatingOf } from '../../../src/analysis/wrong-mating/wrong-mating.ts';
import { spokenCase } from '../../../src/checks/spoken-mating.ts';
import type { Finding } from '../../../src/checks/types.ts';
import { applied, textChanges } from '../../../src/editing/changes.ts';
import { type Analysis, Project } from '../../../src/editing/project.ts';
import { published } from '../../../src/knowledge/published.ts';
import { cleanExamples, edited } from '../../seeded/example.ts';
import { faults } from '../../seeded/faults.ts';
import { BUS, cage, LINES, lead } from '../checks/mating-machine.ts';

type Texts = ReadonlyMap<string, string>;

const ROOT = '/machine/main.pinout';
const alone = (text: string): Texts => new Map([[ROOT, text]]);

const RULES: ReadonlySet<string> = new Set([
  'mate-turned',
  'mate-shifted',
  'mate-wrong-slot',
  'ribbon-turned',
  'ribbon-over',
  'ribbon-wrong-port',
  'key-missing',
]);

function analysed(root: string, texts: Texts): Analysis {
  const project = new Project(published, () => '/');
  for (const [file, text] of texts) project.set(file, text);
  return project.analysis(root)!;
}

const ours = ({ findings }: Analysis): readonly Finding[] =>
  findings.filter(
    ({ rule, severity }) => RULES.has(rule) && (severity === 'warning' || rule === 'key-missing'),
  );

const openIn = ({ machine }: Analysis) => {
  const wrong = wrongMatingOf(machine);
  return wrong.open().filter((one) => one.verdict.state === 'open' && isHarmful(one, wrong.outcome(one)));
};

/** How many harmful ways no plan of this machine prevents. */
function beyondKeys({ machine }: Analysis): number {
  const plans = keyPlansOf(machine, wrongMatingOf(machine));
  return plans.reduce((sum, { plan, cases }) => sum + (plan?.leaves ?? cases.length), 0);
}

const errors = ({ findings }: Analysis): string[] =>
  findings.filter(({ severity }) => severity === 'error').map(({ rule, message }) => `${rule}: ${message}`);

/** The texts once the first edits of all these findings are made, each after the other. */
function following(root: string, texts: Texts): { readonly after: Analysis; readonly made: number } {
  const now = new Map(texts);
  let made = 0;
  // Every connector has a plan of its own; each edit is asked for anew, as one asks the editor.
  for (let before = analysed(root, now); ; before = analysed(root, now)) {
    const edit = ours(before).find(({ edits }) => edits !== undefined)?.edits?.[0];
    if (edit === undefined || made > 8) return { after: before, made };
    const changes = textChanges(edit, before.documents);
    expect(changes, edit.title).not.toEqual([]);
    for (const file of new Set(changes.map((one) => one.file))) {
      const its = changes.filter((one) => one.file === file);
      now.set(file, applied(now.get(file)!, its));
    }
    made++;
  }
}

const RAILS = LINES.replace('2, 4, 6 = Q0..Q2', '2, 4, 6 = +24V');
const BUMPS = ['stripe 1 bump', 'stripe 1 bump'] as const;
const wide = `    1..25 step 2 = GND by trace
    2..16 step 2 = Q0..Q7 by trace
    18..26 step 2 = spare by trace`;
const full = '    1 = GND by trace\n    2 = +5V by trace\n    3..10 = Q0..Q7 by trace';
const other = (slots: string): string => `bus X on E8 {
${BUS.replace('+5V', '+12V').replace('4, D = +12V', '4, D = +5V')}
}
backplane AUX {
  slots 1 on X${slots}
  feed GND from PSU at 1
  feed +12V from PSU at 2
  feed +5V from PSU at 4
}
card MEM {
  edge on X
  takes +5V 100 mA
  untouched rest
}
fitted AUX {
  1 = MEM
}`;
/** The same on an edge of two by six, with room for keys that differ and lie otherwise when turned. */
const longer = (text: string): string =>
  text
    .replace('shape edge 2 x 4', 'shape edge 2 x 6')
    .replace('numbers 1..4, A..D', 'numbers 1..6, A..F')
    .replaceAll(/4, D = (.*)/g, '6, F = $1\n  4..5, D..E = spare')
    .replaceAll(/(feed \S+ from PSU at) 4/g, '$1 6');
const EIGHT = ['drives Q0..Q7 with 74LS244 at J1', 'receives Q0..Q7 with 74LS at J1'] as const;
const bareS100 = readFileSync('examples/s100/s100.pinout', 'utf8').replace(/(slots .*) guides/, '$1');

/** Machines in which a key, a hole or a wall prevents all. */
const MACHINES: Readonly<Record<string, string>> = {
  'an edge without a key': cage({}),
  'edges without a key, two boards of one card': cage({ fitted: '  1 = CPU as A\n  2 = CPU as B' }),
  'an edge with its key in the middle': cage({ socket: '  ends closed\n  key between 2, 3' }),
  'two buses on one connector': cage({ slots: ' guides', rest: other(' guides') }),
  'two buses on one connector, no guides': longer(cage({ rest: other('') })),
  'open headers with contacts to spare': lead({ near: wide, far: wide, uses: EIGHT })
    .replace('2 x 5', '2 x 13')
    .replace('10 way', '26 way'),
  'headers in walls without a notch': lead({ header: '  shroud' }),
  'open headers without a contact to spare': lead({ near: full, far: full, uses: EIGHT }),
  'ports of equal size with different rails': lead({
    header: '  shroud notch',
    ends: BUMPS,
    ports: `  port P2 on H10 {\n${RAILS}\n  }`,
  }),
  'a published bus without guides': bareS100,
};

describe('what is suggested against wrong matings', () => {
  it.each(Object.entries(MACHINES))('%s', (_, text) => {
    const before = analysed(ROOT, alone(text));
    expect(openIn(before).length).toBeGreaterThan(0);
    expect(ours(before).some(({ rule }) => rule === 'key-missing')).toBe(true);
    expect(ours(before).some(({ rule }) => rule !== 'key-missing')).toBe(true);
    // Each finding carries the edit that the plan for its connector carries.
    for (const { rule, message, edits } of ours(before)) expect(edits, `${rule}: ${message}`).toBeDefined();
    const { after, made } = following(ROOT, alone(text));
    expect(made).toBe(1);
    expect(openIn(after).map(spokenCase)).toEqual([]);
    expect(ours(after)).toEqual([]);
    expect(errors(after)).toEqual(errors(before));
  });

  it('is written on both halves: nothing is left to be asked', () => {
    for (const text of Object.values(MACHINES)) {
      const { after } = following(ROOT, alone(text));
      const asked = after.findings.filter(({ rule, severity }) => RULES.has(rule) && severity === 'question');
      expect(asked.map(({ message }) => message)).toEqual([]);
    }
  });

  it('where keys would cost pins in use, a wall is what is suggested, and leaves nothing open', () => {
    const text = lead({});
    const before = analysed(ROOT, alone(text));
    const [missing] = before.findings.filter(({ rule }) => rule === 'key-missing');
    expect(missing?.message).toContain('a wall with a notch round the pins of each');
    const { after } = following(ROOT, alone(text));
    expect(openIn(after)).toHaveLength(0);
    expect(after.findings.filter(({ rule }) => rule === 'key-missing')).toEqual([]);
  });
});

describe('what is suggested on the examples, once what keeps plugs straight is gone', () => {
  const kinds = faults.filter(
    ({ rule, severity }) => RULES.has(rule) && (severity === 'warning' || rule === 'key-missing'),
  );

  /** Buses of a table that ships, on contacts and not between them: no line of slots says which of their pins are pulled. */
  const UNWRITABLE = new Set(['vme/vme.pinout']);

  it.each(kinds)('$kind → $rule', ({ seeds }) => {
    for (const example of cleanExamples()) {
      const seed = [...seeds(example)][0];
      if (seed === undefined) continue;
      const texts = new Map(
        [...example.documents]
          .filter(([file]) => !file.startsWith('published:'))
          .map(([file, { text }]) => [
            file,
            edited(
              text,
              seed.edits.filter((one) => one.file === file),
            ),
          ]),
      );
      const before = analysed(example.root, texts);
      const left = beyondKeys(before);
      const { after, made } = following(example.root, texts);
      if (!UNWRITABLE.has(example.name) && left < openIn(before).length)
        expect(made, seed.place).toBeGreaterThan(0);
      if (made === 0) continue;
      expect(openIn(after).length, `${example.name}, ${seed.place}`).toBeLessThanOrEqual(left);
      expect(errors(after), seed.place).toEqual(errors(before));
    }
  });
});
