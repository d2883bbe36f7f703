import type { PgDatabase, PgQueryResultHKT, PgTransactionConfig } from 'drizzle-orm/pg-core'

/** The one type behind which both engines stand. */
export type Drizzle = PgDatabase<PgQueryResultHKT>
export type Tx = Parameters<Parameters<Drizzle['transaction']>[0]>[0]

export interface Database {
  readonly kind: 'embedded' | 'server'
  readonly drizzle: Drizzle
  transaction<T>(work: (tx: Tx) => Promise<T>, mode?: PgTransactionConfig): Promise<T>
  migrate(folder: string): Promise<void>
  close(): Promise<void>
}
