/** What two ends of a conductor mean to each other, where they do not mean the same. */
export const VERDICTS = ['power', 'crossed', 'ground', 'stray', 'differ'] as const;
export type Verdict = (typeof VERDICTS)[number];

/** The verdicts in words, before `at` a place. */
export const VERDICTS_SAY: Readonly<Record<Verdict, string>> = {
  power: 'rail meets something else',
  crossed: 'crossed',
  ground: 'signal meets ground',
  stray: 'line of both ends meets a spare',
  differ: 'another name',
};

/** Another name for the same line is worth knowing; all else is to be put right. */
export const isWrong = (verdict: Verdict | undefined): boolean =>
  verdict !== undefined && verdict !== 'differ';
