import { clashingNets, type Meeting, meetingsOf, type PowerAt, type SignalAt } from '../analysis/meetings.ts';
import { type Border, bordersBetween } from '../analysis/paths.ts';
import { type Harm, harmOf } from '../analysis/pins.ts';
import { takenRails } from '../analysis/rails.ts';
import type { Source, Use } from '../machine/types.ts';
import { withEdits } from './edits.ts';
import { placeOf, spokenAmount, spokenEvidence, stepsBetween } from './explain.ts';
import { Meetings, unjoining, untouching } from './meeting-edits.ts';
import { claimsAt, isAlongCable, joinedBy, keyOfCause, powerNodes, spokenPower, Told } from './power.ts';
import type { Edit, Finding, Rule, Severity, View } from './types.ts';

/** A rail or ground on a line of logic that does not stand it. One finding per place where the two meet. */
export const railMeetsSignal: Rule = {
  id: 'rail-meets-signal',
  severity: 'error',
  summary: 'a rail meets a pin that does not stand it, or an output that pulls against it',
  *check(view) {
    const told = new Told();
    const places = new Meetings(view);
    const rails = takenRails(view.machine);
    const clashing = clashingNets(view.machine, view.nets);
    for (const meeting of meetingsOf(view.machine, view.nets)) {
      if (meeting.signals.length === 0 && meeting.uses.length === 0) continue;
      // Where rails meet on a line that nothing is said to be on, that they meet is what matters.
      if (meeting.uses.length === 0 && clashing.has(meeting.net)) continue;
      const worst = worstByName(view, meeting);
      if (worst.size === 0) continue;
      const signals = signalNodes(view, meeting, rails);
      for (const encounter of encounters(view, meeting, signals)) {
        const { power, signal, border } = encounter;
        const harm = worst.get(signal.name) ?? (worst.get(ANY) as Worst);
        if (signal.claim && power.claim && isAlongCable(view, border)) continue;
        if (signal.declared && harm.severity !== 'error') continue;
        const cause = joinedBy(view, border);
        const source = cause?.source ?? statementOf(view, power, signal).source;
        const key = keyOfCause(cause, source, [power.source, signal.source]);
        places.add(key, power, signal);
        const edits = (): Edit[] =>
          cause
            ? unjoining(view, cause)
            : [power, signal].some(({ copper }) => copper === 'unsaid')
              ? untouching(view, [power, signal])
              : places.edits(key, [power.name, signal.name], source);
        told.add(key, meeting.net, cause?.cable ? 'line' : 'net', () => ({
          ...meets(view, encounter, harm, source),
          ...withEdits(edits()),
        }));
      }
    }
    yield* told.all();
  },
};

function meets(view: View, { power, signal }: Encounter, worst: Worst, source: Source): Finding {
  const { use } = worst;
  const unsaid = power.copper === 'unsaid' || signal.copper === 'unsaid';
  const who = use && `${use.card.name === signal.name ? '' : `, and with it ${use.card.name}`}`;
  return {
    rule: 'rail-meets-signal',
    severity: unsaid ? 'question' : worst.severity,
    message: `${spokenPower(view, power)} meets ${signal.spoken}${who ?? ''}${worst.message}${doubt(view, power, signal)}`,
    source,
    path: stepsBetween(view, power.node, signal.node, source),
    fix: worst.fix,
    about: aboutOf(view, power, signal, use),
  };
}

/** A signal where it is: a contact that is said to be it, or a chip inside a board. */
interface Signal extends Pick<SignalAt, 'node' | 'copper'> {
  readonly name: string;
  readonly spoken: string;
  readonly claim?: SignalAt['claim'];
  readonly source: Source;
  /** Whether a strap, an alias or a sense wire says that it is the rail. */
  readonly declared: boolean;
}

/** The signals of a net by node. */
function signalNodes(
  view: View,
  { net, power, signals, uses }: Meeting,
  rails: ReadonlySet<string>,
): Map<number, Signal> {
  const { machine } = view;
  const here = new Set(power.map(({ name }) => name));
  const isRail = (name: string): boolean =>
    rails.has(name) || here.has(name) || [...here].some((one) => machine.aliases.has(`${one}\n${name}`));
  const logic = new Set(signals.map(({ claim }) => claim));
  const nodes = new Map<number, Signal>();
  for (const { claim, node, copper } of claimsAt(view, net)) {
    if (!logic.has(claim)) continue;
    const declared = isRail(claim.name) || claim.aliases.some(isRail);
    const spoken = `${claim.name} at ${placeOf(view, node)} (${spokenEvidence(claim.evidence)})`;
    nodes.set(node, { name: claim.name, node, copper, spoken, claim, declared, source: claim.source });
  }
  for (const { node, card, board } of uses) {
    if (nodes.has(node) || card.kind === 'untouched') continue;
    const { name, source } = card;
    nodes.set(node, {
      name,
      node,
      copper: 'yes',
      spoken: `${name} on ${board.name}`,
      declared: isRail(name),
      source,
    });
  }
  return nodes;
}

interface Encounter {
  readonly power: PowerAt;
  readonly signal: Signal;
  readonly border: Border;
}

