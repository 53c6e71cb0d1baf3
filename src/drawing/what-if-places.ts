import { type Drawn, HEAD } from './picture.ts';
import type { Place } from './places.ts';
import { HEAD_ROW, middleOf, ROW, SPACE } from './what-if-layout.ts';
import type { MateContact } from './what-if-mates.ts';
import type { WhatIfPicture } from './what-if-picture.ts';
import type { WhatIfSheet } from './what-if-svg.ts';

/** Column of a side of a mate: its plug, its socket. */
export const columnOfSide = (mate: number, side: 0 | 1): number => 2 * mate + side;

/** The connectors of a case and their contacts, as they are laid out: a row is the index of a contact. */
export function whatIfPlaces({ shown }: Drawn<WhatIfPicture>, { layout, top }: WhatIfSheet): Place[] {
  if (shown === undefined || layout === undefined) return [];
  return shown.mates.flatMap(({ plugContacts, socketContacts }, m): Place[] => {
    const { head, first } = layout.mates[m]!;
    return ([0, 1] as const).flatMap((side): Place[] => {
      const { x, width } = layout.columns[side];
      const column = columnOfSide(m, side);
      const contacts: readonly Drawn<MateContact>[] = side === 0 ? plugContacts : socketContacts;
      return [
        { cell: { row: HEAD, column }, x, y: top + head, width, height: 2 * HEAD_ROW + SPACE - 4, nets: [] },
        ...contacts.map(({ line, net }, row) => ({
          cell: { row, column },
          x,
          y: top + middleOf({ head, first }, line) - ROW / 2,
          width,
          height: ROW,
          nets: net < 0 ? [] : [net],
        })),
      ];
    });
  });
}
