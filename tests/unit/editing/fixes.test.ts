// Applies every quick fix that is offered on the machine as it was found, and on clean machines with a fault of every
// kind put into them, and looks at what the checker says of each machine afterwards.
import { readFileSync } from 'node:fs';
import { dirname, relative, resolve } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { languageRules } from '../../../src/checks/language.ts';
import { rules } from '../../../src/checks/rules.ts';
import type { Finding } from '../../../src/checks/types.ts';
import { applied } from '../../../src/editing/changes.ts';
import { type CodeAction, quickFixes } from '../../../src/editing/code-actions.ts';
import type { Analysis } from '../../../src/editing/project.ts';
import { Project } from '../../../src/editing/project.ts';
import { published } from '../../../src/knowledge/published.ts';
import { format } from '../../../src/language/format.ts';
import { cleanExamples, type Example, edited, type Seed } from '../../seeded/example.ts';
import { faults } from '../../seeded/faults.ts';

/** Rules whose findings no change of the text mends, and why. A new rule decides. */
const WITHOUT: Readonly<Record<string, string>> = {
  'supply-overload':
    'what boards take and a supply gives is as it is: boards, or the supply, must be changed',
  'bias-lost': 'what brings the bias to the chips must be found on the board',
  'rail-order': 'the order in which rails come up must be measured',
  'rail-drop': 'contacts and wires must be bettered, not their description',
  'rail-unused': 'nothing is wrong: where it is known to be free, `allow` says so',
  'line-overloaded': 'a driver, or what hangs on it, must be changed',
  'line-undriven': 'who drives the line must be found at the bench',
  'line-unheard': 'who hears the line must be found at the bench; where nobody does, `allow` says so',
  'neighbour-hazard': 'nothing is wrong: it says where the probe must not slip',
  'back-power': 'how the supplies are switched must be found out; where they go together, `allow` says so',
  'key-pointless': 'where the key really is must be measured',
  'reading-short': 'a short must be found and taken out, and the reading stays true',
  'range-mismatch': 'which of two lists is too short only the writer knows',
  'attribute-missing': 'what is missing only the writer knows',
  'line-misplaced': 'into which block the line belongs only the writer knows',
  'use-outside': 'where the file should be only the writer knows',
};

/** New errors that a fix brings to light and does not make: they are what the answer to a question means. */
const NEWS: Readonly<Record<string, string>> = {
  'stripe-unsaid → ribbon-crossed': 'a stripe seen at the other end means that the ribbon is crossed',
  'reading-contradicts → line-overloaded': 'a wire between two lines means that two drivers carry both',
};

interface Machine {
  readonly project: Project;
  /** The same texts once more, to be changed: what is known of a text does not outlive its next version. */
  readonly tried: Project;
  readonly root: string;
}

const opened = (root: string, texts: ReadonlyMap<string, string>): Machine => {
  const [project, tried] = [new Project(published, () => '/'), new Project(published, () => '/')];
  for (const [file, text] of texts) for (const one of [project, tried]) one.set(file, text);
  return { project, tried, root };
};

const analysisOf = ({ project, root }: Machine): Analysis => project.analysis(root)!;

const key = ({ rule, message }: Finding): string => `${rule}\n${message}`;

/** A finding by its rule and its line as written: messages change with the rest of the machine. */
function lineOf({ rule, source: { file, from } }: Finding, { documents }: Analysis): string {
  const text = documents.get(file)!.text;
  const end = text.indexOf('\n', from);
  return `${rule}\n${text.slice(text.lastIndexOf('\n', from - 1) + 1, end < 0 ? undefined : end)}`;
}

/** ms; the machines are built and checked some hundred times, on a computer that may be busy. */
const LONG = 120_000;

const applications = { offered: 0, rules: new Map<string, number>(), news: new Set<string>() };
const RANK = ['note', 'question', 'warning', 'error'];