/** The places where a power ends and a signal begins: each is a cause of its own. */
function encounters(view: View, meeting: Meeting, signals: ReadonlyMap<number, Signal>): Encounter[] {
  const power = powerNodes(view, meeting);
  for (const node of signals.keys()) power.delete(node);
  const borders = bordersBetween(
    view.machine,
    [...power.keys(), ...signals.keys()],
    (a, b) => power.has(a) !== power.has(b),
  );
  return borders.map((border) => {
    const [a, b] = power.has(border.a) ? [border.a, border.b] : [border.b, border.a];
    return { power: power.get(a)!, signal: signals.get(b)!, border };
  });
}

interface Worst {
  readonly severity: Severity;
  readonly message: string;
  readonly fix: string;
  readonly use?: Use;
}

const RANK: Readonly<Record<Severity, number>> = { error: 3, warning: 2, question: 1, note: 0 };

/** Under no name of the trade: the worst of all lines of a net. */
const ANY = '';

/** The worst that a rail of the net does to the pins of each line on it; empty where every pin stands it. */
function worstByName(view: View, meeting: Meeting): Map<string, Worst> {
  const rails = meeting.power.filter(({ kind, volts }) => kind === 'rail' && volts !== undefined);
  // What gives the rail there tells its voltage best; ground counts where there is no rail.
  const given = rails.filter(({ from }) => from !== undefined);
  const power = given.length > 0 ? given : rails.length > 0 ? rails : meeting.power.slice(0, 1);
  const worst = new Map<string, Worst>();
  const uses = meeting.uses.filter(({ card }) => card.kind !== 'untouched');
  if (uses.length === 0) return new Map([[ANY, unheard(power[0]!)]]);
  for (const use of uses) {
    if (worst.get(use.card.name)?.severity === 'error') continue;
    for (const one of power) {
      const harm = one.volts && harmOf(view.machine, use.card, one.volts);
      if (!harm) continue;
      const told = tellHarm(use, one, harm);
      for (const name of [use.card.name, ANY]) {
        const before = worst.get(name);
        if (before === undefined || RANK[told.severity] > RANK[before.severity]) worst.set(name, told);
      }
    }
  }
  return worst;
}

function unheard({ kind }: PowerAt): Worst {
  return {
    severity: kind === 'rail' ? 'warning' : 'question',
    message: ', and nobody says what is on that line',
    fix: 'check both contacts with the meter, and say what drives and receives the line, or that it is the rail',
  };
}

const DOES: Readonly<Record<string, string>> = {
  drives: 'drives',
  transceives: 'drives and hears',
  receives: 'hears',
  pulls: 'pulls',
  starts: 'starts',
  passes: 'passes on',
};

function tellHarm(use: Use, power: PowerAt, harm: Harm): Worst {
  const { card, board } = use;
  const part = card.part ?? 'a part nobody names';
  const who = `, which ${part} on ${board.name} ${DOES[card.kind]}`;
  const fix = `take ${power.name} off that line before power is applied, or correct the table that is wrong`;
  if (harm.kind === 'limit') {
    const side = harm.volts > harm.limit ? 'above' : 'below';
    const volts = `${spokenAmount(harm.volts, 'V')} is ${side} the ${spokenAmount(harm.limit, 'V')} that its pin stands`;
    return { severity: 'error', message: `${who}: ${volts}`, fix, use };
  }
  if (harm.kind === 'fights') {
    return { severity: 'error', message: `${who}: its ${harm.output} output pulls against it`, fix, use };
  }
  const what =
    card.part === undefined ? "the pin's part is not said" : `the limits of ${part} are not known here`;
  return {
    severity: power.kind === 'rail' ? 'warning' : 'question',
    message: `${who}: ${what}`,
    fix:
      card.part === undefined
        ? `say the part with \`with\`, and check with the meter whether ${power.name} is there`
        : `describe the part in a \`part\` block, and check with the meter whether ${power.name} is there`,
    use,
  };
}

function doubt(view: View, power: PowerAt, { copper, node }: Signal): string {
  const unsaid = power.copper === 'unsaid' ? power.node : copper === 'unsaid' ? node : undefined;
  const board = unsaid === undefined ? undefined : view.nets.instanceOf(unsaid).board;
  return board ? `, if ${board.name} has copper there, which nobody says` : '';
}

/** The statement of a card goes before that of a bus: it is where the text was probably written wrongly. */
function statementOf(view: View, power: PowerAt, signal: Signal): PowerAt | Signal {
  const onBoard = power.claim !== undefined && view.nets.instanceOf(power.node).board !== undefined;
  return onBoard || (power.from !== undefined && 'board' in power.from) ? power : signal;
}

function aboutOf(view: View, { name, claim }: PowerAt, signal: Signal, use: Use | undefined): string[] {
  const owners = [claim?.owner, signal.claim?.owner, use?.board.name, use?.card.name];
  const boards = signal.claim ? [view.nets.instanceOf(signal.node).board?.name] : [];
  return [...new Set([name, signal.name, ...owners, ...boards])].filter((one) => one !== undefined);
}
