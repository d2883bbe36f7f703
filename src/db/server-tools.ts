import { spawn } from 'node:child_process'
import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { sql } from 'drizzle-orm'
import { sent } from '../lookups/unsaid.ts'
import type { Database } from './database.ts'
import { rowsRead } from './rows-read.ts'

/** What PostgreSQL's own programs read in place of an address: on a command line a password would be seen by all. */
export function environmentOf(url: string): Record<string, string> {
  const { hostname, port, username, password, pathname, searchParams } = new URL(url)
  const given = {
    PGHOST: searchParams.get('host') ?? decodeURIComponent(hostname),
    PGPORT: port,
    PGUSER: decodeURIComponent(username),
    PGPASSWORD: decodeURIComponent(password),
    PGDATABASE: decodeURIComponent(pathname.slice(1)),
    PGSSLMODE: sent(searchParams.get('sslmode')),
    PGSSLROOTCERT: sent(searchParams.get('sslrootcert')),
    PGSSLCERT: sent(searchParams.get('sslcert')),
    PGSSLKEY: sent(searchParams.get('sslkey')),
  }
  return Object.fromEntries(Object.entries(given).filter(([, value]) => value !== ''))
}

/** Where PostgreSQL's own programs are sent, and the environment in which the service itself runs. */
interface ServerAsked {
  readonly url: string
  readonly env: Readonly<Record<string, string | undefined>>
}

/** Runs one of PostgreSQL's own programs and gives what it says; throws with its own words where it fails. */
function runTool(name: string, options: readonly string[], { url, env }: ServerAsked): Promise<string> {
  const child = spawn(name, options, { env: { ...env, ...environmentOf(url) } })
  const [said, wrong]: [Buffer[], Buffer[]] = [[], []]
  child.stdout.on('data', (chunk: Buffer) => said.push(chunk))
  child.stderr.on('data', (chunk: Buffer) => wrong.push(chunk))
  return new Promise((resolve, reject) => {
    child.once('error', () =>
      reject(
        new Error(`${name} is not on this machine: it comes with PostgreSQL's client programs, version 15 or later`),
      ),
    )
    child.once('close', (code) =>
      code === 0
        ? resolve(Buffer.concat(said).toString('utf8'))
        : reject(new Error(`${name}: ${Buffer.concat(wrong).toString('utf8').trim()}`)),
    )
  })
}

/** A backup in pg_dump's own format, of one moment of a database that runs; read to its end before it is trusted. */
export async function dumpServer(asked: ServerAsked, file: string): Promise<void> {
  await runTool('pg_dump', ['--format=custom', '--no-owner', `--file=${file}`], asked)
  await runTool('pg_restore', ['--file=/dev/null', file], asked)
}

/** Into an empty database whose roles are there: all of it or nothing. */
export async function restoreServer(asked: ServerAsked, file: string): Promise<void> {
  const database = environmentOf(asked.url).PGDATABASE ?? 'postgres'
  const options = ['--no-owner', '--exit-on-error', '--single-transaction', `--dbname=${database}`, file]
  await runTool('pg_restore', options, asked)
}

export async function isEmpty({ drizzle }: Database): Promise<boolean> {
  const tables = sql`select 1 from pg_class where relnamespace = 'public'::regnamespace and relkind in ('r', 'p')`
  return (await rowsRead(drizzle, tables, () => true)).length === 0
}

/** The two roles, as the walls make them: a dump grants to them and does not make them. */
export async function makeRoles({ drizzle }: Database, migrations: string): Promise<void> {
  const walls = readFileSync(join(migrations, '0001_walls_and_functions.sql'), 'utf8').split('--> statement-breakpoint')
  const making = walls.find((statement) => statement.includes('CREATE ROLE'))
  if (making === undefined) throw new Error('the walls make no role')
  await drizzle.execute(sql.raw(making))
}
