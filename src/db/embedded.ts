import { existsSync } from 'node:fs'
import { mkdir } from 'node:fs/promises'
import { join } from 'node:path'
import { PGlite, type PGliteOptions, type Transaction, types } from '@electric-sql/pglite'
import { btree_gist } from '@electric-sql/pglite/contrib/btree_gist'
import { drizzle } from 'drizzle-orm/pglite'
import { askAtOnce } from './asked-at-once.ts'
import type { Database, Tx } from './database.ts'
import { type Force, forceAll, forcing } from './forced-files.ts'
import { runMigrations } from './migrating.ts'

const bigintType = 20

/** What drizzle reads itself, as it does from `pg`: dates, moments, intervals, and lists of them and of numbers. */
const readByDrizzle = [
  types.DATE,
  types.TIMESTAMP,
  types.TIMESTAMPTZ,
  types.INTERVAL,
  // date[], timestamp[], timestamptz[], interval[], numeric[]: the engine has no names for them.
  1182,
  1115,
  1185,
  1187,
  1231,
]
const asSent = Object.fromEntries([bigintType, ...readByDrizzle].map((type) => [type, (value: string) => value]))

/**
 * The engine as drizzle asks it: each statement in one message, and without the readers of values that drizzle sends
 * along with every query, which the engine lays over its own 390 each time; it has them once, from its start.
 */
function askedAtOnce<T extends PGlite | Transaction>(engine: PGlite, asked: T): T {
  return new Proxy(asked, {
    get(own, name) {
      if (name === 'query')
        return (text: string, values: unknown[] = [], options?: { rowMode?: 'array' | 'object' }) => {
          const inTransaction = own !== engine
          if (inTransaction && own.closed) throw new Error('A transaction that is over was asked again.')
          return askAtOnce(engine, { text, values, rowMode: options?.rowMode ?? 'object', inTransaction })
        }
      if (name === 'transaction' && own === engine)
        return (work: (tx: Transaction) => Promise<unknown>) =>
          engine.transaction((tx) => work(askedAtOnce(engine, tx)))
      const value: unknown = Reflect.get(own, name, own)
      return typeof value === 'function' ? value.bind(own) : value
    },
  })
}

export interface EmbeddedDatabase extends Database {
  readonly kind: 'embedded'
  readonly engine: PGlite
}

/** What the engine could not get over: it says so once, and then keeps the processor for ever and answers nothing. */
class WatchedEngine extends PGlite {
  private readonly onPanic: (error: Error) => void

  constructor(options: PGliteOptions, onPanic: (error: Error) => void) {
    super(options)
    this.onPanic = onPanic
  }

  override execProtocol(...asked: Parameters<PGlite['execProtocol']>) {
    return this.watched(super.execProtocol(...asked))
  }

  override execProtocolStream(...asked: Parameters<PGlite['execProtocolStream']>) {
    return this.watched(super.execProtocolStream(...asked))
  }

  private async watched<T>(answer: Promise<T>): Promise<T> {
    try {
      return await answer
    } catch (error) {
      if (error instanceof Error && Reflect.get(error, 'severity') === 'PANIC') this.onPanic(error)
      throw error
    }
  }
}

interface Opening {
  /** A backup that it begins with. */
  readonly template?: Blob
  /** How its files are forced to the disk. */
  readonly force?: Force
  /** Before anything else is asked of it. */
  readonly onPanic?: (error: Error) => void
}

/**
 * Opens the embedded engine on a folder, or in memory where `folder` is null. bigint stays text, as `pg` gives it, so
 * that both engines answer alike.
 */
export async function openEmbedded(
  folder: string | null,
  { template, force, onPanic = () => undefined }: Opening = {},
): Promise<EmbeddedDatabase> {
  const isNew = folder !== null && !existsSync(join(folder, 'PG_VERSION'))
  if (folder) await mkdir(folder, { recursive: true })
  const options = {
    ...(folder ? forcing(folder, force) : {}),
    ...(template ? { loadDataDir: template } : {}),
    extensions: { btree_gist },
  }
  const engine = new WatchedEngine(options, onPanic)
  await engine.waitReady
  // After the start, which sets readers of lists of its own.
  Object.assign(engine.parsers, asSent)
  if (isNew) await forceAll(folder)
  const connection = drizzle(askedAtOnce(engine, engine))
  return {
    kind: 'embedded',
    engine,
    drizzle: connection as unknown as Database['drizzle'],
    transaction: (work, { first, last, ...mode } = {}) =>
      connection.transaction(
        async (tx) => {
          if (first) await tx.execute(first)
          const own = tx as unknown as Tx
          const done = await work(own)
          await last?.(own)
          return done
        },
        Object.keys(mode).length > 0 ? mode : undefined,
      ),
    migrate: (folder) => connection.transaction((tx) => runMigrations(tx as unknown as Tx, folder)),
    close: () => engine.close(),
  }
}
