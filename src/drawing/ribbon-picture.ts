import type { Conductor, Meeting } from '../analysis/conductors.ts';
import { crossingsOf } from '../analysis/crossings.ts';
import { placeOf } from '../checks/explain.ts';
import type { View } from '../checks/types.ts';
import type { Ribbon, RibbonEnd, Wire } from '../machine/types.ts';
import { type BuildSheet, sheetOf } from './build-sheet.ts';
import { joinedAt, type NetNumber, netNumbers, spotOf } from './drawn-bus.ts';
import type { ContactOrigin, Spot } from './picture.ts';
import { type Told, toldOf } from './told.ts';
import type { Verdict } from './verdicts.ts';

/** A contact at an end of a conductor. */
export interface Met extends Told {
  /** `GAUGE.J1.18` */
  readonly place: string;
  /** What this contact is to the one at the end that the others are held against. */
  readonly verdict?: Verdict;
  /** Contacts with one number are on one net. */
  readonly net: number;
  readonly origin: ContactOrigin;
}

/** One end of a ribbon as it is said; of a cable, one side of its wires. */
export interface DrawnEnd {
  /** `GAUGE.J1`, or what the text says of an end that meets nothing known. */
  readonly place: string;
  readonly known: boolean;
  readonly connector: string;
  /** The contact that the striped conductor meets; undefined where nobody says it. */
  readonly stripe?: string;
  readonly turned: boolean;
  readonly bump: boolean;
  readonly shroud?: 'plain' | 'notch';
  /** Neighbours with a key between them: `9 10`. */
  readonly keys: readonly string[];
  readonly unplugged: boolean;
  /** mm from the first end. */
  readonly along?: number;
  /** Conductor (from 0) in each place across the ribbon here. */
  readonly order: readonly number[];
  readonly spot: Spot;
}

export interface DrawnConductor {
  /** Counted from the stripe; wires of a cable in the order of the text. */
  readonly number: number;
  /** At each end; undefined where the conductor meets nothing there. */
  readonly meets: readonly (Met | undefined)[];
  readonly spot: Spot;
}

/** A ribbon or cable as it is drawn, with the sheet to build it by. Plain data. */
export interface RibbonPicture {
  readonly title: string;
  readonly name: string;
  readonly kind: 'ribbon' | 'cable';
  /** A block that has no stripe. */
  readonly rigid: boolean;
  readonly ends: readonly DrawnEnd[];
  readonly conductors: readonly DrawnConductor[];
  /** The one mistake that would explain all that is wrong: `turned`, `over`, `rows`. */
  readonly pattern?: string;
  readonly sheet: BuildSheet;
  readonly spot: Spot;
}

/** Each ribbon and cable as a picture. */
export const ribbonPictures = (view: View): RibbonPicture[] =>
  view.machine.ribbons.map((ribbon) => pictureOf(view, ribbon));

/** A ribbon or cable by its name. */
export function ribbonPicture(view: View, name: string): RibbonPicture | undefined {
  const ribbon = view.machine.ribbons.find((one) => one.name === name);
  return ribbon && pictureOf(view, ribbon);
}

function pictureOf(view: View, ribbon: Ribbon): RibbonPicture {
  const its = crossingsOf(view.machine, view.nets).filter((one) => one.ribbon === ribbon);
  const pattern = its.find((one) => one.pattern)?.pattern;
  const judged = its.flatMap((one) => one.conductors);
  const [ends, conductors] =
    ribbon.kind === 'ribbon' ? ofRibbon(view, ribbon, verdictsOf(judged)) : ofCable(view, ribbon, judged);
  return {
    title: view.machine.title,
    name: ribbon.name,
    kind: ribbon.kind,
    rigid: ribbon.rigid,
    ends,
    conductors,
    ...(pattern ? { pattern } : {}),
    sheet: sheetOf(ribbon, ends, conductors),
    spot: spotOf(ribbon.source),
  };
}

