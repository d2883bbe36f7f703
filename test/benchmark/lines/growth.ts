import { Agent } from 'node:http'
import { buildApp } from '../../../src/app.ts'
import { Client } from '../../support/app.ts'
import { largeGroup, password, type Size } from '../large-group.ts'
import { asked, type Ground } from './ground.ts'
import { middle, rounds, type Taken, timed } from './taken.ts'

/** Processor time of Compare, nothing kept, as a group grows tenfold and again: the slope of each step on log scales. */
export async function growth({ database }: Ground): Promise<string[]> {
  const sizes: Size[] = [600, 6_667, 60_000].map((harvests) => ({
    seasons: 10,
    harvests,
    labour: Math.round(harvests / 2),
  }))
  const found: { rows: number; ms: number; processor: number }[] = []
  for (const [i, size] of sizes.entries()) {
    const group = await largeGroup(database, size, 10 + i)
    const app = await buildApp({
      database,
      root: process.cwd(),
      secureCookies: false,
      trustProxy: ['127.0.0.1'],
      demo: false,
    })
    await app.listen({ host: '127.0.0.1', port: 0 })
    const { port } = app.server.address() as { port: number }
    const keeper = new Client(app)
    await keeper.post('/sign-in', { email: group.email, password })
    const sockets = new Agent({ keepAlive: true })
    const taken: Taken[] = []
    const path = `/g/${group.slug}/compare?season=all`
    const compare = timed(async () => {
      const { status } = await asked({ port, sockets, path, cookie: keeper.cookieHeader().join('; ') })
      if (status !== 200) throw new Error(`${path}: ${status}`)
    })
    for (let round = 0; round <= Math.min(rounds, 4); round++) {
      await database.drizzle.execute('update group_counters set changes = changes + 1')
      const one = await compare()
      if (round > 0) taken.push(one)
    }
    const { ms, processor } = middle(taken)
    found.push({ rows: size.harvests + size.labour, ms, processor: processor ?? Number.NaN })
    sockets.destroy()
    await app.close()
  }
  return found.map(({ rows, ms, processor }, i) => {
    const before = found[i - 1]
    const slope = before ? Math.log(processor / before.processor) / Math.log(rows / before.rows) : null
    return `| ${rows} | ${ms.toFixed(0)} | ${processor.toFixed(0)} | ${slope === null ? '-' : slope.toFixed(2)} |`
  })
}
