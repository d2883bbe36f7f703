import { newId } from '../../src/db/new-id.ts'
import { nth } from '../../src/lookups/nth.ts'
import type { Run } from '../process/service.ts'
import { Visitor } from '../process/visitor.ts'

const compares = 100
const aloneMs = 8000
const wait = (ms: number) => new Promise((resolve) => setTimeout(resolve, ms))

/** A group, and somebody of it. */
export interface Crowd {
  readonly visitor: Visitor
  readonly slug: string
}

interface Asked {
  readonly page: number[]
  readonly password: number[]
}

interface Beside {
  /** Milliseconds of each time that somebody signed in, while nothing else was asked and beside the Compares. */
  readonly alone: Asked
  readonly beside: Asked
  readonly statuses: ReadonlyMap<number, number>
  readonly seconds: number
}

/**
 * Signs in again and again, alone and then beside a hundred Compares that are asked for at once, each under choices of its
 * own, so that none is answered by what another has made.
 */
export async function besideCompares(on: Run, crowds: readonly Crowd[]): Promise<Beside> {
  const email = `newcomer-${newId()}@example.org`
  await new Visitor(on.base).signUp(email)
  const alone = await whileAsked(on, email, wait(aloneMs))
  const statuses = new Map<number, number>()
  const since = performance.now()
  const all = Promise.all(
    Array.from({ length: compares }, async (_, i) => {
      const { visitor, slug } = nth(crowds, i % crowds.length)
      const { status } = await visitor.get(`/g/${slug}/compare?${choices(i)}`)
      statuses.set(status, (statuses.get(status) ?? 0) + 1)
    }),
  )
  const beside = await whileAsked(on, email, all)
  return { alone, beside, statuses, seconds: (performance.now() - since) / 1000 }
}

function choices(i: number): URLSearchParams {
  const pick = (values: readonly string[], by: number) => nth(values, Math.floor(i / by) % values.length)
  return new URLSearchParams({
    season: 'all',
    by: pick(['method', 'garden', 'bed', 'crop'], 1),
    establishing: pick(['counted', 'left out', 'spread'], 4),
    area: pick(['bed', 'gross'], 12),
    harvestWork: pick(['with', 'without'], 24),
    weights: pick(['marketable', 'all'], 48),
    outside: pick(['counted', 'set left out'], 96),
  })
}

/** Signs in one time after another until something else is over. */
async function whileAsked(on: Run, email: string, other: Promise<unknown>): Promise<Asked> {
  const took: Asked = { page: [], password: [] }
  let over = false
  void other.finally(() => (over = true))
  while (!over) {
    const visitor = new Visitor(on.base)
    const began = performance.now()
    const page = await visitor.get('/sign-in')
    const shown = performance.now()
    const answer = await visitor.post('/sign-in', { email, password: 'long enough to keep' })
    took.page.push(shown - began)
    took.password.push(performance.now() - shown)
    if (page.status !== 200 || answer.status !== 303) throw new Error(`Signing in: ${page.status}, ${answer.status}`)
    await wait(20)
  }
  return took
}
