import type { Use } from '../../machine/types.ts';
import { type Assembly, MAY_PUSH, PUSHES_BOTH, PUSHES_DOWN } from './assembly.ts';
import type { Bench } from './bench.ts';
import { fights, type Harm, pushOf } from './harms.ts';

/** Is told what happens. */
export type Tell = (harm: Harm) => void;

/** Whether two outputs that fight are on different nets of a group, which are not one when all is in place. */
export function outputsMeet(
  bench: Bench,
  { bits, next }: Assembly,
  root: number,
  tell: Tell | undefined,
): boolean {
  const { groups, whole } = bench;
  let fight = false;
  for (let a = root; a >= 0; a = groups.after(a)) {
    if (!(bits[a]! & PUSHES)) continue;
    for (let b = groups.after(a); b >= 0; b = groups.after(b)) {
      if (!(bits[b]! & PUSHES) || !((bits[a]! | bits[b]!) & PUSHES_BOTH)) continue;
      if (whole.net[a] === whole.net[b]) continue;
      fight = true;
      if (tell === undefined) return true;
      const contacts = groups.via(b);
      for (const one of outputsOn(bench, next, a))
        for (const other of outputsOn(bench, next, b))
          if (fights(one.push, other.push))
            tell({ kind: 'outputs-fight', uses: [one.use, other.use], board: other.use.board, contacts });
    }
  }
  return fight;
}

/** The same of outputs that may fight: of one of them nobody says how it drives. */
export function outputsMayMeet({ groups, whole }: Bench, { bits }: Assembly, root: number): boolean {
  if (!(groups.bitsAt(root, bits) & MAY_PUSH)) return false;
  for (let a = root; a >= 0; a = groups.after(a)) {
    if (!(bits[a]! & MAY_PUSH)) continue;
    for (let b = root; b >= 0; b = groups.after(b))
      if (bits[b]! & (PUSHES | MAY_PUSH) && whole.net[a] !== whole.net[b]) return true;
  }
  return false;
}

const PUSHES = PUSHES_BOTH | PUSHES_DOWN;

function outputsOn(
  { machine, pieces }: Bench,
  next: Int32Array,
  net: number,
): { use: Use; push: 'both' | 'down' }[] {
  const outputs: { use: Use; push: 'both' | 'down' }[] = [];
  for (let piece = net; piece >= 0; piece = next[piece]!) {
    for (const use of pieces.content[piece]?.uses ?? []) {
      const push = pushOf(machine, use);
      if (push) outputs.push({ use, push });
    }
  }
  return outputs;
}
