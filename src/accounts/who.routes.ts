import type { FastifyInstance } from 'fastify'
import type { Database } from '../db/database.ts'
import { groupsOf } from './members.queries.ts'

/** For what waited on a device for a signal: who is signed in, a fresh token for its form, and where the weeks are. */
export function whoRoutes(app: FastifyInstance, database: Database): void {
  app.get('/who', { config: { access: 'public' } }, (request, reply) =>
    reply.header('cache-control', 'no-store').send({ person: request.person?.id ?? null, token: reply.formToken() }),
  )

  app.get('/week', { config: { access: 'person' } }, async (request, reply) => {
    const groups = request.person ? await groupsOf(database, request.person.id) : []
    const [only] = groups
    return reply.redirect(only && groups.length === 1 ? `/g/${only.slug}/weeks` : '/', 303)
  })
}
