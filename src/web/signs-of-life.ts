import type { FastifyInstance } from 'fastify'
import type { Database } from '../db/database.ts'
import { migratedTo } from '../db/migrating.ts'

/**
 * For whoever watches the service: `/health` says that the process lives and asks nothing; `/ready` asks the database,
 * and whether it stands where this release left it (`schema`).
 */
export function addSignsOfLife(app: FastifyInstance, database: Database, schema: number): void {
  const config = { access: 'public', forNobody: true } as const
  app.get('/health', { config }, () => ({ alive: true }))
  app.get('/ready', { config }, async (request, reply) => {
    const why = await standsAt(database).then(
      (at) => (at === schema ? null : 'schema'),
      (error: unknown) => {
        request.log.error({ err: error }, 'failed')
        return 'database'
      },
    )
    return reply
      .status(why === null ? 200 : 503)
      .header('cache-control', 'no-store')
      .send(why === null ? { ready: true } : { ready: false, why })
  })
}

const standsAt = (database: Database) => database.transaction((tx) => migratedTo(tx), { accessMode: 'read only' })
