import { type Biased, biasedChips, type ChipRail, type Single, singlesOf } from '../analysis/bias-rails.ts';
import { spokenVoltage } from './currents.ts';
import { placeOf, stepAt } from './explain.ts';
import { agree, spokenList, spokenNames } from './lists.ts';
import type { Finding, Rule, Severity, Step, View } from './types.ts';

/** What is wrong, or could go wrong, with the bias of some chips; alike on boards of one card. */
interface Loss {
  readonly severity: Severity;
  readonly chips: Biased;
  readonly live: readonly ChipRail[];
  readonly singles: readonly Single[];
}

/** Chips that die when their bias alone is absent: it is so, or hangs on one thing only. One finding per chip line. */
export const biasLost: Rule = {
  id: 'bias-lost',
  severity: 'error',
  summary:
    'the bias of chips that die without it is absent while another rail is on, or hangs on a single thing',
  *check(view) {
    const found = new Map<string, Loss[]>();
    for (const chips of biasedChips(view.machine)) {
      const loss = lossOf(view, chips);
      if (loss === undefined) continue;
      const { file, from } = chips.fitted.chip.source;
      const key = `${file}\n${from}\n${loss.severity}`;
      const alike = found.get(key);
      if (alike) alike.push(loss);
      else found.set(key, [loss]);
    }
    for (const alike of found.values()) yield finding(view, alike);
  },
};

function lossOf({ machine }: View, chips: Biased): Loss | undefined {
  const { bias, board, others } = chips;
  const live = others.filter(({ origins }) => origins.length > 0);
  if (live.length === 0) return undefined;
  if (bias.origins.length > 0) {
    const singles = singlesOf(machine, board, bias.node);
    return singles.length === 0 ? undefined : { severity: 'note', chips, live, singles };
  }
  return { severity: bias.name === undefined ? 'question' : 'error', chips, live, singles: [] };
}

const railName = ({ name, volts }: ChipRail): string => name ?? spokenVoltage(volts);

function finding(view: View, alike: readonly Loss[]): Finding {
  const { severity, chips, live, singles } = alike[0]!;
  const { fitted, board, bias } = chips;
  const boards = [...new Set(alike.map((one) => one.chips.board.name))];
  const what = `${fitted.chip.part} (${spokenNames(fitted.names)}) on ${spokenList(boards)}`;
  const rail = railName(bias);
  const others = {
    are: `${spokenList(live.map(railName))} ${agree(live.length, 'is', 'are')}`,
    stay: `${spokenList(live.map(railName))} ${agree(live.length, 'stays', 'stay')}`,
  };
  const { message, fix } = spoken(
    severity,
    what,
    rail,
    others,
    singles.map((one) => spokenSingle(view, one)),
  );
  const { source } = fitted.chip;
  return {
    rule: 'bias-lost',
    severity,
    message,
    source,
    path: pathOf(view, chips, singles),
    fix,
    about: [rail, fitted.chip.part, board.card.name, ...boards],
  };
}

function spoken(
  severity: Severity,
  what: string,
  rail: string,
  others: { readonly are: string; readonly stay: string },
  singles: readonly string[],
): { message: string; fix: string } {
  if (severity === 'error') {
    const message = `no source reaches ${rail}, and ${others.are} on: ${what} die without their bias`;
    return { message, fix: `leave the chips or the board out until ${rail} is there and measured` };
  }
  if (severity === 'question') {
    const message = `${what} die where ${others.are} on without ${rail}, and nothing says where they get it`;
    return {
      message,
      fix: `find what brings or makes ${rail} on the board, and say it with \`takes\` or \`makes\``,
    };
  }
  const message = `${what} die if ${rail} alone is lost while ${others.stay}, and it hangs on ${spokenList(singles, 6)}`;
  return { message, fix: `measure ${rail} at the chips before the other rails are on, with the chips out` };
}

function spokenSingle(view: View, single: Single): string {
  return single.kind === 'regulator'
    ? `one ${single.make.part ?? `regulator for ${single.make.rail}`}`
    : `the one contact ${placeOf(view, single.contact)} for ${single.rail}`;
}

function pathOf(view: View, { bias, fitted }: Biased, singles: readonly Single[]): Step[] {
  const nodes = singles.flatMap((one) => (one.kind === 'contact' ? [one.contact] : []));
  const all = bias.node === undefined ? nodes : [bias.node, ...nodes];
  return all.map((node) => stepAt(view, node, fitted.chip.source));
}
