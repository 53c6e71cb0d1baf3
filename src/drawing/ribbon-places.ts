import { type Drawn, HEAD } from './picture.ts';
import type { Place } from './places.ts';
import { ROW } from './ribbon-layout.ts';
import type { RibbonPicture } from './ribbon-picture.ts';
import type { RibbonSheet } from './ribbon-svg.ts';

/** The ends of a ribbon, its conductors, and the contact that each meets at each end, as they are laid out. */
export function ribbonPlaces(
  { ends, conductors }: Drawn<RibbonPicture>,
  { layout: { columns, places, head, numbers }, first }: RibbonSheet,
): Place[] {
  const heads = ends.map((_, e): Place => {
    const { x, width } = columns[e]!;
    return { cell: { row: HEAD, column: e }, x, y: first - head, width, height: head - 4, nets: [] };
  });
  const yOf = (e: number, k: number): number => first + (places[e]?.[k] ?? k) * ROW;
  const cells = conductors.flatMap(({ meets }, k): Place[] => {
    const nets = [...new Set(meets.flatMap((met) => met?.net ?? []))];
    return [
      {
        cell: { row: k, column: HEAD },
        x: numbers,
        y: yOf(0, k),
        width: (columns[0]?.x ?? numbers) - numbers - 4,
        height: ROW,
        nets,
      },
      ...meets.flatMap((met, e): Place[] =>
        met === undefined
          ? []
          : [
              {
                cell: { row: k, column: e },
                x: columns[e]!.x,
                y: yOf(e, k),
                width: columns[e]!.width,
                height: ROW,
                nets: met.net === undefined ? [] : [met.net],
              },
            ],
      ),
    ];
  });
  return [...heads, ...cells];
}
