import ieee696 from './buses/ieee-696.pinout';
import isa8 from './buses/isa-8.pinout';
import vmeJ1 from './buses/vme-j1.pinout';

/** Pin tables of published buses, by the name that `use published "…"` gives. Each names its sources. */
export const published: ReadonlyMap<string, string> = new Map([
  ['ieee-696', ieee696],
  ['vme-j1', vmeJ1],
  ['isa-8', isa8],
]);
