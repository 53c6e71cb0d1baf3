import type { HarmKind } from '../analysis/wrong-mating/harms.ts';
import type { Does } from './what-if-choice.ts';

/** How heavily a harm is drawn: what is destroyed, what is shorted, what is only strained, and what does no harm by itself. */
export const WEIGHTS = ['destroys', 'shorts', 'strains', 'harmless'] as const;
export type Weight = (typeof WEIGHTS)[number];

/** What is live or lost, as a letter: of a rail, a ground, an output, a bias. */
export const HARM_LETTERS: Readonly<Record<HarmKind, string>> = {
  'foreign-rail': 'R',
  'rails-joined': 'J',
  'ground-on-rail': 'G',
  'bias-lost': 'B',
  'ground-lost': 'L',
  'rail-to-ground': 'S',
  'rail-on-output': 'R',
  'outputs-fight': 'O',
  'ground-on-output': 'G',
  'ground-on-line': 'G',
  'rails-paralleled': 'P',
};

export const HARM_KINDS = Object.keys(HARM_LETTERS) as readonly HarmKind[];

/** What cannot be judged of a case, as a clause: the whole of it, or what there is besides the harm that it does. */
export function unknownSaid(does: Does, count: number): string {
  const contacts = `${count} contact${count === 1 ? '' : 's'} that nobody knows`;
  return does === 'harm'
    ? `besides, it meets ${contacts}: what that does cannot be judged`
    : `cannot be judged: meets ${contacts}`;
}
