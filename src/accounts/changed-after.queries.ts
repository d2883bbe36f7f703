import { gt, type SQL, sql } from 'drizzle-orm'
import { changes } from './accounts.table.ts'

/**
 * Changes made after a moment. A moment that was read is cut to the millisecond; what the database holds of the same
 * moment is finer, and not later.
 */
export const changedAfter = (moment: Date | SQL): SQL => {
  const at = moment instanceof Date ? moment.toISOString() : moment
  // The first alone is what an index knows: what is later once it was cut is later.
  const cut = sql`date_trunc('milliseconds', ${changes.changedAt})`
  return sql`(${gt(sql`${changes.changedAt}`, at)} and ${gt(cut, at)})`
}
