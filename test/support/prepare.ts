import { execFileSync } from 'node:child_process'
import { createHash, randomBytes } from 'node:crypto'
import { existsSync, mkdirSync, readdirSync, readFileSync, renameSync, rmSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import type { TestProject } from 'vitest/node'
import { openEmbedded } from '../../src/db/embedded.ts'
import { openServer } from '../../src/db/server.ts'
import { byRow } from '../distributed/by-row.ts'
import { partition } from '../distributed/partitioned.ts'
import { onServer } from './server.ts'

declare module 'vitest' {
  interface ProvidedContext {
    template: string
    /** The prepared, empty database of the embedded engine, as a file. */
    folder: string
  }
}

/**
 * Makes one migrated, empty database for all test files to start from, on either engine: making it anew takes seconds,
 * restoring or copying it does not. What is provided is the file of the embedded one, or the name of the one on the server,
 * there with every table of a group in so many partitions where PARTITIONED names how many, and with triggers of each row
 * where BY_ROW is set.
 */
export default async function prepare(project: TestProject): Promise<() => Promise<void>> {
  const server = process.env.TEST_DATABASE_URL
  if (wantsProcesses()) execFileSync('node', ['src/build-if-old.mjs'], { stdio: 'inherit' })
  const file = await inAFile()
  project.provide('folder', file)
  if (server) return onTheServer(project, server)
  project.provide('template', file)
  return async () => undefined
}

const kept = 'node_modules/.cache/evenground-tests'

/** What is tried on a process of its own is started as its users start it: built. A run of a few other files is not. */
function wantsProcesses(): boolean {
  const named = process.argv.filter((one) => one.startsWith('test/'))
  return named.length === 0 || named.some((one) => one.includes('process'))
}

/** Kept between runs for as long as what it is made of is the same. */
export async function inAFile(): Promise<string> {
  const file = join(kept, `${madeOf()}.tar`)
  if (!existsSync(file)) {
    rmSync(kept, { recursive: true, force: true })
    mkdirSync(kept, { recursive: true })
    const database = await openEmbedded(null)
    await database.migrate('migrations')
    const written = `${file}.${process.pid}`
    writeFileSync(written, Buffer.from(await (await database.engine.dumpDataDir('none')).arrayBuffer()))
    await database.close()
    renameSync(written, file)
  }
  return file
}

/** The migrations, the code that runs them and the engine. */
function madeOf(): string {
  const migrations = readdirSync('migrations').filter((name) => name.endsWith('.sql'))
  const files = [
    ...migrations.sort().map((name) => join('migrations', name)),
    'migrations/meta/_journal.json',
    'src/db/migrating.ts',
    'src/db/embedded.ts',
    'node_modules/@electric-sql/pglite/package.json',
  ]
  const hash = createHash('sha256')
  for (const file of files) hash.update(file).update(readFileSync(file))
  return hash.digest('hex').slice(0, 24)
}

async function onTheServer(project: TestProject, server: string): Promise<() => Promise<void>> {
  const name = `evenground_test_${randomBytes(6).toString('hex')}`
  await onServer(server, `create database ${name}`)
  const url = new URL(server)
  url.pathname = `/${name}`
  const database = await openServer(url.href)
  await database.migrate('migrations')
  if (process.env.PARTITIONED) await partition(database, Number(process.env.PARTITIONED))
  if (process.env.BY_ROW) await byRow(database)
  await database.close()
  project.provide('template', name)
  return () => dropAllOf(server, name)
}

/** The prepared database and the copies of it, whose names begin with its own. */
async function dropAllOf(server: string, name: string): Promise<void> {
  const copies = await onServer<{ datname: string }>(
    server,
    `select datname from pg_database where datname like '${name.replaceAll('_', '\\_')}%'`,
  )
  for (const { datname } of copies) await onServer(server, `drop database ${datname} with (force)`)
}
