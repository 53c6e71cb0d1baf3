import { indexNets } from '../analysis/nets.ts';
import { netReports, netsText } from '../reports/nets.ts';
import { Files, nameOf, Trouble } from './files.ts';

export interface NetsOptions {
  readonly format: 'text' | 'json';
  readonly of?: string;
}

export function netsCommand(path: string, options: NetsOptions): number {
  const files = new Files();
  const file = files.only(path);
  const machine = files.machine(file);
  const reports = netReports({ machine, nets: indexNets(machine) }, files.texts, nameOf, options.of);
  if (options.of !== undefined && reports.length === 0) {
    throw new Trouble(
      `${nameOf(file)}: has no contact or signal \`${options.of}\`; a contact is written like CAGE.3.14`,
    );
  }
  const text =
    options.format === 'json'
      ? `${JSON.stringify({ nets: reports }, null, 2)}\n`
      : netsText(reports, options.of !== undefined);
  process.stdout.write(text);
  const wrong = [...files.documents.values()].reduce(
    (sum, { problems }) => sum + problems.length,
    machine.problems.length,
  );
  if (wrong > 0)
    process.stderr.write(
      `cardcage: the text has ${wrong} error${wrong === 1 ? '' : 's'}, so nets may be missing; \`cardcage check\` names them\n`,
    );
  return 0;
}
