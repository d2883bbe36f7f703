/** Tables that figures are made of: what is changed in one of these after a season closed is counted and listed. */
export const tablesOfFigures = [
  ...['harvests', 'losses', 'labour_entries', 'plantings'],
  ...['applications', 'deliveries', 'beds', 'gardens', 'method_assignments'],
] as const
