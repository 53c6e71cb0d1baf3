import { writeFileSync } from 'node:fs';
import { indexNets } from '../analysis/nets.ts';
import { wrongMatingOf } from '../analysis/wrong-mating/wrong-mating.ts';
import { check } from '../checks/run.ts';
import type { Finding, View } from '../checks/types.ts';
import type { BusLook } from '../drawing/bus-layout.ts';
import { busNames, busPicture } from '../drawing/bus-picture.ts';
import { busSvg } from '../drawing/bus-svg.ts';
import { connectorPicture, facesOf } from '../drawing/connector-picture.ts';
import { connectorSvg, hindered } from '../drawing/connector-svg.ts';
import type { FaceLook } from '../drawing/face-layout.ts';
import { ribbonPicture } from '../drawing/ribbon-picture.ts';
import { ribbonSvg } from '../drawing/ribbon-svg.ts';
import type { VIEWS } from '../drawing/to-host.ts';
import { plugNames } from '../drawing/what-if-cases.ts';
import type { CasesShown } from '../drawing/what-if-choice.ts';
import { caseNumbered, whatIfPicture } from '../drawing/what-if-picture.ts';
import { whatIfSvg } from '../drawing/what-if-svg.ts';
import { nearest } from '../language/problems.ts';
import { Files, nameOf, reason, Trouble } from './files.ts';

export interface DrawOptions extends FaceLook, BusLook {
  readonly view: (typeof VIEWS)[number];
  readonly of?: string;
  readonly output?: string;
  /** Of a what-if: through which cases is counted, and which of them is drawn, from 1. */
  readonly cases: CasesShown;
  readonly case: number;
}

/** Draws one thing of one machine as an SVG file, or prints it. */
export function drawCommand(path: string, options: DrawOptions): number {
  const files = new Files();
  const file = files.only(path);
  const machine = files.machine(file);
  const view = { machine, nets: indexNets(machine) };
  const drawings = new Map(drawingsOf(view, () => check(machine, files.of(machine)), options));
  const text = drawings.get(one(options, [...drawings.keys()], nameOf(file)))!();
  if (options.output === undefined) process.stdout.write(text);
  else write(options.output, text);
  return 0;
}

type Drawing = readonly [name: string, draw: () => string];

/** What there is to draw, by the names that `--of` takes. */
function drawingsOf(view: View, findings: () => readonly Finding[], options: DrawOptions): Drawing[] {
  const { machine } = view;
  if (options.view === 'bus')
    return busNames(view).map((name) => [name, () => busSvg(busPicture(view, findings(), name)!, options)]);
  if (options.view === 'ribbon')
    return machine.ribbons.map(({ name }) => [name, () => ribbonSvg(ribbonPicture(view, name)!)]);
  if (options.view === 'what-if')
    return plugNames(wrongMatingOf(machine)).map((name) => [name, () => whatIf(view, name, options)]);
  return facesOf(view).map((name) => [name, () => face(view, name, options)]);
}

function face(view: View, name: string, look: FaceLook): string {
  const picture = connectorPicture(view, name)!;
  const hindrance = hindered(picture, look);
  if (hindrance !== undefined) throw new Trouble(hindrance);
  return connectorSvg(picture, look);
}

function whatIf(view: View, of: string, { cases, case: number }: DrawOptions): string {
  const id = caseNumbered(view, { of, cases }, number);
  const picture = id === undefined ? undefined : whatIfPicture(view, { of, cases, case: id });
  if (picture === undefined) throw new Trouble(`${of} has no case ${number} of ${CASES_SAY[cases]}`);
  return whatIfSvg(picture);
}

const CASES_SAY: Readonly<Record<CasesShown, string>> = {
  open: 'those that do harm or cannot be judged, and that nothing prevents; --cases all counts through all',
  all: 'all',
};

/** The one that is meant: by its name, by what begins it, or the only one there is. */
function one({ of, view }: DrawOptions, names: readonly string[], file: string): string {
  if (names.length === 0) throw new Trouble(`${file}: has no ${NOUNS[view]} to draw`);
  const meant = names.filter((name) => of === undefined || name === of);
  const found = meant.length > 0 || of === undefined ? meant : begunBy(view, names, of);
  if (found.length === 1) return found[0]!;
  const list =
    names.slice(0, MOST).join(', ') + (names.length > MOST ? ` and ${names.length - MOST} more` : '');
  if (of === undefined || found.length > 0)
    throw new Trouble(`${file}: has several to draw; say which with --of: ${list}`);
  const near = nearly(of, [...names, ...names.flatMap((name) => beginningsOf(view, name))]);
  const ask = near === undefined ? '' : `; did you mean \`${near}\`?`;
  throw new Trouble(`${file}: has no ${NOUNS[view]} \`${of}\`${ask}; it has ${list}`);
}

/** What stands for a longer name: the backplane for its bus, a ribbon for its ends. */
function beginningsOf(view: DrawOptions['view'], name: string): string[] {
  const end = view === 'bus' ? name.indexOf('.') : view === 'what-if' ? name.indexOf(' at ') : -1;
  return end < 0 ? [] : [name.slice(0, end)];
}

/** All buses of a backplane, of which one has to be chosen; of a ribbon the first end. */
function begunBy(view: DrawOptions['view'], names: readonly string[], of: string): string[] {
  const found = names.filter((name) => beginningsOf(view, name).includes(of));
  return view === 'what-if' ? found.slice(0, 1) : found;
}

/** The name that is meant by one in letters of the wrong case, or with a slip in it where that can mean only one. */
function nearly(of: string, names: readonly string[]): string | undefined {
  const alike = names.find((name) => name.toLowerCase() === of.toLowerCase());
  const near = new Set(names.filter((name) => name.length > 1 && nearest(of, [name]) !== undefined));
  return alike ?? (near.size === 1 ? [...near][0] : undefined);
}

const NOUNS = {
  bus: 'bus in a backplane',
  connector: 'connector',
  ribbon: 'ribbon or cable',
  'what-if': 'board with an edge and no ribbon with a known end',
} as const;
const MOST = 12;

function write(path: string, text: string): void {
  try {
    writeFileSync(path, text);
  } catch (error) {
    throw new Trouble(`${path}: ${reason(error)}`);
  }
}
