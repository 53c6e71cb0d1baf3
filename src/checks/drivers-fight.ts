import { type ChainRun, type ChainStop, chainRunsOf } from '../analysis/chains.ts';
import { type Driver, type Line, linesOf } from '../analysis/line.ts';
import { outputKind } from '../analysis/parts.ts';
import type { CardUse, Chain, Machine } from '../machine/types.ts';
import { edit, preferred, saying, withEdits } from './edits.ts';
import { stepsBetween } from './explain.ts';
import { spokenNames } from './lists.ts';
import { contactOfUse, grouped, spokenSome } from './sisters.ts';
import type { Edit, Finding, Rule, View } from './types.ts';

/** Two boards drive one line and one of them never lets go. One finding for each pair of statements. */
export const driversFight: Rule = {
  id: 'drivers-fight',
  severity: 'error',
  summary: 'a totem-pole output and another board’s output drive one line',
  *check(view) {
    const fights: Fight[] = [];
    for (const line of linesOf(view.machine, view.nets)) fights.push(...fightsOn(line));
    const key = ({ one, other }: Fight): string => [statementKey(one), statementKey(other)].join('\n\n');
    for (const sisters of grouped(fights, key)) yield finding(view, sisters);
    const shorts = chainRunsOf(view.machine, view.nets).flatMap((run) => shortsIn(view.machine, run));
    for (const one of grouped(shorts, ({ stop }) => stop.instance.path)) yield shorted(view, one);
  },
};

interface Fight {
  readonly line: Line;
  /** Who never lets go, or whose kind of output nobody has said. */
  readonly one: Driver;
  readonly other: Driver;
}

/** Drivers said alike on one card are one statement, whichever line and board. */
const statementKey = ({ use, kind }: Driver): string =>
  [use.board.card.name, use.card.kind, use.card.part, kind, use.card.at].join('\t');

/** A board that hands a chain on by a chip, in a slot whose bridge joins the chip's output to its input. */
interface Short {
  readonly chain: Chain;
  readonly stop: ChainStop;
  readonly use: CardUse;
}

function shortsIn(machine: Machine, { chain, stops }: ChainRun): Short[] {
  return stops.flatMap((stop) => {
    const { use, doing, bridged } = stop;
    if (doing !== 'passes' || !bridged || use?.kind !== 'passes') return [];
    return outputKind(machine, use) === undefined ? [] : [{ chain, stop, use }];
  });
}

function shorted(view: View, shorts: readonly Short[]): Finding {
  const [{ chain, stop, use }] = shorts as [Short, ...Short[]];
  const { slot, instance } = stop;
  const names = spokenNames(shorts.map((one) => one.chain.name));
  const board = slot.board?.name ?? '';
  return {
    rule: 'drivers-fight',
    severity: 'error',
    message: `${names}: ${board} (${use.part}) passes on by a chip, and a bridge at ${instance.path} joins the chip’s output to its input, which the board before drives`,
    source: slot.source,
    path: stepsBetween(view, instance.base + chain.input, instance.base + chain.output, use.source),
    fix: `take the bridge of slot ${slot.label} out while ${board} sits there`,
    ...withEdits([preferred(unbridged(shorts))]),
    about: [...shorts.flatMap((one) => [one.chain.name, one.chain.outName]), board, instance.path],
  };
}

/** Linear in the drivers: everybody is held against the first who never lets go. */
function fightsOn(line: Line): Fight[] {
  const { drivers } = line;
  const one = drivers.find(({ kind }) => kind === 'totem-pole');
  if (one) return others(drivers, one).map((other) => ({ line, one, other }));
  const asked = new Map<string, Fight>();
  for (const unsaid of drivers) {
    if (unsaid.kind !== undefined || asked.has(statementKey(unsaid))) continue;
    const other = drivers.find(({ use }) => use.board !== unsaid.use.board);
    if (other === undefined) continue;
    // Two that are unsaid are one question, asked once.
    const before = other.kind === undefined ? asked.get(statementKey(other)) : undefined;
    asked.set(statementKey(unsaid), before ?? { line, one: unsaid, other });
  }
  return [...new Set(asked.values())];
}

/** One driver of each statement on other boards. */
function others(drivers: readonly Driver[], one: Driver): Driver[] {
  const found = new Map<string, Driver>();
  for (const driver of drivers) {
    const key = statementKey(driver);
    if (driver.use.board !== one.use.board && !found.has(key)) found.set(key, driver);
  }
  return [...found.values()];
}