/** What is wrong with the machine once a fix is applied. */
function broken(machine: Machine, before: Analysis, finding: Finding, fix: CodeAction): string[] {
  const { tried: project, root } = machine;
  const files = [...new Set(fix.changes.map(({ file }) => file))];
  const texts = files.map((file) => project.document(file)!.text);
  files.forEach((file, i) => {
    project.set(
      file,
      applied(
        texts[i]!,
        fix.changes.filter((one) => one.file === file),
      ),
    );
  });
  const after = project.analysis(root)!;
  const trouble: string[] = [];
  const alike = ({ findings }: Analysis): readonly Finding[] =>
    findings.filter(
      (one) => one.rule === finding.rule && RANK.indexOf(one.severity) >= RANK.indexOf(finding.severity),
    );
  const same = (list: readonly Finding[]): number => list.filter((one) => key(one) === key(finding)).length;
  if (alike(after).length >= alike(before).length || same(alike(after)) >= same(alike(before)))
    trouble.push('the finding is still there');
  const known = new Set(before.findings.map((one) => lineOf(one, before)));
  for (const one of after.findings) {
    if (one.severity !== 'error' || known.has(lineOf(one, after))) continue;
    const news = `${finding.rule} → ${one.rule}`;
    applications.news.add(news);
    if (!(news in NEWS)) trouble.push(`new: ${one.rule}: ${one.message}`);
  }
  files.forEach((file, i) => {
    const text = project.document(file)!.text;
    const old = new Set(texts[i]!.split('\n'));
    const lines = format(text).split('\n');
    text.split('\n').forEach((line, n) => {
      if (line !== lines[n] && !old.has(line)) trouble.push(`not formatted: ${line}`);
    });
    project.set(file, texts[i]!);
  });
  return trouble;
}

/** Every fix of the findings that are not known already, with what is wrong with it. */
function failures(machine: Machine, known: ReadonlySet<string> = new Set()): string[] {
  const analysis = analysisOf(machine);
  return analysis.findings
    .filter((finding) => !known.has(key(finding)))
    .flatMap((finding) =>
      [...quickFixes(analysis, finding)].flatMap((fix) => {
        applications.offered++;
        applications.rules.set(finding.rule, (applications.rules.get(finding.rule) ?? 0) + 1);
        const trouble = broken(machine, analysis, finding, fix);
        return trouble.map((one) => `${finding.rule}: ${finding.message}\n  ${fix.title}\n  ${one}`);
      }),
    );
}

const onDisk = (root: string, ...others: string[]): Machine =>
  opened(
    resolve(root),
    new Map([root, ...others].map((file) => [resolve(file), readFileSync(file, 'utf8')])),
  );

/** A clean machine with a fault in it. */
const faulty = ({ root, documents }: Example, { edits }: Seed): Machine => {
  const own = [...documents].filter(([file]) => !file.startsWith('published:'));
  return opened(
    root,
    new Map(
      own.map(([file, { text }]) => [
        file,
        edited(
          text,
          edits.filter((one) => one.file === file),
        ),
      ]),
    ),
  );
};

describe('the machine as found', () => {
  const folder = 'examples/tide-gauge';

  it(
    'is mended by every fix that is offered',
    () => {
      expect(failures(onDisk(`${folder}/as-found.pinout`, `${folder}/bus.pinout`))).toEqual([]);
    },
    LONG,
  );

  it(
    'offers these',
    () => {
      const analysis = analysisOf(onDisk(`${folder}/as-found.pinout`, `${folder}/bus.pinout`));
      const offers = analysis.findings.flatMap((finding) => {
        const titles = Array.from(quickFixes(analysis, finding), ({ title }) => title);
        return titles.length > 0 ? [[finding.rule, ...titles]] : [];
      });
      expect(offers).toEqual([
        ['line-unterminated', 'add D5 to the terminators after slot 10 of CAGE'],
        ['terminator-misplaced', 'move it after slot 6', 'move it before slot 1'],
        ['pull-up-too-high', 'take it to +5V: `1 kohm to +5V`'],
        ['pull-up-out-of-range', 'fit 1 kohm'],
        [
          'guess-carries-power',
          'write `by meter`, once it is metered',
          'write `by trace`, once it is traced to the supply',
          'write `by silkscreen`, where the board has it printed',
        ],
        ['port-unexplained', 'describe the ribbon that is plugged in: `W5`'],
        ['line-no-pull-up', 'add `pull-up /WAIT 1 kohm to +5V after 10`'],
        ['rail-conflict', 'write `-5V` instead of -12V at ADC.edge.W'],
        ['drivers-fight', 'write `7406`, which has the same pins and open collectors'],
        ['name-clash', 'call it /IRQ on TELE too'],
        [
          'line-over-terminated',
          'take RN1 off TELE: `without RN1`',
          'take the terminator after slot 10 of CAGE out',
          'take the terminator before slot 1 of CAGE out',
        ],
        ['chain-broken', 'say that the bridge is fitted at slot 5: `bridge GRANT`'],
        ['date-odd', 'write `1984-07-03`', 'write `1984-03-07`'],
        ['ribbon-crossed', 'write `stripe 1` at DISPLAY.J1'],
        ['stripe-unsaid', 'write `stripe 1`', 'write `stripe 16`'],
        ['rail-unfed', 'add `feed +12V from PSU at 3, C` to CAGE'],
      ]);
    },
    LONG,
  );
});

