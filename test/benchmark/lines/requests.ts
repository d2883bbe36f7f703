import type { Ground } from './ground.ts'
import { crowdOf } from './reports.ts'
import { memory } from './taken.ts'

const requests = 30_000

/** What the process holds before and after so many requests: of each hundred, one opens Compare, one Home. */
export async function manyRequests({ app, base, keeper }: Ground): Promise<string[]> {
  const { port } = app.server.address() as { port: number }
  const cookie = keeper.cookieHeader().join('; ')
  const asks = Array.from({ length: requests }, (_, i) => {
    if (i % 100 === 0) return { path: `${base}/compare?season=all`, cookie }
    if (i % 100 === 50) return { path: base, cookie }
    return i % 2 === 0 ? { path: '/sign-in' } : { path: `${base}/seasons`, cookie }
  })
  const { all, end } = crowdOf(port)
  const lines = [`| before them | ${memory()} |`]
  for (const third of [1, 2, 3]) {
    const [from, to] = [((third - 1) * requests) / 3, (third * requests) / 3]
    await all(asks.slice(from, to))
    lines.push(`| after ${to} | ${memory()} |`)
  }
  end()
  return lines
}
