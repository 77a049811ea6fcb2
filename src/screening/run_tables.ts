/** Tables of a run, in the order in which they are put in place. */
export const RUN_TABLES = [
  'observations',
  'athletes',
  'rejects',
  'ignored',
  'ledger',
  'results',
  'findings',
  'recheck',
  'cohort',
  'plan',
  'coverage',
] as const;