/** What is drawn of each meeting; where the ends mean the same there is nothing to mark. */
const VERDICT_OF: Readonly<Record<Meeting, Verdict | undefined>> = {
  nothing: undefined,
  agree: undefined,
  differ: 'differ',
  stray: 'stray',
  ground: 'ground',
  crossed: 'crossed',
  power: 'power',
};

/** By the contact at the end that is held against another. */
function verdictsOf(conductors: readonly Conductor[]): ReadonlyMap<number, Verdict> {
  return new Map(
    conductors.flatMap((one) => {
      const verdict = VERDICT_OF[one.meeting];
      return verdict ? [[one.b, verdict] as const] : [];
    }),
  );
}

type MetAt = (contact: number, verdict: Verdict | undefined) => Met;

/** Tells of contacts, their nets numbered in the order in which it is asked. */
function meeting(view: View): MetAt {
  const numbered = netNumbers();
  return (contact, verdict) => metAt(view, contact, verdict, numbered);
}

function metAt(view: View, contact: number, verdict: Verdict | undefined, numbered: NetNumber): Met {
  const { pins, base } = view.nets.instanceOf(contact);
  return {
    ...toldOf(pins, contact - base),
    ...joinedAt(view, contact, numbered),
    place: placeOf(view, contact),
    ...(verdict ? { verdict } : {}),
  };
}

function ofRibbon(
  view: View,
  ribbon: Ribbon,
  verdicts: ReadonlyMap<number, Verdict>,
): [DrawnEnd[], DrawnConductor[]] {
  const met = meeting(view);
  const conductors = Array.from({ length: ribbon.conductors }, (_, k) => ({
    number: k + 1,
    meets: ribbon.ends.map(({ crimped }) => {
      const contact = crimped[k] ?? -1;
      return contact < 0 ? undefined : met(contact, verdicts.get(contact));
    }),
    spot: spotOf(ribbon.source),
  }));
  return [ribbon.ends.map(endOf), conductors];
}

/** What is said of an end of a ribbon or cable. */
function endOf(end: RibbonEnd): DrawnEnd {
  const { instance, place, stripe, turned, bump, unplugged, along, order, source } = end;
  const connector = instance?.pins.connector;
  return {
    place: instance?.path ?? place,
    known: instance !== undefined,
    connector: connector?.name ?? '',
    ...(stripe === undefined ? {} : { stripe }),
    turned,
    bump: bump || connector?.bump === true,
    ...(connector?.shroud ? { shroud: connector.shroud } : {}),
    keys: instance?.pins.keys.map((key) => key.map((one) => connector!.labels[one]).join(' ')) ?? [],
    unplugged,
    ...(along === undefined ? {} : { along: along * 1000 }),
    order,
    spot: spotOf(source),
  };
}

/** The wires of a cable, from the one side to the other; they are loose, so there is no order across them. */
function ofCable(view: View, ribbon: Ribbon, judged: readonly Conductor[]): [DrawnEnd[], DrawnConductor[]] {
  const met = meeting(view);
  const { wires } = ribbon;
  const key = ({ a, b }: Wire): string => `${a} ${b}`;
  const verdicts = new Map(judged.map((one) => [key(one), VERDICT_OF[one.meeting]]));
  const conductors = wires.map((wire, k) => ({
    number: k + 1,
    meets: [met(wire.a, undefined), met(wire.b, verdicts.get(key(wire)))],
    spot: spotOf(wire.source),
  }));
  const sides = (['a', 'b'] as const).map((side): DrawnEnd => {
    const instances = [...new Set(wires.map((wire) => view.nets.instanceOf(wire[side])))];
    return {
      place: instances.map(({ path }) => path).join(', '),
      known: true,
      connector: [...new Set(instances.map(({ pins }) => pins.connector.name))].join(', '),
      turned: false,
      bump: false,
      keys: [],
      unplugged: false,
      order: wires.map((_, k) => k),
      spot: spotOf(ribbon.source),
    };
  });
  return [sides, conductors];
}
