import { writeFileSync } from 'node:fs';
import { indexNets } from '../analysis/nets.ts';
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
import { Files, nameOf, reason, Trouble } from './files.ts';

export interface DrawOptions extends FaceLook, BusLook {
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
  return facesOf(view).map((name) => [name, () => face(view, name, options)]);
}

function face(view: View, name: string, look: FaceLook): string {
  const picture = connectorPicture(view, name)!;
  const hindrance = hindered(picture, look);
  if (hindrance !== undefined) throw new Trouble(hindrance);
  return connectorSvg(picture, look);
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

function write(path: string, text: string): void {
  try {
    writeFileSync(path, text);
  } catch (error) {
    throw new Trouble(`${path}: ${reason(error)}`);
  }
}
