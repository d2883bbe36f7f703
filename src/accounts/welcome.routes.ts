import type { FastifyReply, FastifyRequest } from 'fastify'
import type { Database } from '../db/database.ts'
import { asShown, sent } from '../lookups/unsaid.ts'
import { personCookie, personCookieOptions, sessionCookieOf } from '../web/cookies.ts'
import { browserOf } from './browser.ts'
import { markFactorShown } from './factors.queries.ts'
import { lettersFor } from './letters.queries.ts'
import { markOf } from './passwords.queries.ts'
import { tokenOf } from './present-password.routes.ts'
import { openSession } from './sessions.queries.ts'

/** Marks a browser that was signed in before. */
export const markCookie = 'evenground-known'

interface Welcomed {
  readonly personId: string
  readonly email: string
  /** Whether more than a password was shown. */
  readonly factorShown: boolean
  readonly to: string
  readonly notice?: string
}

/** Answers whoever has shown who they are: with a session of their own in place of the one that this browser had. */
export const welcoming =
  (database: Database, secureCookies: boolean) =>
  async (request: FastifyRequest, reply: FastifyReply, welcomed: Welcomed) => {
    const { personId, email, factorShown, to, notice } = welcomed
    request.cameIn = personId
    const sessionCookie = sessionCookieOf(secureCookies)
    const browser = browserOf(sent(request.headers['user-agent']))
    const replaces = request.cookies[sessionCookie]
    const token = await openSession(database, { personId, replaces, browser, factorShown })
    const mark = asShown(await markOf(database, email))
    const options = optionsOf(secureCookies)
    void reply.setCookie(markCookie, mark, { ...options, path: '/sign-in', maxAge: 400 * 86_400 })
    void reply.setCookie(personCookie, personId, personCookieOptions(secureCookies))
    void reply.setCookie(sessionCookie, token, { ...options, maxAge: daysKept * 86_400 })
    // Whoever goes on with what they were doing is not kept from it: what waits is for who comes in.
    const waits = notice === undefined && (await lettersFor(database, personId)).length > 0
    return reply.backTo(waits ? `/letters?next=${encodeURIComponent(to)}` : to, notice)
  }

const optionsOf = (secure: boolean) => ({ path: '/', httpOnly: true, sameSite: 'lax', secure }) as const
const daysKept = 60

/** Notes that more than a password was shown in this session, and hands it on under a token of its own. */
export const raising =
  (database: Database, secureCookies: boolean) =>
  async (request: FastifyRequest, reply: FastifyReply): Promise<void> => {
    const token = await markFactorShown(database, tokenOf(request, secureCookies))
    const options = { ...optionsOf(secureCookies), maxAge: daysKept * 86_400 }
    void reply.setCookie(sessionCookieOf(secureCookies), token, options)
    request.goesOnBy = token
  }
