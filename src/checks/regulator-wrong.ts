import { rangeAt } from '../analysis/drop.ts';
import { knownRegulator } from '../analysis/parts.ts';
import { powerOf } from '../analysis/power.ts';
import { chipCurrent, nodeOnBoard, nominalVolts, ROUNDING, ratingOf, sourcesAt } from '../analysis/rails.ts';
import type { Regulator } from '../knowledge/types.ts';
import type { Board, Card, Machine, Make } from '../machine/types.ts';
import { withEdits } from './edits.ts';
import { spokenAmount, stepAt, stepsBetween } from './explain.ts';
import { spokenList } from './lists.ts';
import { otherRegulator } from './regulator-edits.ts';
import type { Edit, Finding, Rule, Severity, View } from './types.ts';

/** A fixed regulator lifted by a diode or divider gives a little more than its number: common practice, no source. */
const LIFTED = 0.1;
/** V above output and drop-out within which a regulator works, but not as its data sheet promises (LM340-5: 7.5 V in). */
const MARGIN = 0.5;

interface Fault {
  readonly severity: Severity;
  readonly message: string;
  readonly fix: string;
  readonly edits?: readonly Edit[];
}

/** A regulator of a card in its place; without a board where the card is described and not there. */
interface Placed {
  readonly machine: Machine;
  readonly card: Card;
  readonly make: Make;
  readonly regulator: Regulator;
  readonly board?: Board;
}

/** Polarity, output, input and load of the regulators on the cards. One finding per regulator and fault. */
export const regulatorWrong: Rule = {
  id: 'regulator-wrong',
  severity: 'error',
  summary:
    'a regulator of the wrong polarity or output, with too little input, or with more load than its rating',
  *check(view) {
    const { machine } = view;
    const boards = new Map<Card, Board[]>();
    for (const board of machine.boards) {
      const alike = boards.get(board.card);
      if (alike) alike.push(board);
      else boards.set(board.card, [board]);
    }
    for (const card of machine.cards) {
      for (const make of card.makes) {
        const regulator = make.part === undefined ? undefined : knownRegulator(machine, make.part);
        if (regulator === undefined) continue;
        yield* ofMake(view, { machine, card, make, regulator }, boards.get(card) ?? []);
      }
    }
  },
};

function* ofMake(view: View, one: Placed, boards: readonly Board[]): Iterable<Finding> {
  const found = new Map<string, { fault: Fault; boards: Board[] }>();
  for (const board of boards.length > 0 ? boards : [undefined]) {
    for (const fault of faultsOf({ ...one, ...(board ? { board } : {}) })) {
      const alike = found.get(fault.message);
      if (alike) alike.boards.push(...(board ? [board] : []));
      else found.set(fault.message, { fault, boards: board ? [board] : [] });
    }
  }
  for (const { fault, boards: its } of found.values()) yield finding(view, one, fault, its);
}

function faultsOf(placed: Placed): Fault[] {
  const wrong = wrongKind(placed);
  if (wrong) return [wrong];
  return [tooLittle(placed), tooMuch(placed), overloaded(placed)].filter((fault) => fault !== undefined);
}

const ofSign = (sign: number): string => (sign < 0 ? 'negative' : 'positive');

const kindOf = ({ polarity }: Regulator): string => `a regulator for ${ofSign(polarity)} rails`;

/** What the input is: from the supplies that reach it, else as its bus says, else as its name says. */
function inputOf({ machine, board, card, make }: Placed): ReturnType<typeof rangeAt> {
  const node = board && nodeOnBoard(machine, board, make.from);
  const known = rangeAt(machine, board, make.from, node);
  if (known) return known;
  if (machine.railNames.rails.get(make.from)?.[0]?.ac) return undefined;
  const volts = nominalVolts(machine, make.from, card);
  return volts === undefined
    ? undefined
    : { sign: volts < 0 ? -1 : 1, least: Math.abs(volts), most: Math.abs(volts) };
}

