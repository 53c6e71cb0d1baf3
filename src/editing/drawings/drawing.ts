import { wrongMatingOf } from '../../analysis/wrong-mating/wrong-mating.ts';
import type { Edit, Finding, View } from '../../checks/types.ts';
import { busNames, busPicture } from '../../drawing/bus-picture.ts';
import { type ConnectorPicture, connectorPicture, facesOf } from '../../drawing/connector-picture.ts';
import { cellsOfFace } from '../../drawing/face-cells.ts';
import { type BusPicture, type Cell, columnOf, columnOfGap, HEAD, type Spot } from '../../drawing/picture.ts';
import { isSame } from '../../drawing/places.ts';
import { type RibbonPicture, ribbonPicture } from '../../drawing/ribbon-picture.ts';
import type { Wanted } from '../../drawing/to-host.ts';
import type { Menu } from '../../drawing/to-page.ts';
import { plugNames } from '../../drawing/what-if-cases.ts';
import { type WhatIfPicture, whatIfPicture } from '../../drawing/what-if-picture.ts';
import { columnOfSide } from '../../drawing/what-if-places.ts';
import type { Span } from '../../language/tree.ts';
import { tellBus, tellContact, tellRibbon } from './tell.ts';
import { tellWhatIf } from './tell-what-if.ts';

/** A drawing of a machine, and the way from its cells to the text and back. */
export interface Drawing {
  readonly shown:
    | { readonly view: 'bus'; readonly picture: BusPicture }
    | { readonly view: 'connector'; readonly picture: ConnectorPicture }
    | { readonly view: 'ribbon'; readonly picture: RibbonPicture }
    | { readonly view: 'what-if'; readonly picture: WhatIfPicture };
  /** Each cell with the statement that says what is in it. A cell may have several; the first counts. */
  readonly spots: readonly (readonly [Cell, Spot])[];
  /** Where the whole is described: to there lead cells of which nothing is said. */
  readonly home?: Spot;
  /** The change of the text that it offers. */
  readonly edit?: Edit;
  /** What there is to tell of a cell, as Markdown; empty where the picture has no such cell. */
  tell(cell: Cell): string;
}

/** What there is to draw of a machine. */
export const menuOf = (view: View): Menu => ({
  bus: busNames(view),
  connector: facesOf(view),
  ribbon: view.machine.ribbons.map(({ name }) => name),
  'what-if': plugNames(wrongMatingOf(view.machine)),
});

/** The drawing that is wanted, with these findings in it; undefined where the machine has no such thing. */
export function drawingOf(view: View, findings: readonly Finding[], wanted: Wanted): Drawing | undefined {
  const { view: kind, of } = wanted;
  switch (kind) {
    case 'bus': {
      const picture = busPicture(view, findings, of);
      return (
        picture && {
          shown: { view: 'bus', picture },
          spots: busSpots(picture),
          tell: (cell) => tellBus(view, picture, cell),
        }
      );
    }
    case 'connector': {
      const picture = connectorPicture(view, of);
      if (picture === undefined) return undefined;
      const cells = cellsOfFace(picture);
      return {
        shown: { view: 'connector', picture },
        home: picture.spot,
        spots: picture.contacts.flatMap(({ spot }, i) => (spot ? [[cells[i]!, spot] as const] : [])),
        tell: (cell) =>
          tellContact(
            view,
            picture,
            cells.findIndex((one) => isSame(one, cell)),
          ),
      };
    }
    case 'ribbon': {
      const picture = ribbonPicture(view, of);
      return (
        picture && {
          shown: { view: 'ribbon', picture },
          home: picture.spot,
          spots: ribbonSpots(picture),
          tell: (cell) => tellRibbon(view, picture, cell),
        }
      );
    }
    case 'what-if': {
      const picture = whatIfPicture(view, wanted);
      return (
        picture && {
          shown: { view: 'what-if', picture },
          spots: whatIfSpots(picture),
          ...(picture.shown?.key ? { edit: picture.shown.key.origin.edit } : {}),
          tell: (cell) => tellWhatIf(view, picture, cell),
        }
      );
    }
  }
}

type Spots = Drawing['spots'];

function busSpots({ slots, lines }: BusPicture): Spots {
  return [
    ...lines.flatMap(
      ({ crossings, ends, spot }, row): Spots => [
        ...crossings.flatMap(
          (one, slot): Spots =>
            one?.origin.spots.map((at) => [{ row, column: columnOf(slot) }, at] as const) ?? [],
        ),
        ...ends.map((end) => [{ row, column: columnOfGap(end.gap) }, end.spot] as const),
        ...(spot ? [[{ row, column: HEAD }, spot] as const] : []),
      ],
    ),
    ...slots.map(({ spot }, slot) => [{ row: HEAD, column: columnOf(slot) }, spot] as const),
  ];
}

function ribbonSpots({ ends, conductors, kind }: RibbonPicture): Spots {
  return [
    ...conductors.flatMap(
      ({ meets, spot }, row): Spots => [
        ...meets.flatMap((met, column): Spots => (met?.spot ? [[{ row, column }, met.spot]] : [])),
        [{ row, column: HEAD }, spot],
      ],
    ),
    // The wires of a cable are said one by one; its sides are nowhere said.
    ...(kind === 'ribbon' ? ends.map(({ spot }, column) => [{ row: HEAD, column }, spot] as const) : []),
  ];
}

/** A contact of which nothing is said leads to what it belongs to. */
const whatIfSpots = ({ shown }: WhatIfPicture): Spots =>
  (shown?.mates ?? []).flatMap(({ plugContacts, socketContacts, origin: { spots } }, m) =>
    ([0, 1] as const).flatMap((side): Spots => {
      const column = columnOfSide(m, side);
      const contacts = side === 0 ? plugContacts : socketContacts;
      return [
        ...contacts.map(({ spot }, row) => [{ row, column }, spot ?? spots[side]] as const),
        [{ row: HEAD, column }, spots[side]],
      ];
    }),
  );

/** The statement to go to for a cell. */
export const spotAt = ({ spots, home }: Drawing, cell: Cell): Spot | undefined =>
  spots.find(([one]) => isSame(one, cell))?.[1] ?? home;

/** Cells of which something is said in this part of a file. */
export const cellsIn = ({ spots }: Drawing, file: string, { from, to }: Span): Cell[] =>
  spots.filter(([, spot]) => spot.file === file && spot.from < to && from < spot.to).map(([cell]) => cell);
