import type { Severity } from '../checks/types.ts';
import type { EvidenceKind } from '../machine/types.ts';
import type { Group } from './line-groups.ts';
import type { BusPicture, Drawn, LineRow, Role } from './picture.ts';

/** Which lines of a bus are wanted: those that fit all that is said. */
export interface BusFilter {
  /** Part of a line's name, of its contacts here or elsewhere, or of the name of a board that does something on it. */
  readonly text?: string;
  readonly group?: Group;
  /** How it is known somewhere along the line; `unsaid` where nobody says how. */
  readonly evidence?: EvidenceKind | 'unsaid';
  /** A severity, or a rule: there is such a finding on the line. `any`: there is one at all. */
  readonly finding?: Severity | 'any' | (string & {});
}

/** Where a board does nothing. */
const IDLE: readonly Role[] = ['open', 'untouched', 'unknown', 'bridge'];

/** Indices of the lines that a filter lets through. */
export function narrowed(picture: Drawn<BusPicture>, filter: BusFilter = {}): number[] {
  const { text = '', group, evidence, finding } = filter;
  const wanted = text.trim().toLowerCase();
  const found = finding === undefined ? undefined : rowsWith(picture, finding);
  return picture.lines.flatMap((line, row) => {
    const fits =
      (group === undefined || line.group === group) &&
      (found === undefined || found.has(row)) &&
      (evidence === undefined ||
        line.crossings.some((one) => one !== undefined && (one.evidence ?? 'unsaid') === evidence)) &&
      (wanted === '' ||
        textsOf(picture, line).some((one) => one.toLowerCase().includes(wanted)) ||
        placesOf(picture, line).some((one) => one.toLowerCase() === wanted));
    return fits ? [row] : [];
  });
}

const rowsWith = ({ findings }: Drawn<BusPicture>, finding: string): ReadonlySet<number> =>
  new Set(
    findings
      .filter(({ rule, severity }) => finding === 'any' || rule === finding || severity === finding)
      .flatMap(({ cells }) => cells.map(({ row }) => row)),
  );

const textsOf = ({ slots }: Drawn<BusPicture>, line: Drawn<LineRow>): string[] => [
  line.name,
  line.contacts,
  ...line.beyond,
  ...line.crossings.flatMap((one, i) => (one && !IDLE.includes(one.role) ? slots[i]!.board : [])),
];

/** Its contacts in each slot, as findings name them: `CAGE.3.14`. */
const placesOf = ({ slots, backplane }: Drawn<BusPicture>, { contacts }: Drawn<LineRow>): string[] =>
  slots.flatMap(({ label }) => contacts.split(' ').map((one) => `${backplane}.${label}.${one}`));
