import { severities } from '../checks/severities.ts';
import type { Severity } from '../checks/types.ts';
import type { Wanted } from '../drawing/to-host.ts';
import type { Source } from '../machine/types.ts';
import { harmless } from '../reports/places.ts';
import { spokenCounts } from './status.ts';

export type NodeKind =
  | 'machine'
  | 'supply'
  | 'backplane'
  | 'bus'
  | 'slot'
  | 'socket'
  | 'board'
  | 'edge'
  | 'port'
  | 'loose boards'
  | 'ribbons and cables'
  | 'ribbon'
  | 'cable'
  | 'end';

export type Counts = Readonly<Record<Severity, number>>;

/** One thing of a machine, with what sits in it or on it, and what is plugged into it. */
export interface MachineNode {
  /** The names from the machine down to here: the same after every edit that leaves them. */
  readonly id: string;
  readonly kind: NodeKind;
  /** `slot 3`, `CPU`, `J2`. */
  readonly label: string;
  /** `empty`, `on IDC26`, `to DISPLAY.J1`; may be empty. */
  readonly description: string;
  /** Findings on this and on all below, each counted once. */
  readonly counts: Counts;
  /** Where it is described; undefined for what only gathers others. */
  readonly source?: Source;
  /** What draws it. */
  readonly drawing?: Wanted & {
    /** Root file of the machine. */
    readonly root: string;
  };
  readonly parent: MachineNode | undefined;
  readonly children: readonly MachineNode[];
}

/** A node while its tree grows. */
export interface Growing extends MachineNode {
  readonly counts: Record<Severity, number>;
  readonly parent: Growing | undefined;
  readonly children: Growing[];
}

/** What is said of a node when it joins the tree. */
export interface Sprout extends Pick<MachineNode, 'kind' | 'label' | 'source'> {
  readonly description?: string;
  readonly drawing?: Wanted;
  /** What findings call it: `CPU`, `CAGE.3`. */
  readonly name?: string;
  /** The statements that speak of it alone or of its kind, where that is not just `source`. */
  readonly describedBy?: readonly Source[];
}

/** Makes the nodes of one machine, each below its parent; without one it is the machine itself. */
export function nodeMaker(root: string): (parent: Growing | undefined, sprout: Sprout) => Growing {
  const times = new Map<string, number>();
  return (parent, { kind, label, description = '', source, drawing }) => {
    const path = parent === undefined ? root : `${parent.id}\n${kind} ${label}`;
    const time = (times.get(path) ?? 0) + 1;
    times.set(path, time);
    const node: Growing = {
      // While a text is being written, a name may stand twice: no two nodes are the same for that.
      id: time === 1 ? path : `${path}\n${time}`,
      kind,
      label: shortened(label),
      description: shortened(description),
      counts: { error: 0, warning: 0, question: 0, note: 0 },
      ...(source ? { source } : {}),
      ...(drawing ? { drawing: { ...drawing, root } } : {}),
      parent,
      children: [],
    };
    parent?.children.push(node);
    return node;
  };
}

/** More than this no side bar has room for. */
const LONGEST = 200;

const shortened = (text: string): string =>
  harmless(text.length > LONGEST ? `${text.slice(0, LONGEST)}…` : text);

/** What stands behind the label: `2 errors, 1 warning · Processor`. */
export function remarkOn({ kind, description, counts }: MachineNode): string {
  const all = countsIn(counts);
  // Notes call for nothing: where there is more, the tooltip has them.
  const urgent = all.filter(({ severity }) => severity !== 'note');
  const found = spokenCounts(urgent.length > 0 ? urgent : all);
  // Titles are long, and the edge of a side bar should not cut off what was found; a slot's board is short.
  const parts = kind === 'slot' ? [description, found] : [found, description];
  return parts.filter((part) => part !== '').join(' · ');
}

/** The whole of it as one reads it aloud: `board CPU, Processor, 2 errors, 1 note`. */
export function spokenNode({ kind, label, description, counts }: MachineNode): string {
  const name = BY_LABEL.has(kind) ? label : `${kind} ${label}`;
  const found = spokenCounts(countsIn(counts)) || 'no findings';
  return [name, description, found].filter((part) => part !== '').join(', ');
}

/** Their labels say already what they are. */
const BY_LABEL = new Set<NodeKind>(['slot', 'loose boards', 'ribbons and cables']);

const countsIn = (counts: Counts): { severity: Severity; count: number }[] =>
  severities.map((severity) => ({ severity, count: counts[severity] })).filter(({ count }) => count > 0);

/** The worst of what was found on a node and below; undefined where nothing was. */
export const worstOn = ({ counts }: MachineNode): Severity | undefined => countsIn(counts)[0]?.severity;
