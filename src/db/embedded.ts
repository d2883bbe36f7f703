import { existsSync } from 'node:fs'
import { mkdir } from 'node:fs/promises'
import { join } from 'node:path'
import { PGlite } from '@electric-sql/pglite'
import { btree_gist } from '@electric-sql/pglite/contrib/btree_gist'
import { drizzle } from 'drizzle-orm/pglite'
import type { Database, Tx } from './database.ts'
import { type Force, forceAll, forcing } from './forced-files.ts'
import { runMigrations } from './migrating.ts'

const bigintType = 20

export interface EmbeddedDatabase extends Database {
  readonly kind: 'embedded'
  readonly engine: PGlite
}

/**
 * Opens the embedded engine on a folder, or in memory where `folder` is null. bigint stays text, as `pg` gives it, so
 * that both engines answer alike.
 */
export async function openEmbedded(folder: string | null, template?: Blob, force?: Force): Promise<EmbeddedDatabase> {
  const isNew = folder !== null && !existsSync(join(folder, 'PG_VERSION'))
  if (folder) await mkdir(folder, { recursive: true })
  const engine = await PGlite.create({
    ...(folder ? forcing(folder, force) : {}),
    ...(template ? { loadDataDir: template } : {}),
    extensions: { btree_gist },
    parsers: { [bigintType]: (value: string) => value },
  })
  if (isNew) await forceAll(folder)
  const connection = drizzle(engine)
  return {
    kind: 'embedded',
    engine,
    drizzle: connection as unknown as Database['drizzle'],
    transaction: (work, mode) => connection.transaction((tx) => work(tx as unknown as Tx), mode),
    migrate: (folder) => connection.transaction((tx) => runMigrations(tx as unknown as Tx, folder)),
    close: () => engine.close(),
  }
}
