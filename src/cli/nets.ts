import { indexNets } from '../analysis/nets.ts';
import type { Machine } from '../machine/types.ts';
import { netReports, netsText } from '../reports/nets.ts';
import { Files, nameOf, Trouble } from './files.ts';

export interface NetsOptions {
  readonly format: 'text' | 'json';
  readonly of?: string;
}

/** How the contacts of this machine are written, and which backplanes there are. */
function contactsOf({ backplanes, instances }: Machine): string {
  const first = instances.find(({ kind }) => kind === 'slot') ?? instances[0];
  const label = first?.pins.connector.labels[0];
  const like = `a contact is written like ${label === undefined ? 'CAGE.3.14' : `${first!.path}.${label}`}`;
  if (backplanes.length === 0) return like;
  const names = backplanes.map(({ name }) => name).join(', ');
  return `its ${backplanes.length === 1 ? 'backplane is' : 'backplanes are'} ${names}, and ${like}`;
}

export function netsCommand(path: string, options: NetsOptions): number {
  const files = new Files();
  const file = files.only(path);
  const machine = files.machine(file);
  const reports = netReports({ machine, nets: indexNets(machine) }, files.texts, nameOf, options.of);
  if (options.of !== undefined && reports.length === 0) {
    throw new Trouble(`${nameOf(file)}: has no contact or signal \`${options.of}\`; ${contactsOf(machine)}`);
  }
  const text =
    options.format === 'json'
      ? `${JSON.stringify({ nets: reports }, null, 2)}\n`
      : netsText(reports, options.of !== undefined);
  process.stdout.write(text);
  files.warn(machine, 'nets');
  return 0;
}
