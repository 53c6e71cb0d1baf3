import type { Document } from '../language/tree.ts';
import { placeAt } from './place.ts';
import type { Growing, Sprout } from './tree-nodes.ts';

/** Finds the nodes of a tree. */
export interface TreeIndex {
  take(node: Growing, sprout: Sprout): void;
  /** Nodes of the thing with this name, or of what holds it: `CAGE.3` for `CAGE.3.14`, `CPU` for `CPU +5V`. */
  named(place: string): readonly Growing[];
  /** Nodes that the innermost statement around an offset describes, in the order of the tree. */
  describedAt(file: string, offset: number): readonly Growing[];
}

/** Offsets are those of `documents`: the index is good as long as these are current. */
export function treeIndex(documents: ReadonlyMap<string, Document>): TreeIndex {
  const names = new Map<string, Growing[]>();
  const statements = new Map<string, Growing[]>();
  return {
    take(node, { name, source, describedBy = source ? [source] : [] }) {
      if (name !== undefined) push(names, name, node);
      for (const one of describedBy) push(statements, `${one.file}\n${one.from}`, node);
    },
    named(place) {
      for (let name = place; name !== ''; name = holderOf(name)) {
        const found = names.get(name);
        if (found) return found;
      }
      return [];
    },
    describedAt(file, offset) {
      const document = documents.get(file);
      if (document === undefined) return [];
      const { entry, around } = placeAt(document, offset);
      for (const one of entry ? [entry, ...[...around].reverse()] : [...around].reverse()) {
        const found = statements.get(`${file}\n${one.offset + one.statement.from}`);
        if (found) return found;
      }
      return [];
    },
  };
}

function push(map: Map<string, Growing[]>, key: string, node: Growing): void {
  const list = map.get(key);
  if (list) list.push(node);
  else map.set(key, [node]);
}

/** A place without its last part: `CAGE.3` of `CAGE.3.14`, `W2` of `W2 conductor 5`; empty where it has but one. */
function holderOf(place: string): string {
  const space = place.indexOf(' ');
  return place.slice(0, Math.max(0, space < 0 ? place.lastIndexOf('.') : space));
}
