import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { wrongMatingOf } from '../../../src/analysis/wrong-mating/wrong-mating.ts';
import { type Analysis, Project } from '../../../src/editing/project.ts';
import { published } from '../../../src/knowledge/published.ts';
import { parseDocument } from '../../../src/language/blocks.ts';
import type { Machine } from '../../../src/machine/types.ts';
import { dump } from '../../support/dump.ts';
import { generatedText } from '../../support/generate.ts';
import { edited, randomFrom } from '../../support/typing.ts';

/** Edits made of each machine: as many as `EDITS` says, else enough to notice. */
const EDITS = Number(process.env.EDITS ?? 40);

/** After so many edits, texts that are broken by now are set back. */
const RESTORED = 20;

/** Every so many edits all is compared, not only what the person sees. */
const THOROUGH = 8;

const WORKSPACE = '/machine';
type Texts = ReadonlyMap<string, string>;

const examples = new Map(
  readdirSync('examples', { recursive: true, encoding: 'utf8' })
    .filter((name) => name.endsWith('.pinout'))
    .map((name) => [name, readFileSync(join('examples', name), 'utf8')]),
);

const folder = (name: string): Texts =>
  new Map(
    [...examples]
      .filter(([path]) => path.startsWith(name))
      .map(([path, text]) => [path.slice(name.length), text]),
  );

/** A generated machine with its bus in a file of its own. */
function generated(slots: number, contacts: number): Texts {
  const text = generatedText({ slots, contacts });
  const bus = /^bus MAIN [\s\S]*?^\}\n/m.exec(text)![0];
  return new Map([
    ['main.pinout', text.replace(bus, 'use "bus.pinout"\n')],
    ['bus.pinout', `pinout 1\n${bus}`],
  ]);
}

const machines: readonly (readonly [string, Texts])[] = [
  ...['tide-gauge/', 's100/', 'vme/', 'isa/'].map((name) => [name, folder(name)] as const),
  ['generated, 3 slots', generated(3, 20)],
  ['generated, 8 slots', generated(8, 40)],
];

const pathOf = (name: string): string => `${WORKSPACE}/${name}`;

function projectOf(texts: Texts): Project {
  const project = new Project(published, () => WORKSPACE);
  for (const [name, text] of texts) project.set(pathOf(name), text);
  return project;
}

/** What is known of every machine: what the person sees of it, or all. */
function known(project: Project, all: boolean): string {
  const roots = [...new Set(project.names().flatMap((file) => project.rootsOf(file)))];
  const facts = ({ machine, findings, documents, view }: Analysis): unknown => {
    const { instances, nodeNames, nets, joins, problems } = machine;
    const seen = { findings, problems, nets, joins, nodeNames, paths: instances.map(({ path }) => path) };
    if (!all) return seen;
    const trees = [...documents.values()].filter(({ text }) => !tables.has(text));
    return { ...seen, machine, views: view.nets.views, trees, mating: judged(machine) };
  };
  return dump(roots.map((root) => facts(project.analysis(root)!)));
}

const tables = new Set(published.values());

/** What comes of each wrong way to plug something in. */
function judged(machine: Machine): unknown {
  const wrongMating = wrongMatingOf(machine);
  return wrongMating
    .cases()
    .map((one) => [one.plug.name, one.place.path, one.way, one.verdict, wrongMating.outcome(one)]);
}

/** The first place where two long texts differ, with what stands around it. */
function difference(a: string, b: string): string {
  let at = 0;
  while (at < a.length && a[at] === b[at]) at++;
  const around = (text: string): string => text.slice(Math.max(0, at - 300), at + 200);
  return a === b ? '' : `kept:\n${around(a)}\n\nanew:\n${around(b)}`;
}

describe('what is kept from version to version never shows', () => {
  test.each(machines)('%s', { timeout: 3_600_000 }, (_, original) => {
    const random = randomFrom(EDITS);
    const project = projectOf(original);
    const names = [...original.keys()];
    let texts = new Map(original);
    let before = texts;
    for (let i = 1; i <= EDITS; i++) {
      const name = names[Math.floor(random() * names.length)]!;
      const next = new Map(texts);
      if (i % RESTORED === 0) for (const [file, text] of original) next.set(file, text);
      else if (random() < 0.1) for (const [file, text] of before) next.set(file, text);
      else if (names.length > 1 && random() < 0.04) next.delete(name);
      else next.set(name, edited(texts.get(name) ?? original.get(name)!, original.get(names[0]!)!, random));
      for (const file of names) {
        const text = next.get(file);
        if (text === undefined) project.delete(pathOf(file));
        else project.set(pathOf(file), text);
      }
      [before, texts] = [texts, next];
      const all = i % THOROUGH === 0;
      expect(difference(known(project, all), known(projectOf(next), all)), `edit ${i}`).toBe('');
    }
  });

  test('a text that grows line by line is read as at once', () => {
    const text = examples.get('s100/s100.pinout')!;
    const project = new Project(published, () => WORKSPACE);
    const lines = text.split('\n');
    for (let i = 1; i <= lines.length; i += 3) project.set(pathOf('a.pinout'), lines.slice(0, i).join('\n'));
    project.set(pathOf('a.pinout'), text);
    const { lines: kept, root, problems, depths, whole } = project.document(pathOf('a.pinout'))!;
    const anew = parseDocument(text);
    expect(dump({ kept, root, problems, depths, whole })).toBe(
      dump({
        kept: anew.lines,
        root: anew.root,
        problems: anew.problems,
        depths: anew.depths,
        whole: anew.whole,
      }),
    );
  });

  test('names that only uses mention do not take the places of wires', () => {
    const text = examples.get('s100/s100.pinout')!;
    const more = text.replace(/\n +drives /, '\n  drives INNER1, INNER2, INNER3 with 74LS04$&');
    expect(more).not.toBe(text);
    const project = projectOf(new Map([['a.pinout', text]]));
    judged(project.analysis(pathOf('a.pinout'))!.machine);
    project.set(pathOf('a.pinout'), more);
    const anew = projectOf(new Map([['a.pinout', more]]));
    const [kept, made] = [project, anew].map((one) => judged(one.analysis(pathOf('a.pinout'))!.machine));
    expect(kept).toEqual(made);
  });
});
