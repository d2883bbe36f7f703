import type { FastifyInstance, FastifyRequest } from 'fastify'
import { Problem } from './problem.ts'

declare module 'fastify' {
  interface FastifyContextConfig {
    /** Takes long to make: only a few at one moment, the others wait for their turn. */
    costly?: boolean
  }
}

interface Waiting {
  readonly group: string
  readonly go: () => void
}

/**
 * Lets a few costly pages be made at one moment. Whoever waits holds no connection of the database, so that everybody
 * else is answered between two of them; the groups take turns, and of one group only so many wait.
 */
export class Turns {
  private readonly queue: Waiting[] = []
  private readonly most: number
  private readonly mostOfGroup: number
  private running = 0
  private lastGroup = ''

  constructor(most: number, mostOfGroup: number) {
    this.most = most
    this.mostOfGroup = mostOfGroup
  }

  /** Waits for a turn; null where too many of the group wait already. Gives how to end it, once. */
  async take(group: string): Promise<(() => void) | null> {
    if (this.running >= this.most) {
      if (this.queue.filter((one) => one.group === group).length >= this.mostOfGroup) return null
      await new Promise<void>((go) => this.queue.push({ group, go }))
    } else this.running += 1
    let isOver = false
    return () => {
      if (isOver) return
      isOver = true
      // Between two of them everything else has its moment.
      setImmediate(() => this.next())
    }
  }

  private next(): void {
    const other = this.queue.findIndex((one) => one.group !== this.lastGroup)
    const [one] = this.queue.splice(Math.max(0, other), 1)
    if (one === undefined) {
      this.running -= 1
      return
    }
    this.lastGroup = one.group
    one.go()
  }
}

/** After the guard: whoever may not open a page takes no turn. */
export function takeTurns(app: FastifyInstance, groupOf: (request: FastifyRequest) => string): void {
  const turns = new Turns(app.quotas.costly, app.quotas.waiting)
  const ends = new WeakMap<FastifyRequest, () => void>()
  app.addHook('preHandler', async (request, reply) => {
    if (!request.routeOptions.config.costly) return
    const end = await turns.take(groupOf(request))
    if (end === null) throw new Problem('too-often')
    // Whoever has gone meanwhile takes none.
    if (reply.raw.destroyed) return end()
    ends.set(request, end)
    reply.raw.once('close', end)
  })
  // Once it is made the next may begin: whoever does not read what was sent to them holds nobody up.
  app.addHook('onSend', async (request) => ends.get(request)?.())
}
