import type { FastifyRequest } from 'fastify'
import type { Database } from '../db/database.ts'
import { sent } from '../lookups/unsaid.ts'
import { sessionCookieOf } from '../web/cookies.ts'
import { Problem } from '../web/problem.ts'
import { factorsOf } from './factors.queries.ts'
import type { Person } from './members.queries.ts'
import { presenceOf } from './passkeys.queries.ts'
import { passwordTried } from './passwords.queries.ts'
import { placeOf } from './place.ts'
import { hashOf, mayTry } from './sessions.queries.ts'

/** The token of the session that asks. */
export const tokenOf = (request: FastifyRequest, secureCookies: boolean): string =>
  request.goesOnBy ?? sent(request.cookies[sessionCookieOf(secureCookies)])

/**
 * Asks who is signed in for their password again, unless they have just shown a passkey in this session. Tries are
 * counted by session, so that whoever has come upon one can neither guess on nor keep its owner from signing in
 * elsewhere.
 */
export const askingPresent =
  (database: Database, secureCookies: boolean) =>
  async (request: FastifyRequest, password: string): Promise<boolean> => {
    const { id, email } = personOf(request)
    const token = tokenOf(request, secureCookies)
    if ((await presenceOf(database, id, token)).isShown) return true
    if (password === '') return false
    const by = `the session ${hashOf(token)}`
    const tried = await passwordTried(database, { email, password, by, known: true })
    if (tried.kind === 'too-often') throw new Problem('too-often')
    return tried.kind === 'right'
  }

/**
 * Asks, before what a person can show is changed, whether what is set up now counts as shown in the session that asks:
 * the first that they have, or one more where another was shown. Whoever has come by a password alone cannot add a
 * second to what its owner has and go by that; where a group asks for more, they change nothing of it at all.
 */
export const askingFirst =
  (database: Database, passkeysShown: boolean) =>
  async (request: FastifyRequest): Promise<boolean> => {
    if (request.factorShown) return true
    const { withCodes, withPasskeys, isAsked } = await factorsOf(database, personOf(request).id, passkeysShown)
    if (!withCodes && !withPasskeys) return true
    if (isAsked) throw new Problem('factor-first')
    return false
  }

/** Whether they have a passkey or codes, and have shown neither in the session that asks. */
export const lackingFactor =
  (database: Database, passkeysShown: boolean) =>
  async (request: FastifyRequest): Promise<boolean> => {
    if (request.factorShown) return false
    const { withCodes, withPasskeys } = await factorsOf(database, personOf(request).id, passkeysShown)
    return withCodes || withPasskeys
  }

/** Codes that are tried for a person in an hour, from one place and from everywhere. */
const [mostHere, mostOfAll] = [10, 100]

/** Counts a code that is tried; too many are not looked at. */
export async function countCode(database: Database, { ip }: FastifyRequest, personId: string): Promise<void> {
  const here = await mayTry(database, `code ${personId} ${placeOf(ip)}`, mostHere, 60)
  if (!here || !(await mayTry(database, `code ${personId}`, mostOfAll, 60))) throw new Problem('too-often')
}

/** Whom the guard has let in. */
export function personOf({ person }: FastifyRequest): Person {
  if (!person) throw new Problem('sign-in-first')
  return person
}