function spokenDriver({ use, kind }: Driver, board = use.board.name): string {
  const details = [use.card.part, kind].filter((text) => text !== undefined);
  return details.length > 0 ? `${board} (${details.join(', ')})` : board;
}

function finding(view: View, sisters: readonly Fight[]): Finding {
  const { one, other } = sisters[0]!;
  const names = sisters.map(({ line }) => line.name);
  const certain = one.kind === 'totem-pole';
  const boards = spokenSome(sisters.map((fight) => fight.other.use.board.name));
  const both = `${spokenDriver(one)} and ${spokenDriver(other, boards)} both drive`;
  const why = certain
    ? 'a totem-pole output never lets go of the line, so each burns against the other'
    : `it is not said what kind of output ${one.use.board.name} has, and they fight unless it lets go`;
  // Of two who never let go the later in the text was probably written wrongly.
  const { source } = certain && other.kind === 'totem-pole' ? other.use.card : one.use.card;
  return {
    rule: 'drivers-fight',
    severity: certain ? 'error' : 'question',
    message: `${spokenNames(names)}: ${both}; ${why}`,
    source,
    path: stepsBetween(view, contactOfUse(view, one.use), contactOfUse(view, other.use), source),
    fix: certain
      ? fixOf(sisters[0]!)
      : 'read the chip’s number on the board and write it behind `with`, or say `three-state`, `totem-pole` or `open-collector`',
    ...withEdits(certain ? open(sisters[0]!) : said(sisters[0]!)),
    about: [...names, one.use.board.name, ...sisters.map((fight) => fight.other.use.board.name)],
  };
}

/** What pulls is meant to let go: a totem-pole there is the wrong chip, or the wrong number. */
function fixOf({ one, other }: Fight): string {
  const pulling = [one, other].find(
    (driver) => driver.kind === 'totem-pole' && driver.use.card.kind === 'pulls',
  );
  if (pulling === undefined)
    return 'take one of the two off the line, or correct its output to `three-state` or `open-collector` if it is one';
  const { part } = pulling.use.card;
  const gate = openGateOf(part);
  const instead = gate === undefined ? 'an open-collector part' : `a ${gate}, which has the same pins,`;
  return `read the chip on ${pulling.use.board.name} before power is applied: ${part} cannot pull a shared line; put ${instead} in its place, or correct the number behind \`with\``;
}

/** The slot without the bridge of these chains. */
function unbridged(shorts: readonly Short[]): Edit {
  const { slot } = shorts[0]!.stop;
  const gone = new Set(shorts.flatMap(({ chain }) => [chain.name, chain.outName, ...chain.claim.aliases]));
  const left = slot.bridges.map(({ name }) => name).filter((name) => !gone.has(name));
  const bridge = left.length === 0 ? '' : `bridge ${left.join(', ')}`;
  return edit(`take the bridge of slot ${slot.label} out`, saying(slot.source, { bridge }));
}

/** The kinds of output that let go, where nobody has said which one it is. */
function said({ one, other }: Fight): Edit[] {
  const unsaid = [one, other].filter(({ kind }) => kind === undefined).map(({ use }) => use.card.source);
  return (['three-state', 'open-collector'] as const).map((kind) =>
    edit(`write \`${kind}\``, ...unsaid.map((source) => saying(source, { [kind]: kind }))),
  );
}

/** Gates with open collectors and the pins of the ordinary gate (from memory of the 7400 series). */
const OPEN: Readonly<Record<string, string>> = { '00': '7403', '02': '7433', '04': '7406', '08': '7409' };

const openGateOf = (part: string | undefined): string | undefined =>
  OPEN[/^74[A-Z]*(\d\d)$/.exec(part ?? '')?.[1] ?? ''];

/** Of a wired line the gate with the same pins and open collectors; a kind said of an unnamed part is said otherwise. */
function open({ line, one, other }: Fight): Edit[] {
  const { output, part, partSource, source } = one.use.card;
  const wired = line.wired || other.kind === 'open-collector';
  const gate = openGateOf(part);
  if (gate !== undefined && partSource !== undefined && other.kind === 'open-collector') {
    const title = `write \`${gate}\`, which has the same pins and open collectors`;
    const unsaid = output === undefined ? [] : [saying(source, { [output]: '' })];
    return [edit(title, { kind: 'replace', source: partSource, text: gate }, ...unsaid)];
  }
  if (output === undefined || part !== undefined || other.kind === 'totem-pole') return [];
  const kind = wired ? 'open-collector' : 'three-state';
  return [edit(`write \`${kind}\``, saying(source, { [output]: kind }))];
}
