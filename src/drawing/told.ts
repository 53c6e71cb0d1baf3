import { spokenClaim, spokenEvidence } from '../checks/explain.ts';
import type { ClaimKind, EvidenceKind, PinMap } from '../machine/types.ts';
import { spotOf } from './drawn-bus.ts';
import type { Spot } from './picture.ts';

/** A contact with what is said of it, as it is written beside its mark. */
export interface Told {
  readonly label: string;
  /** `D0`, `spare`, `not said`. */
  readonly name: string;
  /** Undefined where nothing is said. */
  readonly kind: ClaimKind | undefined;
  readonly evidence: EvidenceKind | undefined;
  /** `meter 2026-05-02 "12.06 V"`, `not said` */
  readonly known: string;
  /** `pulled`: its pin is missing; `plugged`: the hole for it is blocked. */
  readonly state: 'there' | 'pulled' | 'plugged';
  readonly spot: Spot | undefined;
}

/** Contact `index` of a map. */
export function toldOf({ connector, claims, pulled, plugged }: PinMap, index: number): Told {
  const claim = claims[index];
  return {
    label: connector.labels[index]!,
    name: claim ? spokenClaim(claim) : 'not said',
    kind: claim?.kind,
    evidence: claim?.evidence.kind,
    known: claim ? spokenEvidence(claim.evidence) : 'not said',
    state: pulled.has(index) ? 'pulled' : plugged.has(index) ? 'plugged' : 'there',
    spot: claim && spotOf(claim.source),
  };
}

/** How a contact is known, as the letter beside it. */
export const LETTERS: Readonly<Record<EvidenceKind, string>> = {
  silkscreen: 'S',
  trace: 'T',
  meter: 'M',
  manual: 'B',
  guess: 'G',
};

export const letterOf = ({ evidence }: { readonly evidence?: EvidenceKind | undefined }): string =>
  evidence === undefined ? '?' : LETTERS[evidence];

/** What the letters mean, for a legend. */
export const LETTERS_SAY: readonly (readonly [string, string])[] = [
  ['S', 'printed on the board'],
  ['T', 'traced'],
  ['M', 'metered'],
  ['B', 'from a book'],
  ['G', 'guess'],
  ['?', 'nobody says how known'],
];
