import { createHash } from 'node:crypto'
import { Agent, request } from 'node:http'
import pg from 'pg'
import { newId } from '../../../src/db/new-id.ts'
import { sectionKeys } from '../../../src/reports/sections.ts'
import { type App, type Ground, over } from './ground.ts'
import { type Taken, type Tell, timed, turnAbout } from './taken.ts'

const connections = 50
const seconds = 2

/** What the route below sends, and by which connections it asks for the token. */
const bench: { bytes: Buffer; pool: pg.Pool | null } = { bytes: Buffer.alloc(0), pool: null }
const byToken = 'select id from share_links where token_hash = $1'

/** The measure of a shared report: the same bytes, once the token was looked up. */
export const withBareLink = (app: App) =>
  app.get<{ Params: { token: string } }>('/bench/:token', { config: { access: 'public' } }, async (asking, reply) => {
    const hash = createHash('sha256').update(asking.params.token).digest('hex')
    const found = await bench.pool?.query(byToken, [hash])
    if (found?.rowCount !== 1) throw new Error('The token leads nowhere.')
    return reply.type('text/html; charset=utf-8').header('content-encoding', 'gzip').send(bench.bytes)
  })

/** A report of the whole group, with every part on it. */
function frozen({ base, sent }: Ground): Promise<string> {
  const fields = { id: newId(), keeps: 'frozen', title: 'Ten years', words: '', season: 'all', step: 'finish' }
  return sent(`${base}/reports`, {
    ...fields,
    ...Object.fromEntries(sectionKeys.map((key, i) => [`sections[${i}]`, key])),
  })
}

export async function freezing(ground: Ground, tell: Tell): Promise<void> {
  const { base, page, fresh } = ground
  const whole = fresh(page(`${base}/compare.json?season=all`))
  const found = await turnAbout(timed(fresh(() => frozen(ground))), timed(whole))
  tell({ work: 'freezing a report, ten years', against: 'Compare whole (`compare.json`)', most: 1.5, found })
}

export async function shared(ground: Ground, tell: Tell): Promise<void> {
  const { app, keeper, url } = ground
  const { port } = app.server.address() as { port: number }
  const report = await frozen(ground)
  const linked = await keeper.post(`${report}/links`, { endsOn: '', passphrase: '' })
  const path = /\/r\/[\w-]+/.exec(linked.text)?.[0] ?? ''
  const pool = new pg.Pool({ connectionString: url, max: 10 })
  Object.assign(bench, { pool, bytes: await ground.page(path)() })
  const { load, end } = crowdOf(port)
  const found = await turnAbout(
    () => load(path),
    () => load(path.replace('/r/', '/bench/')),
  )
  const kb = (bench.bytes.length / 1024).toFixed(0)
  const work = `a shared frozen report (${kb} kB compressed), ${connections} connections, for each answer`
  tell({ work, against: 'the same bytes after one SELECT of the token', most: 1.3, found })
  end()
  await pool.end()
}

/** How long an answer takes on average while so many ask again as soon as they were answered; any other than 200 ends it. */
export function crowdOf(port: number) {
  const sockets = new Agent({ keepAlive: true, maxSockets: connections })
  const one = (path: string, cookie = '') =>
    new Promise<void>((resolve, reject) => {
      const headers = { cookie, 'accept-encoding': 'gzip' }
      const asking = request({ host: '127.0.0.1', port, path, headers, ...over(sockets) }, (answer) => {
        if (answer.statusCode !== 200) reject(new Error(`${path}: ${answer.statusCode}`))
        answer.on('data', () => undefined).on('end', resolve)
      })
      asking.on('error', reject).end()
    })
  const load = async (path: string): Promise<Taken> => {
    let done = 0
    const [before, from] = [process.cpuUsage(), performance.now()]
    const worker = async () => {
      while (performance.now() < from + seconds * 1000) {
        await one(path)
        done += 1
      }
    }
    await Promise.all(Array.from({ length: connections }, worker))
    const { user, system } = process.cpuUsage(before)
    return { ms: (performance.now() - from) / done, processor: (user + system) / 1000 / done }
  }
  /** So many answers, whoever asks for which. */
  const all = async (asks: readonly { readonly path: string; readonly cookie?: string }[]) => {
    let next = 0
    const worker = async () => {
      for (let i = next++; i < asks.length; i = next++) await one(asks[i]?.path ?? '', asks[i]?.cookie)
    }
    await Promise.all(Array.from({ length: connections }, worker))
  }
  return { load, all, end: () => sockets.destroy() }
}