const outputOf = ({ machine, make, card }: Placed): number | undefined =>
  make.volts ?? nominalVolts(machine, make.rail, card);

/** The wrong part for this rail: it makes another voltage, or is fed the wrong way round. */
function wrongKind(placed: Placed): Fault | undefined {
  const { make, regulator } = placed;
  const [volts, input] = [outputOf(placed), inputOf(placed)];
  const gives = regulator.output === undefined ? kindOf(regulator) : spokenAmount(regulator.output, 'V');
  const check =
    'read the number on the regulator and measure both its rails; its pins differ from those of the other polarity';
  if (input && input.sign !== regulator.polarity) {
    const says = `${regulator.name} is ${kindOf(regulator)}, and ${make.from} is ${ofSign(input.sign)}`;
    return { severity: 'error', message: `${says}: its input is reversed`, fix: check, ...rightPart(placed) };
  }
  if (volts === undefined) return undefined;
  const off =
    regulator.output === undefined ? volts * regulator.polarity < 0 : !fits(volts, regulator.output);
  if (!off) return undefined;
  const says = regulator.output === undefined ? `is ${gives}` : `gives ${gives}`;
  return {
    severity: 'error',
    message: `${regulator.name} ${says}, and ${make.rail} is ${spokenAmount(volts, 'V')}`,
    fix: check,
    ...rightPart(placed),
  };
}

function rightPart(placed: Placed): Pick<Fault, 'edits'> {
  const [volts, input] = [outputOf(placed), inputOf(placed)];
  if (volts === undefined || (input && input.sign !== Math.sign(volts))) return {};
  return { edits: otherRegulator(placed.make, placed.regulator, volts) };
}

function fits(volts: number, output: number): boolean {
  const [want, gives] = [Math.abs(volts), Math.abs(output)];
  const near = want >= gives * (1 - ROUNDING) && want <= gives * (1 + LIFTED);
  return volts * output > 0 && (near || Math.abs(want - gives) <= 0.02 * gives);
}

function tooLittle(placed: Placed): Fault | undefined {
  const { make, regulator } = placed;
  const input = inputOf(placed);
  const volts = regulator.output ?? outputOf(placed);
  if (input === undefined || volts === undefined) return undefined;
  const least = Math.abs(volts) + regulator.dropout;
  if (input.least >= least + MARGIN - ROUNDING) return undefined;
  const short = input.least < least - ROUNDING;
  const [has, wants] = [input.least, least].map((value) => spokenAmount(value * input.sign, 'V'));
  const sum = `${spokenAmount(volts, 'V')} out and ${spokenAmount(regulator.dropout, 'V')} across it`;
  const margin = spokenAmount((least + MARGIN) * input.sign, 'V');
  return {
    severity: short ? 'error' : 'note',
    message: short
      ? `${make.from} may be only ${has}, and ${regulator.name} wants ${wants}: ${sum}`
      : `${make.from} may be only ${has}: enough for ${regulator.name} (${sum}), but not the ${margin} that leave it a margin`,
    fix: short
      ? `feed ${make.rail} from a higher rail, or measure ${make.from} under load and say its range`
      : `measure ${make.from} under load, with all boards in`,
  };
}

/** Only what is beyond doubt: even the lowest input is above what it stands. */
function tooMuch(placed: Placed): Fault | undefined {
  const { make, regulator } = placed;
  const input = inputOf(placed);
  if (input === undefined || input.least <= regulator.maxInput + ROUNDING) return undefined;
  const [has, stands] = [input.least, regulator.maxInput].map((value) =>
    spokenAmount(value * input.sign, 'V'),
  );
  return {
    severity: 'error',
    message: `${make.from} is ${has} at least, and the input of ${regulator.name} stands ${stands}`,
    fix: `feed ${make.rail} from a lower rail`,
  };
}

