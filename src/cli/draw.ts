import { writeFileSync } from 'node:fs';
import { indexNets } from '../analysis/nets.ts';
import { check } from '../checks/run.ts';
import type { View } from '../checks/types.ts';
import { busPictures } from '../drawing/bus-picture.ts';
import { busSvg } from '../drawing/bus-svg.ts';
import { connectorPicture, facesOf } from '../drawing/connector-picture.ts';
import { connectorSvg, hindered } from '../drawing/connector-svg.ts';
import type { FaceLook } from '../drawing/face-layout.ts';
import { ribbonPictures } from '../drawing/ribbon-picture.ts';
import { ribbonSvg } from '../drawing/ribbon-svg.ts';
import { Files, nameOf, reason, Trouble } from './files.ts';

export interface DrawOptions extends FaceLook {
  readonly view: 'bus' | 'connector' | 'ribbon';
  readonly of?: string;
  readonly output?: string;
}

/** Draws one thing of one machine as an SVG file, or prints it. */
export function drawCommand(path: string, options: DrawOptions): number {
  const files = new Files();
  const file = files.only(path);
  const machine = files.machine(file);
  const view = { machine, nets: indexNets(machine) };
  const of = one(options, namesIn(view, options.view), nameOf(file));
  const text = drawn(view, () => check(machine, files.of(machine)), of, options);
  if (options.output === undefined) process.stdout.write(text);
  else write(options.output, text);
  return 0;
}

/** What there is to draw, by the names that `--of` takes. */
function namesIn(view: View, kind: DrawOptions['view']): readonly string[] {
  if (kind === 'bus') return busPictures(view, []).map(({ backplane, bus }) => `${backplane}.${bus}`);
  return kind === 'connector' ? facesOf(view) : view.machine.ribbons.map(({ name }) => name);
}

/** The one that is meant: by its name, by the backplane's for a bus, or the only one there is. */
function one({ of, view }: DrawOptions, names: readonly string[], file: string): string {
  if (names.length === 0) throw new Trouble(`${file}: has no ${NOUNS[view]} to draw`);
  const meant = names.filter((name) => of === undefined || name === of);
  const found =
    meant.length > 0 || view !== 'bus' ? meant : names.filter((name) => name.startsWith(`${of}.`));
  const list =
    names.slice(0, MOST).join(', ') + (names.length > MOST ? ` and ${names.length - MOST} more` : '');
  if (found.length === 1) return found[0]!;
  if (of !== undefined && found.length === 0)
    throw new Trouble(`${file}: has no ${NOUNS[view]} \`${of}\`; it has ${list}`);
  throw new Trouble(`${file}: has several to draw; say which with --of: ${list}`);
}

const NOUNS = { bus: 'bus in a backplane', connector: 'connector', ribbon: 'ribbon or cable' } as const;
const MOST = 12;

function drawn(
  view: View,
  findings: () => ReturnType<typeof check>,
  of: string,
  options: DrawOptions,
): string {
  if (options.view === 'bus')
    return busSvg(busPictures(view, findings()).find(({ backplane, bus }) => `${backplane}.${bus}` === of)!);
  if (options.view === 'ribbon') return ribbonSvg(ribbonPictures(view).find(({ name }) => name === of)!);
  const picture = connectorPicture(view, of)!;
  const hindrance = hindered(picture, options);
  if (hindrance !== undefined) throw new Trouble(hindrance);
  return connectorSvg(picture, options);
}

function write(path: string, text: string): void {
  try {
    writeFileSync(path, text);
  } catch (error) {
    throw new Trouble(`${path}: ${reason(error)}`);
  }
}
