import type { Instance, Port } from '../machine/types.ts';
import { edit, withEdits } from './edits.ts';
import { stepAt } from './explain.ts';
import type { Edit, Finding, Rule, View } from './types.ts';

/** A header with contacts nobody can explain and no cable to follow. One finding per port of a card or backplane. */
export const portUnexplained: Rule = {
  id: 'port-unexplained',
  severity: 'question',
  summary: 'a port has unknown contacts, and no cable is plugged in',
  *check(view) {
    const ports = new Map<Port, Instance[]>();
    for (const instance of view.machine.instances) {
      if (instance.kind !== 'port' && instance.kind !== 'backplane port') continue;
      if (instance.plugs.some(({ unplugged }) => !unplugged) || unknownOf(instance).length === 0) continue;
      const list = ports.get(instance.port);
      if (list) list.push(instance);
      else ports.set(instance.port, [instance]);
    }
    for (const [port, instances] of ports) yield finding(view, port, instances);
  },
};

/** Contacts, by index, that are there and of which nothing is known. */
function unknownOf({ pins }: Instance): number[] {
  const unknown: number[] = [];
  pins.claims.forEach((claim, contact) => {
    if (pins.pulled.has(contact) || pins.plugged.has(contact)) return;
    if (claim === undefined || claim.kind === 'unknown') unknown.push(contact);
  });
  return unknown;
}

/** Boards of one card that are named; the others are counted. */
const NAMED = 3;

function finding(view: View, { source }: Port, instances: readonly Instance[]): Finding {
  const [first] = instances as readonly [Instance, ...Instance[]];
  const unknown = unknownOf(first);
  const more = instances.length > NAMED ? ` and ${instances.length - NAMED} more` : '';
  const shown = instances.slice(0, NAMED);
  const where = shown.map(({ path }) => path).join(more === '' ? ' and ' : ', ') + more;
  const cables = [...new Set(instances.flatMap(({ plugs }) => plugs.map(({ name }) => name)))];
  const plugged =
    cables.length === 0 ? 'no cable is plugged in' : `${cables.join(' and ')} was found unplugged`;
  const present = first.pins.connector.labels.length - first.pins.pulled.size;
  return {
    rule: 'port-unexplained',
    severity: 'question',
    message: `${unknown.length} of ${present} contacts of ${where} are unknown, and ${plugged}`,
    source,
    path: shown.map((one) => stepAt(view, one.base + unknownOf(one)[0]!, source)),
    fix: 'find its rails and grounds with the meter, power off, then follow the traces; plug nothing in before',
    ...withEdits(plugging(view, instances)),
    about: [...instances.map(({ path }) => path), ...cables],
  };
}

/** A ribbon that was overlooked: its near end, and a far end that nobody knows yet. */
function plugging({ machine }: View, [instance, other]: readonly Instance[]): Edit[] {
  if (instance === undefined || other !== undefined || instance.plugs.length > 0) return [];
  const { pins, path, board, backplane } = instance;
  const after = board?.source ?? backplane?.source;
  const names = new Set(machine.ribbons.map(({ name }) => name));
  let number = 1;
  while (names.has(`W${number}`)) number++;
  const ways = pins.connector.conductors?.length;
  if (after === undefined || ways === undefined) return [];
  const lines = [`ribbon W${number} ${ways} way {`, `end ${path}`, 'end unknown', '}'];
  return [edit(`describe the ribbon that is plugged in: \`W${number}\``, { kind: 'block', lines, after })];
}
