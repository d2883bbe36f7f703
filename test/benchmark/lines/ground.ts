import { Agent, type OutgoingHttpHeaders, request } from 'node:http'
import { gunzipSync } from 'node:zlib'
import pg from 'pg'
import { buildApp } from '../../../src/app.ts'
import type { Database } from '../../../src/db/database.ts'
import { openServer } from '../../../src/db/server.ts'
import { Client } from '../../support/app.ts'
import { type LargeGroup, largeGroup, password, tenYears } from '../large-group.ts'

export const server = process.env.BENCHMARK_SERVER ?? 'postgres://root@127.0.0.1:5432/postgres'

export type App = Awaited<ReturnType<typeof buildApp>>

/** A database of its own, on which the service listens, with the group of ten years in it and its keeper signed in. */
export interface Ground {
  readonly url: string
  readonly database: Database
  readonly app: App
  readonly group: LargeGroup
  readonly keeper: Client
  /** Where the pages of the group lie. */
  readonly base: string
  /** Opens a page, as its keeper unless somebody else is named; the bytes are as they came, mostly compressed. */
  readonly page: (path: string, who?: Client) => () => Promise<Buffer>
  /** How it is answered. */
  readonly statusOf: (path: string) => Promise<number>
  /** What stands on it. */
  readonly text: (path: string, who?: Client) => Promise<string>
  /** Sends a form as a browser does and takes where its answer leads. */
  readonly sent: (path: string, fields: Readonly<Record<string, string>>, who?: Client) => Promise<string>
  /** Sends a form with a file. */
  readonly uploaded: (
    path: string,
    fields: Readonly<Record<string, string>>,
    file: string,
    who?: Client,
  ) => Promise<string>
  /** The same work where the process keeps nothing of any group. */
  readonly fresh: <T>(work: () => Promise<T>) => () => Promise<T>
  /** And where the sums of closed seasons are not kept in the database either. */
  readonly unsummed: <T>(work: () => Promise<T>) => () => Promise<T>
  drop(): Promise<void>
}

/** `prepare` adds routes of its own before the service listens. */
export async function openGround(name: string, prepare: (app: App) => void = () => undefined): Promise<Ground> {
  const named = `evenground_${name}_${process.pid}`
  const url = new URL(server)
  url.pathname = `/${named}`
  await onServer(`create database ${named}`)
  const database = await openServer(url.href)
  await database.migrate('migrations')
  const app = await buildApp({
    database,
    root: process.cwd(),
    secureCookies: false,
    trustProxy: ['127.0.0.1'],
    demo: true,
  })
  prepare(app)
  await app.listen({ host: '127.0.0.1', port: 0 })
  const { port } = app.server.address() as { port: number }
  const group = await largeGroup(database, tenYears)
  const keeper = new Client(app)
  await keeper.post('/sign-in', { email: group.email, password })
  const base = `/g/${group.slug}`
  const sockets = new Agent({ keepAlive: true })
  const ask = (path: string, who: Client, given: Partial<Asked> = {}) =>
    asked({ port, sockets, path, cookie: who.cookieHeader().join('; '), ...given })
  const page =
    (path: string, who = keeper) =>
    async () => {
      const { status, bytes } = await ask(path, who)
      if (status !== 200) throw new Error(`${path}: ${status}`)
      return bytes
    }
  const text = async (path: string, who = keeper) => {
    const { bytes, isPacked } = await ask(path, who)
    return (isPacked ? gunzipSync(bytes) : bytes).toString()
  }
  const tokens = new Map<Client, string>()
  /** It stood on the page that the form came with: to ask for it is no part of sending. */
  const tokenOf = async (who: Client) => {
    const known = tokens.get(who) ?? (await who.json<{ token: string }>('/who')).token
    tokens.set(who, known)
    return known
  }
  const led = (path: string, { status, location }: Answered) => {
    if (status !== 303) throw new Error(`${path}: ${status}`)
    return location
  }
  return {
    url: url.href,
    database,
    app,
    group,
    keeper,
    base,
    page,
    statusOf: async (path) => (await ask(path, keeper)).status,
    text,
    sent: async (path, fields, who = keeper) => {
      const body = new URLSearchParams({ _csrf: await tokenOf(who), ...fields }).toString()
      const type = 'application/x-www-form-urlencoded'
      return led(path, await ask(path, who, { body, type }))
    },
    uploaded: async (path, fields, file, who = keeper) => {
      const all = Object.entries({ _csrf: await tokenOf(who), ...fields })
      const parts = all.map(
        ([key, value]) => `--evenly\r\nContent-Disposition: form-data; name="${key}"\r\n\r\n${value}`,
      )
      const head =
        '--evenly\r\nContent-Disposition: form-data; name="file"; filename="rows.csv"\r\nContent-Type: text/csv'
      const body = `${[...parts, `${head}\r\n\r\n${file}`].join('\r\n')}\r\n--evenly--\r\n`
      return led(path, await ask(path, who, { body, type: 'multipart/form-data; boundary=evenly' }))
    },
    fresh: (work) => async () => {
      await database.drizzle.execute('update group_counters set changes = changes + 1')
      return work()
    },
    unsummed: (work) => async () => {
      await database.drizzle.execute('delete from season_sums')
      await database.drizzle.execute('update group_counters set changes = changes + 1')
      return work()
    },
    drop: async () => {
      sockets.destroy()
      await app.close()
      await database.close()
      await onServer(`drop database ${named} with (force)`)
    },
  }
}

interface Asked {
  readonly port: number
  readonly sockets: Agent
  readonly path: string
  readonly cookie: string
  readonly body?: string
  readonly type?: string
}

interface Answered {
  readonly status: number
  readonly location: string
  readonly bytes: Buffer
  /** With gzip, as a browser asks for it. */
  readonly isPacked: boolean
}

/** Over connections that stay open. */
export const over = (sockets: Agent) => ({ agent: sockets })

export function asked({ port, sockets, path, cookie, body, type }: Asked): Promise<Answered> {
  const headers: OutgoingHttpHeaders = { cookie, 'x-forwarded-for': '10.9.9.9', 'accept-encoding': 'gzip' }
  if (body !== undefined) {
    headers['content-type'] = type
    headers['content-length'] = Buffer.byteLength(body)
    headers.origin = `http://127.0.0.1:${port}`
  }
  const method = body === undefined ? 'GET' : 'POST'
  return new Promise((resolve, reject) => {
    const asking = request({ host: '127.0.0.1', port, path, method, headers, ...over(sockets) }, (answer) => {
      const chunks: Buffer[] = []
      answer.on('data', (chunk: Buffer) => chunks.push(chunk))
      answer.on('end', () =>
        resolve({
          status: answer.statusCode ?? 0,
          location: String(answer.headers.location ?? ''),
          bytes: Buffer.concat(chunks),
          isPacked: answer.headers['content-encoding'] === 'gzip',
        }),
      )
    })
    asking.on('error', reject).end(body)
  })
}

/** What a program that asks the database by itself does, past the service. */
export async function bareClient(url: string): Promise<pg.Client> {
  const client = new pg.Client({ connectionString: url })
  // What went wrong before the database was dropped under it is told, not this.
  client.on('error', () => undefined)
  await client.connect()
  return client
}

async function onServer(statement: string): Promise<void> {
  const client = await bareClient(server)
  await client.query(statement)
  await client.end()
}
