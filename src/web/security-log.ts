import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify'

/** What is noted of who comes and goes, and of what leaves the house. */
type SecurityEvent =
  | 'signing up'
  | 'signing in'
  | 'signing out'
  | 'one-time code'
  | 'second factor'
  | 'passkey'
  | 'password'
  | 'address'
  | 'sessions'
  | 'account deleted'
  | 'invitation'
  | 'role'
  | 'taken out'
  | 'left'
  | 'group ending'
  | 'export'
  | 'brought in'
  | 'link'
  | 'passphrase'
  | 'names'
  | 'refused'

/** The event of a route; a test asks for a line for each that changes who may come in, and for what goes out whole. */
export const securityEvents: Readonly<Record<string, SecurityEvent>> = {
  'POST /sign-up': 'signing up',
  'POST /sign-in': 'signing in',
  'POST /sign-in/code': 'one-time code',
  'POST /sign-out': 'signing out',
  'POST /sign-in/passkey/asked': 'passkey',
  'POST /sign-in/passkey': 'signing in',
  'POST /account/present/asked': 'passkey',
  'POST /account/present': 'passkey',
  'POST /account/passkeys/asked': 'passkey',
  'POST /account/passkeys': 'passkey',
  'POST /account/passkeys/name': 'passkey',
  'POST /account/passkeys/removal': 'passkey',
  'POST /account/passkeys/alone': 'password',
  'POST /forgotten': 'password',
  'POST /reset/:token': 'password',
  'POST /account/name': 'names',
  'POST /account/address': 'address',
  'POST /account/password': 'password',
  'POST /account/sessions': 'sessions',
  'POST /account/deletion': 'account deleted',
  'POST /account/codes': 'one-time code',
  'POST /account/codes/confirm': 'one-time code',
  'POST /account/codes/end': 'one-time code',
  'POST /account/proof': 'one-time code',
  'POST /g/:group/people/second-factor': 'second factor',
  'POST /invitations/:token': 'invitation',
  'POST /g/:group/people/invitations': 'invitation',
  'POST /g/:group/people/invitations/:invitation/end': 'invitation',
  'POST /g/:group/people/:person/role': 'role',
  'POST /g/:group/people/:person/removal': 'taken out',
  'POST /g/:group/people/leave': 'left',
  'POST /g/:group/ending': 'group ending',
  'POST /g/:group/ending/called-back': 'group ending',
  'POST /g/:group/people/awaited/:awaited': 'invitation',
  'POST /g/:group/exchange/key': 'brought in',
  'GET /g/:group/exchange/export.zip': 'export',
  'POST /groups/bring-back': 'brought in',
  'POST /g/:group/reports/:report/links': 'link',
  'POST /g/:group/reports/:report/links/:link/revoke': 'link',
  'POST /g/:group/reports/names': 'names',
  'POST /r/:token': 'passphrase',
}

/** What is refused for want of a right or for too many tries is noted wherever it is. */
const refusals = [403, 429]

declare module 'fastify' {
  interface FastifyRequest {
    /** Who came in by this request: it had nobody when it began. */
    cameIn?: string
  }
}

/**
 * A line for each event, when it is answered: what was asked for, how it ended, and of whom and which group by their
 * numbers alone. No address, no name, no place and nothing that was typed stands in it.
 */
export function keepSecurityLog(app: FastifyInstance): void {
  // At the end of the connection's part, not of the answer's: whoever hangs up at the last byte took the export too.
  app.addHook('onRequest', async (request, reply) => {
    reply.raw.once('close', () => note(request, reply))
  })
}

function note(request: FastifyRequest, reply: FastifyReply): void {
  const event = eventOf(request, reply)
  if (event === null) return
  request.log.info(
    {
      event,
      done: reply.statusCode < 400,
      status: reply.statusCode,
      person: request.person?.id ?? request.cameIn ?? null,
      group: request.member?.group.id ?? null,
    },
    'security',
  )
}

function eventOf({ method, routeOptions }: FastifyRequest, { statusCode }: FastifyReply): SecurityEvent | null {
  const event = securityEvents[`${method} ${routeOptions.url}`]
  return event ?? (refusals.includes(statusCode) ? 'refused' : null)
}
