/** Tables whose rows a recorder may write: hours, weights and what is spread. */
export const tablesOfRecorders: ReadonlySet<string> = new Set([
  ...['containers', 'harvests', 'harvest_shares', 'losses', 'labour_entries', 'labour_shares', 'bed_closures'],
  ...['inputs', 'measures', 'deliveries', 'applications', 'stocks', 'soil_tests', 'field_notes', 'counts'],
  ...['weed_patches', 'pictures', 'second_readings', 'week_closings'],
  // A recorder may say that something was planted, which may name a cultivar or join a set, and that it is cleared.
  ...['weather_days', 'plantings', 'cultivars', 'matched_sets'],
])

/** Tables whose last save can be taken back from the notice. Not those that others have seen or that are locked. */
export const undoableTables: ReadonlySet<string> = new Set([
  ...tablesOfRecorders,
  ...[
    'sites',
    'blocks',
    'methods',
    'gardens',
    'beds',
    'bed_areas',
    'garden_areas',
    'seasons',
    'method_assignments',
    'season_questions',
    'crops',
  ],
  ...['cultivars', 'matched_sets', 'decisions', 'crate_labels'],
])
