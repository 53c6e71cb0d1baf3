/** Which cases are gone through: those that do harm and that nothing prevents, or all. */
export const CASES_SHOWN = ['open', 'all'] as const;
export type CasesShown = (typeof CASES_SHOWN)[number];

/** What chooses the cases of everything at once. */
export const ALL_PLUGS = 'all plugs';