/** What the chips and other boards draw from the rail, against all regulators of the board that make it. */
function overloaded(placed: Placed): Fault | undefined {
  const { machine, board, make, card } = placed;
  if (board === undefined) return undefined;
  const node = nodeOnBoard(machine, board, make.rail);
  // Where something else feeds the rail too, nobody can tell which of the two carries the load.
  if (sourcesAt(machine, node).some((source) => source.board !== board)) return undefined;
  const rating = ratingOfAll(
    machine,
    card.makes.filter(({ rail }) => rail === make.rail),
  );
  if (rating === undefined) return undefined;
  const given = (powerOf(machine).at(node)?.loads ?? []).filter((load) => load.board !== board);
  const chips = chipCurrent(machine, board, make.rail) ?? 0;
  const load = given.reduce((sum, { take }) => sum + (take.current ?? 0), chips);
  const others = given.length === 0 ? '' : `, ${spokenList(given.map((one) => one.board.name))} among it`;
  if (load > rating * (1 + ROUNDING)) {
    return {
      severity: 'error',
      message: `${make.rail} carries ${spokenAmount(load, 'A')}${others}, and ${regulatorsOf(make)} ${verb(make)} rated ${spokenAmount(rating, 'A')}`,
      fix: 'measure what the rail draws, and find the regulator that is not listed',
    };
  }
  return throughput(placed);
}

const regulatorsOf = ({ part, count }: Make): string => (count === 1 ? `${part}` : `${count} x ${part}`);
const verb = ({ count }: Make): string => (count === 1 ? 'is' : 'are');

/** A of all regulators together; undefined where one of them is not known. */
function ratingOfAll(machine: Machine, makes: readonly Make[]): number | undefined {
  let sum = 0;
  for (const make of makes) {
    const each = make.part === undefined ? undefined : knownRegulator(machine, make.part)?.current;
    const rating = ratingOf(make, each);
    if (rating === undefined) return undefined;
    sum += rating;
  }
  return sum;
}

/**
 * A raw rail of a range of volts is of use to regulators alone (common practice, no source), and a linear regulator
 * draws what it gives: what the board takes of it is their load.
 */
function throughput({ machine, board, make, card }: Placed): Fault | undefined {
  const raw = machine.railNames.rails.get(make.from)?.some(({ low, high, ac }) => low !== high && !ac);
  const direct = card.chips.some(({ needs }) => needs.some(({ rail }) => rail === make.from));
  const fed = card.makes.filter(({ from }) => from === make.from);
  const takes = card.takes.filter(({ rail }) => rail === make.from);
  const rating = ratingOfAll(machine, fed);
  if (!raw || direct || board === undefined || rating === undefined || fed[0] !== make) return undefined;
  const taken = takes.reduce((sum, { current }) => sum + (current ?? 0), 0);
  if (taken <= rating * (1 + ROUNDING)) return undefined;
  const all = fed.map(regulatorsOf);
  return {
    severity: 'warning',
    message: `the board takes ${spokenAmount(taken, 'A')} of ${make.from}, and ${spokenList(all)}, which ${all.length === 1 ? verb(make) : 'are'} all it feeds, may give ${spokenAmount(rating, 'A')}`,
    fix: 'measure what the board draws, and count its regulators',
  };
}

function finding(
  view: View,
  { card, make, machine }: Placed,
  fault: Fault,
  boards: readonly Board[],
): Finding {
  const [board, ...others] = boards;
  const name = board?.name ?? card.name;
  const likewise = others.length === 0 ? '' : `; likewise on ${spokenList(others.map((one) => one.name))}`;
  const node = board && nodeOnBoard(machine, board, make.from);
  const from = sourcesAt(machine, node)[0]?.node;
  const path =
    node === undefined
      ? []
      : from === undefined
        ? [stepAt(view, node, make.source)]
        : stepsBetween(view, from, node, make.source);
  return {
    rule: 'regulator-wrong',
    severity: fault.severity,
    message: `${make.rail} on ${name}: ${fault.message}${likewise}`,
    source: make.source,
    path,
    fix: fault.fix,
    ...withEdits(fault.edits ?? []),
    about: [make.rail, make.from, make.part ?? '', card.name, ...boards.map((one) => one.name)],
  };
}
