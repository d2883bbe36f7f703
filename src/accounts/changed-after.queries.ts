import { gt, type SQL, sql } from 'drizzle-orm'
import { changes } from './accounts.table.ts'

/**
 * Changes made after a moment. A moment that was read is cut to the millisecond; what the database holds of the same
 * moment is finer, and not later.
 */
export const changedAfter = (moment: Date): SQL =>
  gt(sql`date_trunc('milliseconds', ${changes.changedAt})`, moment.toISOString())
