import type { Side } from '../analysis/links.ts';
import { waysOf } from '../analysis/links.ts';
import { boardsBeyond, currentOf, type Hub, type Network, powerOf, waysTo } from '../analysis/power.ts';
import { ROUNDING } from '../analysis/rails.ts';
import type { Source } from '../machine/types.ts';
import { drawerOf, spokenBeyond } from './currents.ts';
import { edit, saying, withEdits } from './edits.ts';
import { placeOf, spokenAmount, stepAt, stepsBetween } from './explain.ts';
import { spokenList } from './lists.ts';
import type { Finding, Rule, Step, View } from './types.ts';

/** A row of contacts that carries more than it is rated for. */
interface Overload {
  readonly network: Network;
  readonly hub: Hub;
  /** The board, or else the backplane or ribbon, whose current it is. */
  readonly drawer: Hub;
  readonly side: Side;
  readonly ways: number;
  readonly each: number;
  readonly rating: number;
}

/**
 * Current of a rail, or of the ground return, over the contacts that share it. One finding per card and rail: boards of
 * one card in equal slots have one cause.
 */
export const contactOverload: Rule = {
  id: 'contact-overload',
  severity: 'error',
  summary: 'rail or ground current exceeds what the contacts that carry it are rated for',
  *check(view) {
    const power = powerOf(view.machine);
    const found = new Map<string, Overload[]>();
    for (const network of [...power.rails, ...power.grounds]) {
      for (const one of overloads(network)) {
        const key = causeOf(one);
        const alike = found.get(key);
        if (alike) alike.push(one);
        else found.set(key, [one]);
      }
      for (const hub of network.hubs) {
        const note = feedNote(view, network, hub);
        if (note) yield note;
      }
    }
    for (const alike of found.values()) yield finding(view, alike);
  },
};

/** The worst overloaded row on the way to each board or other drawer. */
function overloads(network: Network): Iterable<Overload> {
  const worst = new Map<Hub, Overload>();
  for (const hub of network.hubs) {
    for (const side of hub.by?.sides ?? []) {
      const { rating } = side.instance.pins.connector;
      const ways = side.contacts.length + hub.beside;
      const each = currentOf(hub) / ways;
      if (rating === undefined || each <= rating * (1 + ROUNDING)) continue;
      const drawer = drawerOf(hub);
      const before = worst.get(drawer);
      if (before && before.each / before.rating >= each / rating) continue;
      worst.set(drawer, { network, hub, drawer, side, ways, each, rating });
    }
  }
  return worst.values();
}

function causeOf({ network, drawer, side, ways, each }: Overload): string {
  const { owner } = drawer;
  const whose = owner.kind === 'board' ? `card ${owner.board.card.name}` : `${owner.kind} ${owner.name}`;
  const { connector } = side.instance.pins;
  return [network.rail, whose, connector.name, ways, each.toPrecision(6)].join('\n');
}

function finding(view: View, alike: readonly Overload[]): Finding {
  const { network, hub, drawer, side, ways, each, rating } = alike[0]!;
  const { ground } = network;
  const contacts = side.contacts.map((node) => placeOf(view, node));
  const amount = spokenAmount(currentOf(hub), 'A');
  const name = drawer.owner.name;
  const what = ground
    ? `the ground return of ${name}${spokenBeyond(drawer)}, ${amount}, has`
    : `${name}${spokenBeyond(drawer)} draws ${amount} of ${network.rail} through`;
  const through = `${ways} contact${ways === 1 ? '' : 's'} (${spokenList(contacts)})`;
  const others = alike.slice(1).map((one) => one.drawer.owner.name);
  const likewise = others.length === 0 ? '' : `; the same holds for ${spokenList(others)}`;
  const rated = `${side.instance.pins.connector.name} is rated ${spokenAmount(rating, 'A')} a contact`;
  const source = sourceOf(network, drawer, side);
  return {
    rule: 'contact-overload',
    severity: 'error',
    message: `${what} ${through}, ${spokenAmount(each, 'A')} a contact, and ${rated}${likewise}`,
    source,
    path: pathOf(view, network, side, source),
    fix: `give ${ground ? 'the return' : network.rail} more contacts, or a wire of its own to ${name}, before power is applied`,
    about: [
      network.rail,
      ...alike.flatMap((one) => [
        one.drawer.owner.name,
        ...boardsBeyond(one.hub).map((board) => board.name),
        one.side.instance.path,
        ...(one.hub.by?.ribbon ? [one.hub.by.ribbon.name] : []),
      ]),
    ],
  };
}

/** Where the text says it: the board's own `takes`, else the ribbon, else the connector. */
function sourceOf({ loads }: Network, { owner, by }: Hub, { instance }: Side): Source {
  const load = owner.kind === 'board' ? loads.find(({ board }) => board === owner.board) : undefined;
  const edge = owner.kind === 'board' ? owner.board.instances.find(({ kind }) => kind === 'edge') : undefined;
  if (load) return load.take.source;
  return (by?.kind === 'slot' ? edge?.port.source : by?.ribbon?.source) ?? instance.port.source;
}

function pathOf(view: View, { sources }: Network, { contacts }: Side, source: Source): Step[] {
  const from = sources[0]?.node;
  const to = contacts[0]!;
  return from === undefined ? [stepAt(view, to, source)] : stepsBetween(view, from, to, source);
}

/**
 * A feed that names contacts and no lugs: as a rule a wire on the backplane's copper, which no contact limits; where it
 * is a plug, it is limited. A note, because the text does not say which.
 */
function feedNote(view: View, network: Network, hub: Hub): Finding | undefined {
  const feed = hub.by?.feed;
  const [at] = feed?.contacts ?? [];
  const rating = at?.instanceBus.pins.connector.rating;
  const ways = waysTo(hub);
  if (feed === undefined || at === undefined || rating === undefined || hub.by === undefined)
    return undefined;
  if (waysOf(hub.by) === Number.POSITIVE_INFINITY || currentOf(hub) <= ways * rating * (1 + ROUNDING))
    return undefined;
  const where = ways === 1 ? 'one contact' : `${ways} contacts`;
  return {
    rule: 'contact-overload',
    severity: 'note',
    message: `${spokenAmount(currentOf(hub), 'A')} of ${feed.rail} enter ${hub.owner.name} at ${where}, rated ${spokenAmount(rating, 'A')} each: right for a wire on the backplane's copper, too much for contacts`,
    source: feed.source,
    path: network.sources[0] ? [stepAt(view, network.sources[0].node, feed.source)] : [],
    fix: 'if it arrives by lugs or a bus bar, say so with `by "lugs"`',
    ...withEdits(
      // Words behind a kind of evidence are a note on that, and say nothing of lugs.
      Object.keys(feed.evidence).length > 0
        ? []
        : [edit('write `by "lugs"`', saying(feed.source, { by: 'by "lugs"' }))],
    ),
    about: [feed.rail, hub.owner.name, feed.supply.name],
  };
}
