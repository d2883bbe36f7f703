import type { FastifyInstance, FastifyRequest } from 'fastify'
import type { Database, Tx } from '../db/database.ts'
import { type Replica, readingEither } from '../db/replica.ts'
import { asMember } from '../db/transaction.ts'
import type { Access } from '../web/access.ts'
import { personCookie, personCookieOptions, sessionCookieOf } from '../web/cookies.ts'
import { notFound, Problem } from '../web/problem.ts'
import { addressPart } from '../web/query-of.ts'
import { readingIn } from '../web/reading-in.ts'
import type { Kept } from './kept.ts'
import { type CountedMember, demoVisitor, groupsOf, type MemberOfGroup, type Person } from './members.queries.ts'
import { mayOpen, type Role } from './role.ts'
import { changesCounted, type Saved, savedBy } from './saved.queries.ts'
import { whoAsks } from './sessions.queries.ts'

declare module 'fastify' {
  interface FastifyContextConfig {
    /** What is read of one moment may come from a replica, where that has all that was written. */
    fromReplica?: boolean
  }
  interface FastifyRequest {
    person: Person | null
    /** Whether more than a password was shown in the session that asks. */
    factorShown: boolean
    /** Of a person's first group on a page outside of any, or of one that asks for more first; null elsewhere. */
    locale: string | null
    member: MemberOfGroup
    /** How many changes the group's history held when the guard looked; null outside of one. */
    changes: number | null
    read<T>(work: (tx: Tx) => Promise<T>): Promise<T>
    /**
     * As `read`, of one moment: for what is read in pages. Where the route says `fromReplica`, it may be the replica
     * that is read, so what no history counts (names of people, openings of a link) is not asked for here.
     */
    readAtOnce<T>(work: (tx: Tx) => Promise<T>): Promise<T>
    write<T>(work: (tx: Tx) => Promise<T>, reason?: string): Promise<T>
    /** What was made of records, for as long as nothing is written. */
    kept: Kept
    /** The numbers that the last write of this request has in the group's history, and the tables it touched. */
    saved: Saved | null
  }
}

interface GuardOptions {
  readonly demo: boolean
  readonly secureCookies: boolean
  readonly kept: Kept
  readonly replica: Replica | null
}

/** Finds the person of the session and, under /g/:group, what they are there: not theirs and not there are one 404. */
export function addGuard(
  app: FastifyInstance,
  database: Database,
  { demo, secureCookies, kept, replica }: GuardOptions,
): void {
  app.decorateRequest('person', null)
  app.decorateRequest('factorShown', false)
  app.decorateRequest('locale', null)
  app.decorateRequest('changes', null)
  app.decorateRequest('member', null as unknown as MemberOfGroup)
  app.decorateRequest('read', function read<T>(this: FastifyRequest, work: (tx: Tx) => Promise<T>) {
    return asMember(database, { ...whoOf(this), readOnly: true }, work)
  })
  app.decorateRequest('readAtOnce', function readAtOnce<T>(this: FastifyRequest, work: (tx: Tx) => Promise<T>) {
    const who = { ...whoOf(this), readOnly: true, snapshot: true } as const
    const there = this.routeOptions.config.fromReplica ? replica : null
    return readingEither({ primary: database, replica: there, who, counted: changesCounted }, work)
  })
  app.decorateRequest('saved', null)
  app.decorateRequest('kept', { getter: () => kept })
  app.decorateRequest('write', function write<T>(this: FastifyRequest, work: (tx: Tx) => Promise<T>, reason?: string) {
    return asMember(database, { ...whoOf(this), reason }, work, async (tx) => {
      this.saved = await savedBy(tx, this.member.group.id)
    })
  })
  const sessionCookie = sessionCookieOf(secureCookies)
  app.addHook('preHandler', async (request, reply) => {
    const { access, forNobody } = request.routeOptions.config
    if (forNobody) return
    const token = request.cookies[sessionCookie]
    const slug = access && access !== 'public' && access !== 'person' ? addressPart(request, 'group') : null
    const asks = token ? await whoAsks(database, token, slug) : null
    request.person = asks?.person ?? null
    request.factorShown = asks?.factorShown ?? false
    // What a person sees is kept by no browser and no proxy: the next at the same machine is another.
    if (request.person) void reply.header('cache-control', 'no-store')
    if (request.person && request.cookies[personCookie] !== request.person.id)
      void reply.setCookie(personCookie, request.person.id, personCookieOptions(secureCookies))
    if (!access || access === 'public') return
    if (access !== 'person') {
      const own = asks?.member ? { ...asks.member, changes: asks.changes } : null
      return admit(database, request, { access, demo, own, owed: asks?.factorOwed ?? false })
    }
    if (!request.person) throw new Problem('sign-in-first')
    request.locale = (await groupsOf(database, request.person.id))[0]?.locale ?? null
  })
  // By callback: what an async hook sets ends with the hook.
  app.addHook('preHandler', (request, _reply, done) => {
    const locale = request.member?.group.locale ?? request.locale
    if (locale === null) done()
    else readingIn(locale, done)
  })
}

interface Asked {
  readonly access: Access & Role
  readonly demo: boolean
  readonly own: CountedMember | null
  /** Whether the group asks for more than a password, and none was shown. */
  readonly owed: boolean
}

/** Whoever is no member of the demo group reads it as a visitor: a reader who is nobody, and may change nothing. */
async function admit(database: Database, request: FastifyRequest, { access, demo, own, owed }: Asked): Promise<void> {
  if (own && owed) {
    request.locale = own.group.locale
    throw new Problem('factor-first')
  }
  const member = own ?? (demo ? await demoVisitor(database, addressPart(request, 'group')) : null)
  if (!member) throw request.person ? notFound() : new Problem('sign-in-first')
  const { changes, ...itself } = member
  request.member = itself
  request.changes = changes
  if (mayOpen(member.role, access)) return
  if (member.visiting) throw new Problem('only-looking')
  throw new Problem(access === 'keeper' ? 'keepers-only' : 'recorders-only')
}

const whoOf = (request: FastifyRequest) => ({ personId: request.member.personId, groupId: request.member.group.id })