describe('seeded faults', () => {
  const examples = cleanExamples();

  it.each(faults)(
    '$kind',
    (fault) => {
      examples.forEach((example, i) => {
        const known = new Set(example.findings.map(key));
        const seeds = [...fault.seeds(example)];
        const seed = seeds[i % 2 === 0 ? 0 : seeds.length - 1];
        if (seed === undefined) return;
        const where = `${relative(dirname(dirname(example.root)), example.root)}, ${seed.place}`;
        expect(failures(faulty(example, seed), known), where).toEqual([]);
      });
    },
    LONG,
  );
});

/** Errors of the language, and findings for which the clean machines have no place. */
const OTHERS: Readonly<Record<string, string>> = {
  'unit-wrong': 'supply PSU {\n  rail +5V 5 volts\n}\n',
  'pasted-form': 'supply PSU {\n  rail +5V 5,0 V\n}\n',
  'word-unknown': 'cards CPU {\n}\n',
  'line-unreadable': 'connector E4 {\n  shape row 2\n}\nbus B on E4 {\n  1 = key by trace\n}\n',
  'brace-misplaced': 'supply PSU\n  rail +5V 5 V\n}\n',
  'block-unclosed': 'supply PSU {\n  rail +5V 5 V\n',
  'attribute-twice': 'supply PSU {\n  rail +5V 5 V max 1 A max 2 A\n}\n',
  'contact-unknown':
    'connector E4 {\n  shape row 2\n  numbers a1..a2\n}\nbus B on E4 {\n  A1 = GND by trace\n}\n',
  'use-missing': 'use published "isa8"\n',
  'use-cycle': 'use "main.pinout"\n',
  'rails-paralleled':
    'connector E4 {\n  shape row 4\n}\nsupply PSU {\n  rail +5V 5 V\n  rail +5VB 5 V\n  ground GND\n}\n' +
    'bus B on E4 {\n  1 = +5V by meter\n  2 = GND by meter\n}\nbackplane CAGE {\n  slots 1..2 on B\n' +
    '  feed +5V from PSU at 1\n  feed +5VB from PSU at 1\n  feed GND from PSU at 2\n}\n',
  'contact-overload':
    'connector E4 {\n  shape row 4\n  contact 1 A\n}\nsupply PSU {\n  rail +5V 5 V\n  ground GND\n}\n' +
    'bus B on E4 {\n  1 = +5V by meter\n  2..4 = GND by meter\n}\nbackplane CAGE {\n  slots 1..3 on B\n' +
    '  feed +5V from PSU at 1\n  feed GND from PSU at 2..4 by "lugs"\n}\n' +
    'card C {\n  edge on B\n  takes +5V 600 mA\n}\nfitted CAGE {\n  1 = C as C1\n  2 = C as C2\n  3 = empty\n}\n',
};

describe('other findings', () => {
  it.each(Object.entries(OTHERS))('%s', (rule, text) => {
    const before = applications.rules.get(rule) ?? 0;
    expect(failures(opened('/machine/main.pinout', new Map([['/machine/main.pinout', text]])))).toEqual([]);
    expect(applications.rules.get(rule) ?? 0).toBeGreaterThan(before);
  });
});

describe('rules', () => {
  const ids = [...rules, ...languageRules].map(({ id }) => id);

  it('each have a fix, or say why there is none', () => {
    const silent = ids.filter((id) => !applications.rules.has(id));
    expect(silent.sort()).toEqual(Object.keys(WITHOUT).sort());
  });

  it('that bring other errors to light are those that are known to', () => {
    expect([...applications.news].sort()).toEqual(Object.keys(NEWS).sort());
  });

  afterAll(() => console.log(`quick fixes applied: ${applications.offered}`));
});
