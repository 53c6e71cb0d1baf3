/** Which cases are gone through: those that do harm or that nobody can judge, and that nothing prevents; or all. */
export const CASES_SHOWN = ['open', 'all'] as const;
export type CasesShown = (typeof CASES_SHOWN)[number];

/** What chooses the cases of everything at once. */
export const ALL_PLUGS = 'all plugs';

/** Whether a case does harm, in their order: what nobody can judge comes before what is known to do nothing. */
export const DOES = ['harm', 'unknown', 'nothing'] as const;
export type Does = (typeof DOES)[number];
