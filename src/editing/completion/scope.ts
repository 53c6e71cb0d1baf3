import type { Entry } from '../../language/tree.ts';
import { items, said, subjects } from '../../language/tree.ts';
import type {
  Backplane,
  Board,
  Bus,
  Card,
  Connector,
  Machine,
  PinMap,
  Port,
  Ribbon,
  Supply,
} from '../../machine/types.ts';

/** What the blocks around a line are in the machine. */
export interface Scope {
  readonly supply?: Supply;
  readonly connector?: Connector;
  readonly bus?: Bus;
  readonly backplane?: Backplane;
  readonly card?: Card;
  readonly board?: Board;
  readonly ribbon?: Ribbon;
  /** The port or edge whose table the line is in. */
  readonly port?: Port;
  /** The contacts that the block is about: of its connector, bus, port or edge. */
  readonly pins?: PinMap;
}

const named = <T extends { readonly name: string }>(list: readonly T[], name: string | undefined) =>
  list.find((one) => one.name === name);

/** The key where there is a value. */
const found = <K extends string, V>(key: K, value: V | undefined): { [k in K]?: V } =>
  value === undefined ? {} : ({ [key]: value } as { [k in K]: V });

export function scopeAt(machine: Machine, [outer, inner]: readonly Entry[]): Scope {
  if (outer === undefined) return {};
  const name = subjects(outer.statement)[0]?.first;
  const port = inner && (subjects(inner.statement)[0]?.first ?? 'edge');
  switch (outer.statement.form) {
    case 'supply': {
      const supply = named(machine.supplies, name);
      return { ...found('supply', supply), ...withPort(named(supply?.ports ?? [], port)) };
    }
    case 'connector':
      return found('connector', named(machine.connectors, name));
    case 'bus': {
      const bus = named(machine.buses, name);
      return { ...found('bus', bus), ...found('pins', bus?.pins) };
    }
    case 'backplane': {
      const backplane = named(machine.backplanes, name);
      return { ...found('backplane', backplane), ...withPort(named(backplane?.ports ?? [], port)) };
    }
    case 'card': {
      const card = named(machine.cards, name);
      return {
        ...found('card', card),
        ...withPort(named([...(card?.ports ?? []), ...(card?.edges ?? [])], port)),
      };
    }
    case 'fitted': {
      const backplane = named(machine.backplanes, name);
      if (inner === undefined) return found('backplane', backplane);
      const label = subjects(inner.statement)[0]?.first;
      const board = backplane?.slots.find((slot) => slot.label === label)?.board;
      const card = board?.card ?? named(machine.cards, items(inner.statement, 'is')[0]?.first);
      return { ...found('backplane', backplane), ...found('board', board), ...found('card', card) };
    }
    case 'loose': {
      const board = named(machine.boards, said(outer.statement, 'as') ?? name);
      return { ...found('board', board), ...found('card', named(machine.cards, name)) };
    }
    case 'ribbon':
      return found('ribbon', named(machine.ribbons, name));
    default:
      return {};
  }
}

const withPort = (port: Port | undefined): Pick<Scope, 'port' | 'pins'> =>
  port === undefined ? {} : { port, pins: port.pins };
