import type { SQL } from 'drizzle-orm'
import type { PgDatabase, PgQueryResultHKT, PgTransactionConfig } from 'drizzle-orm/pg-core'

/** The one type behind which both engines stand. */
type Drizzle = PgDatabase<PgQueryResultHKT>
export type Tx = Parameters<Parameters<Drizzle['transaction']>[0]>[0]

/** What the work of a transaction stands between. */
export interface Around extends Pick<PgTransactionConfig, 'accessMode' | 'isolationLevel'> {
  /** Run before the work begins, in the message that begins the transaction where the engine can. */
  readonly first?: SQL
  /** One statement, at the end, in the message that commits where the engine can; nothing is stored if it fails. */
  readonly last?: ((tx: Tx) => Promise<void>) | undefined
}

export interface Database {
  readonly kind: 'embedded' | 'server'
  readonly drizzle: Drizzle
  transaction<T>(work: (tx: Tx) => Promise<T>, how?: Around): Promise<T>
  /** Runs the migrations that are missing, one process at a time; `say` is told whom this one has to wait for. */
  migrate(folder: string, say?: (line: string) => void): Promise<void>
  close(): Promise<void>
}
