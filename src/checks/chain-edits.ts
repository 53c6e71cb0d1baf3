import { type ChainRun, type ChainStop, handsOn } from '../analysis/chains.ts';
import type { Slot } from '../machine/types.ts';
import { edit, writtenNames } from './edits.ts';
import type { Change, Edit, View } from './types.ts';

/** The bridge of chains said to be fitted at each of the slots. */
export function bridging(slots: readonly Slot[], names: readonly string[]): Edit[] {
  const changes = slots.map((slot) => bridged(slot, names));
  const list = writtenNames(names);
  const where = slots.map(({ label }) => label).join(', ');
  if (changes.some((change) => change === undefined)) return [];
  const many = slots.length > 1 ? 'slots' : 'slot';
  return [
    edit(
      `say that the bridge is fitted at ${many} ${where}: \`bridge ${list}\``,
      ...changes.filter((one) => one !== undefined),
    ),
  ];
}

function bridged(
  { label, state, source, backplane, bridges }: Slot,
  names: readonly string[],
): Change | undefined {
  const list = `bridge ${writtenNames([...bridges.map(({ name }) => name), ...names])}`;
  const labels = backplane.slots.map((one) => one.label);
  if (state !== 'unsaid')
    return { kind: 'say', source, say: { bridge: list }, at: { labels, places: [labels.indexOf(label)] } };
  const line = `${label} = empty ${list}`;
  const sibling = backplane.slots.find((one) => one.state !== 'unsaid');
  return sibling && { kind: 'add', line, beside: sibling.source };
}

/** The board of a slot said to pass chains on, where its card says nothing that speaks against it. */
export function handingOn(
  { machine }: View,
  { slot, doing, use }: ChainStop,
  names: readonly string[],
): Edit[] {
  const card = slot.board?.card;
  if (card === undefined || use?.kind === 'passes' || use?.kind === 'starts') return [];
  const list = writtenNames(names);
  const line = `passes ${list}`;
  const boards = machine.boards.filter((board) => board.card === card).length;
  const whom = boards > 1 ? `all ${boards} boards of ${card.name} pass` : `${card.name} passes`;
  const title = doing === 'ends' ? `say that ${whom} it on: \`${line}\`` : `say that ${whom} it: \`${line}\``;
  return [edit(title, { kind: 'add', line, into: card.source })];
}

/** A board before the first that needs chains said to start them; the one in the first slot first. */
export function starting({ machine }: View, runs: readonly ChainRun[], first: ChainStop): Edit[] {
  const [{ stops }] = runs as [ChainRun, ...ChainRun[]];
  const end = stops.findIndex(({ slot }) => slot === first.slot);
  const list = writtenNames(runs.map(({ chain }) => chain.name));
  const line = `starts ${list}`;
  return stops.slice(0, end).flatMap(({ slot, use, doing }, i) => {
    const card = slot.board?.card;
    if (card === undefined || (doing !== 'stops' && doing !== 'unsaid')) return [];
    if (use !== undefined || stops.slice(i + 1, end).some((one) => !handsOn(one))) return [];
    if (machine.boards.filter((board) => board.card === card).length > 1) return [];
    return [
      edit(`say that ${card.name} starts ${list}: \`${line}\``, { kind: 'add', line, into: card.source }),
    ];
  });
}

/** One of two boards that start chains said to pass them on. */
export function passingInstead(
  { machine }: View,
  names: readonly string[],
  { slot, use }: ChainStop,
): Edit[] {
  const card = slot.board?.card;
  if (card === undefined || use?.kind !== 'starts') return [];
  if (machine.boards.filter((board) => board.card === card).length > 1) return [];
  const own = names.filter((name) => card.uses.some((one) => one.kind === 'starts' && one.name === name));
  if (own.length < names.length) return [];
  const list = writtenNames(names);
  return [
    edit(
      `let ${card.name} pass ${list} on`,
      { kind: 'list', source: use.source, from: names, to: [] },
      { kind: 'add', line: `passes ${list}`, into: card.source },
    ),
  ];
}
