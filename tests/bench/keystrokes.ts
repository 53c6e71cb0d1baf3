import { getLanguageService, type JSONSchema, TextDocument } from 'vscode-json-languageservice';
import { completionsAt } from '../../src/editing/completion.ts';
import { hoverAt } from '../../src/editing/hover.ts';
import { Project } from '../../src/editing/project.ts';
import { published } from '../../src/knowledge/published.ts';
import { generatedData, generatedSchema, generatedText } from '../support/generate.ts';

const FILE = '/rack/machine.pinout';
const SIZE = { slots: 20, contacts: 100, tag: 'k' };
/** Keystrokes that only let the just-in-time compiler settle, for both alike, and keystrokes that count. */
const WARM_UP = 100;
const MEASURED = 200;

/** A text in which somebody types a name's letters, one a version, each time somewhere else. */
function* typed(text: string, names: readonly string[]): Iterable<string> {
  for (let i = 0; ; i++) {
    const name = names[(i * 7) % names.length]!;
    const at = text.indexOf(name, text.indexOf(name) + 1);
    yield `${text.slice(0, at + name.length)}${'XYZ'[i % 3]}${text.slice(at + name.length)}`;
  }
}

/** ms of each keystroke: ours to the findings of the whole machine, theirs to the problems of the whole document. */
export async function keystrokeTimes(): Promise<{ ours: number[]; theirs: number[] }> {
  const names = Array.from({ length: 20 }, (_, i) => `Dk_${i}`);
  const pinout = typed(generatedText(SIZE), names)[Symbol.iterator]();
  const json = typed(JSON.stringify(generatedData(SIZE), null, 2), names)[Symbol.iterator]();
  const project = new Project(published);
  project.set(FILE, generatedText(SIZE));
  const service = getLanguageService({});
  service.configure({ allowComments: false, schemas: [] });
  const schema = generatedSchema as JSONSchema;
  const [ours, theirs]: [number[], number[]] = [[], []];
  for (let i = 0; i < WARM_UP + MEASURED; i++) {
    const text = pinout.next().value as string;
    globalThis.gc?.({ type: 'minor' });
    let start = performance.now();
    project.set(FILE, text);
    const { findings } = project.analysis(FILE)!;
    ours.push(performance.now() - start);
    if (findings.length === 0) throw new Error('the misspelt name is not found');

    const document = TextDocument.create('file:///machine.json', 'json', i, json.next().value as string);
    globalThis.gc?.({ type: 'minor' });
    start = performance.now();
    await service.doValidation(document, service.parseJSONDocument(document), undefined, schema);
    theirs.push(performance.now() - start);
  }
  return { ours: ours.slice(WARM_UP), theirs: theirs.slice(WARM_UP) };
}

/** ms of single answers on that machine: completion at the end of each name, and hover on it. */
export function answerTimes(): { completion: number[]; hover: number[] } {
  const text = generatedText(SIZE);
  const project = new Project(published);
  project.set(FILE, text);
  const analysis = project.analysis(FILE)!;
  const names = analysis.symbols.in(FILE);
  const [completion, hover]: [number[], number[]] = [[], []];
  for (let i = 0; i < 2 * names.length; i++) {
    const { to } = names[(i * 7) % names.length]!;
    let start = performance.now();
    const offered = completionsAt(analysis, FILE, to);
    completion.push(performance.now() - start);
    start = performance.now();
    const told = hoverAt(analysis, FILE, to);
    hover.push(performance.now() - start);
    if (offered.length === 0 && told === undefined) throw new Error(`nothing is known at ${to}`);
  }
  const settled = (times: number[]): number[] => times.slice(names.length);
  return { completion: settled(completion), hover: settled(hover) };
}
