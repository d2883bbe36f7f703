import type { FastifyInstance, FastifyRequest } from 'fastify'
import type { Database, Tx } from '../db/database.ts'
import { asMember } from '../db/transaction.ts'
import type { Access } from '../web/access.ts'
import { notFound, Problem } from '../web/problem.ts'
import { type MemberOfGroup, memberOf, type Person } from './members.queries.ts'
import { mayOpen, type Role } from './role.ts'
import { personOfSession } from './sessions.queries.ts'

export const sessionCookie = 'evenground'

declare module 'fastify' {
  interface FastifyRequest {
    person: Person | null
    member: MemberOfGroup
    read<T>(work: (tx: Tx) => Promise<T>): Promise<T>
    write<T>(work: (tx: Tx) => Promise<T>, reason?: string): Promise<T>
  }
}

/** Finds the person of the session and, under /g/:group, what they are there: not theirs and not there are one 404. */
export function addGuard(app: FastifyInstance, database: Database): void {
  app.decorateRequest('person', null)
  app.decorateRequest('member', null as unknown as MemberOfGroup)
  app.decorateRequest('read', function read<T>(this: FastifyRequest, work: (tx: Tx) => Promise<T>) {
    return asMember(database, { ...whoOf(this), readOnly: true }, work)
  })
  app.decorateRequest('write', function write<T>(this: FastifyRequest, work: (tx: Tx) => Promise<T>, reason?: string) {
    return asMember(database, { ...whoOf(this), reason }, work)
  })
  app.addHook('preHandler', async (request) => {
    const access = request.routeOptions.config.access
    const token = request.cookies[sessionCookie]
    if (token) request.person = await personOfSession(database, token)
    if (!access || access === 'public') return
    if (!request.person) throw new Problem('sign-in-first')
    if (access !== 'person') await admit(database, request, access)
  })
}

async function admit(database: Database, request: FastifyRequest, access: Access & Role): Promise<void> {
  const { group } = request.params as { group: string }
  const member = request.person && (await memberOf(database, request.person.id, group))
  if (!member) throw notFound()
  request.member = member
  if (!mayOpen(member.role, access)) throw new Problem(access === 'keeper' ? 'keepers-only' : 'recorders-only')
}

const whoOf = (request: FastifyRequest) => ({ personId: request.member.personId, groupId: request.member.group.id })
