import { indexNets } from '../analysis/nets.ts';
import { wrongMatingOf } from '../analysis/wrong-mating/cases.ts';
import { keyPlansOf } from '../analysis/wrong-mating/plans.ts';
import type { Plug } from '../analysis/wrong-mating/plugs.ts';
import { spokenList } from '../checks/lists.ts';
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
  if (of !== undefined) refuseOther(machine, of, nameOf(file));
  const view = { machine, nets: indexNets(machine) };
  const wrongMating = wrongMatingOf(machine);
  const isMeant = ({ name, board }: Plug): boolean =>
    of === undefined || name === of || board?.card.name === of;
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

/** Names that a machine is asked about in vain are told with those that it has. */
function refuseOther({ boards, ribbons }: Machine, of: string, file: string): void {
  const names = [
    ...new Set([
      ...boards.flatMap(({ name, card }) => [name, card.name]),
      ...ribbons.map(({ name }) => name),
    ]),
  ];
  if (names.includes(of)) return;
  const has = names.length === 0 ? 'nothing that is plugged in' : spokenList(names, MOST);
  throw new Trouble(`${file}: has no board, card, ribbon or cable \`${of}\`; it has ${has}`);
}

const MOST = 24;
