import type { PgDatabase, PgQueryResultHKT } from 'drizzle-orm/pg-core'

/** The one type behind which both engines stand. */
export type Drizzle = PgDatabase<PgQueryResultHKT>
export type Tx = Parameters<Parameters<Drizzle['transaction']>[0]>[0]

export interface Database {
  readonly kind: 'embedded' | 'server'
  readonly drizzle: Drizzle
  migrate(folder: string): Promise<void>
  close(): Promise<void>
}
