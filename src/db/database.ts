import type { PgDatabase, PgQueryResultHKT, PgTransactionConfig } from 'drizzle-orm/pg-core'

/** The one type behind which both engines stand. */
type Drizzle = PgDatabase<PgQueryResultHKT>
export type Tx = Parameters<Parameters<Drizzle['transaction']>[0]>[0]

export interface Database {
  readonly kind: 'embedded' | 'server'
  readonly drizzle: Drizzle
  transaction<T>(work: (tx: Tx) => Promise<T>, mode?: PgTransactionConfig): Promise<T>
  /** Runs the migrations that are missing, one process at a time; `say` is told whom this one has to wait for. */
  migrate(folder: string, say?: (line: string) => void): Promise<void>
  close(): Promise<void>
}
