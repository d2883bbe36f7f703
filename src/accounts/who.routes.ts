import type { FastifyInstance } from 'fastify'
import type { Database } from '../db/database.ts'
import { groupsOf } from './members.queries.ts'

/** For what a device keeps: who is signed in and in which groups, a token for what waits, and where the weeks are. */
export function whoRoutes(app: FastifyInstance, database: Database): void {
  app.get('/who', { config: { access: 'public' } }, async (request, reply) => {
    const groups = request.person ? await groupsOf(database, request.person.id) : []
    // A group that asks for more than was shown is as closed as one they are not in: what a device keeps of it goes.
    const open = groups.filter(({ asksFactor }) => request.factorShown || asksFactor === 0)
    const said = { person: request.person?.id ?? null, groups: open.map((one) => one.slug), token: reply.formToken() }
    return reply.header('cache-control', 'no-store').send(said)
  })

  app.get('/week', { config: { access: 'person' } }, async (request, reply) => {
    const groups = request.person ? await groupsOf(database, request.person.id) : []
    const [only] = groups
    return reply.redirect(only && groups.length === 1 ? `/g/${only.slug}/weeks` : '/', 303)
  })
}
