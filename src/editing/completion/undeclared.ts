import type { Item } from '../../language/tree.ts';
import { statementsOf } from '../place.ts';
import { type Reading, readings, type SymbolKind } from '../roles.ts';
import type { Candidate } from './candidate.ts';
import type { Cursor } from './cursor.ts';

const KINDS = new Set<SymbolKind>(['supply', 'connector', 'bus', 'backplane', 'card', 'part']);

/** Names that lines speak of and nothing declares: what a new block most likely is to be called. */
export function undeclared({ analysis, elsewhere }: Cursor, kind: SymbolKind): Candidate[] {
  if (!KINDS.has(kind)) return [];
  const { machine, documents } = analysis;
  const declared = new Set<string>();
  const spoken = new Map<string, string>();
  for (const [file, document] of documents) {
    for (const { entry, around } of statementsOf(document)) {
      const { statement, offset } = entry;
      const source = { file, from: offset + statement.from, to: offset + statement.to };
      const how = readings[statement.form] ?? {};
      for (const { key, values } of [{ key: '', values: statement.subject }, ...statement.attributes]) {
        const reading = how[key];
        if (reading === undefined || !isOf(reading, kind)) continue;
        for (const value of values) {
          if (value.kind !== 'item' || value.quoted) continue;
          if ('defines' in reading) {
            if (elsewhere(source)) declared.add(value.first);
          } else if (!spoken.has(value.first))
            spoken.set(value.first, told(around.at(0)?.statement.subject[0] as Item));
        }
      }
    }
  }
  if (kind === 'part') for (const name of [...machine.ownParts.parts.keys()]) declared.add(name);
  return [...spoken]
    .filter(([name]) => !declared.has(name))
    .map(([label, detail]) => ({ label, kind: kind as Candidate['kind'], rank: 0, detail }));
}

const isOf = (reading: Reading, kind: SymbolKind): boolean =>
  reading.kind === kind ||
  (reading.kind === 'buses' && kind === 'bus') ||
  (reading.kind === 'with' && kind === 'part');

const told = (owner: Item | undefined): string =>
  owner?.first === undefined ? 'named, not yet declared' : `named by ${owner.first}, not yet declared`;
