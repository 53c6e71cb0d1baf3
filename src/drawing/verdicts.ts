import type { Verdict } from './ribbon-picture.ts';

/** The verdicts in words. */
export const VERDICTS: Readonly<Record<Verdict, string>> = {
  power: 'rail meets something else',
  crossed: 'crossed',
  ground: 'signal meets ground',
  differ: 'another name',
};
