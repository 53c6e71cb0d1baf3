import { indexNets } from '../analysis/nets.ts';
import { keyPlansOf } from '../analysis/wrong-mating/plans.ts';
import type { Plug } from '../analysis/wrong-mating/plugs.ts';
import { wrongMatingOf } from '../analysis/wrong-mating/wrong-mating.ts';
import { spokenList } from '../checks/lists.ts';
import { spokenPlug } from '../checks/spoken-mating.ts';
import { nearest } from '../language/problems.ts';
import type { Document } from '../language/tree.ts';
import type { Machine } from '../machine/types.ts';
import { mismateText } from '../reports/mismate.ts';
import { judgedCases } from '../reports/mismate-entries.ts';
import { mismateJson } from '../reports/mismate-json.ts';
import { Files, nameOf, Trouble } from './files.ts';
import { painter } from './painter.ts';

export interface MismateOptions {
  readonly format: 'text' | 'json';
  readonly of?: string;
}

export function mismateCommand(path: string, { format, of }: MismateOptions): number {
  const files = new Files();
  const file = files.only(path);
  const machine = files.machine(file);
  if (isBlank(files.read(file)))
    throw new Trouble(
      `${nameOf(file)}: holds no statement that says anything of a machine; name another file, or see what \`cardcage check\` says of it`,
    );
  if (of !== undefined) refuseOther(machine, of, nameOf(file));
  const view = { machine, nets: indexNets(machine) };
  const wrongMating = wrongMatingOf(machine);
  const isMeant = (plug: Plug): boolean =>
    of === undefined || [plug.name, plug.board?.card.name, spokenPlug({ plug })].includes(of);
  const judged = judgedCases(
    wrongMating,
    wrongMating.cases().filter(({ plug }) => isMeant(plug)),
  );
  const plans = keyPlansOf(machine, wrongMating).filter(({ cases }) =>
    cases.some(({ plug }) => isMeant(plug)),
  );
  process.stdout.write(
    format === 'json'
      ? mismateJson(view, wrongMating, judged, plans)
      : mismateText({
          view,
          wrongMating,
          judged,
          plans,
          title: nameOf(file),
          ...(of === undefined ? {} : { of }),
          paint: painter(),
          columns: process.stdout.columns ?? 110,
        }),
  );
  files.warn(machine, 'ways');
  return 0;
}

/** Whether nothing was understood but, at most, the line that names the language. */
const isBlank = ({ root }: Document): boolean =>
  root.entries.every(({ statement }) => statement.form === 'pinout');

/** Names that a machine is asked about in vain are told with those that it has. */
function refuseOther({ boards, ribbons }: Machine, of: string, file: string): void {
  const ends = ribbons.flatMap(({ name, ends }) => ends.map(({ place }) => `${name} at ${place}`));
  const names = [
    ...new Set([
      ...boards.flatMap(({ name, card }) => [name, card.name]),
      ...ribbons.map(({ name }) => name),
    ]),
  ];
  if (names.includes(of) || ends.includes(of)) return;
  const candidates = [...names, ...ends];
  const near = candidates.find((one) => one.toLowerCase() === of.toLowerCase()) ?? nearest(of, candidates);
  const has = names.length === 0 ? 'nothing that is plugged in' : spokenList(names, MOST);
  const instead = near === undefined ? `it has ${has}` : `did you mean \`${near}\`? It has ${has}`;
  throw new Trouble(`${file}: has no board, card, ribbon or cable \`${of}\`; ${instead}`);
}

const MOST = 24;
