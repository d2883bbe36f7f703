import type { FastifyError, FastifyInstance, FastifyReply, FastifyRequest } from 'fastify'
import { isAway } from '../db/away.ts'
import { codeOf } from '../db/constraint.ts'
import { wordsFor } from '../words/locales.ts'
import { Problem, type ProblemKind, statusOf } from './problem.ts'

/** The one place where what stopped a request becomes a page. */
export function addProblemPages(app: FastifyInstance): void {
  app.setNotFoundHandler((request, reply) =>
    reply.page('errors/problem', pageOf('not-found'), optionsOf('not-found', request)),
  )
  app.setErrorHandler<FastifyError>((error, request, reply) => {
    const kind = kindOf(error)
    if (statusOf[kind] >= 500) request.log.error({ err: error }, 'failed')
    // Nothing broke, but a page should have said it at its field.
    if (kind === 'against-rules') request.log.warn({ err: error }, 'refused')
    const isReading = ['GET', 'HEAD'].includes(request.method)
    if (kind === 'sign-in-first' && isReading) {
      return reply.redirect(`/sign-in?next=${encodeURIComponent(request.url)}`, 303)
    }
    if (kind === 'factor-first' && isReading) return reply.redirect(proofOf(request.url), 303)
    if (kind === 'away') void reply.header('retry-after', secondsUntilBack)
    if (request.headers.accept === 'application/json') return asJson(request, reply, kind)
    return reply.page('errors/problem', pageOf(kind, request.url), optionsOf(kind, request))
  })
}

/** For a script of ours that sends what waited for a signal: it tells by the kind whether to wait or to show it. */
function asJson(request: FastifyRequest, reply: FastifyReply, kind: ProblemKind) {
  const { heading, say } = wordsFor(request.member?.group.locale ?? request.locale ?? 'en').problem[kind]
  return reply.status(statusOf[kind]).send({ problem: kind, said: `${heading}. ${say}` })
}

/** When to try again while the database is away: it is asked anew at every request. */
const secondsUntilBack = 5

/** An address that cannot even be read is answered before the reply has any page of its own: bare, of nobody. */
export const unreadablePage = (app: FastifyInstance): Promise<string> =>
  app.bareHtml('errors/problem', pageOf('bad-request'), wordsFor('en').problem['bad-request'].heading)

export function answerUnreadable(reply: FastifyReply, html: string): void {
  void reply.status(statusOf['bad-request']).type('text/html; charset=utf-8').send(html)
}

function kindOf(error: FastifyError): ProblemKind {
  if (error instanceof Problem) return error.kind
  if (error.code?.startsWith('FST_CSRF')) return 'foreign-form'
  if (isAway(error)) return 'away'
  const code = codeOf(error)
  if (diskFull.includes(code)) return 'no-room'
  if (namesNothing.includes(code)) return 'not-found'
  if (code.startsWith('22') || refusedByRule.includes(code)) return 'against-rules'
  return error.statusCode && error.statusCode < 500 ? 'bad-request' : 'broken'
}

/**
 * Codes of PostgreSQL (its manual, appendix A). An address that names no id at all, such as /seasons/abc or
 * /seasons/%00, could not be read; a row that is referred to is not there. The rest of class 22 are values that no
 * column holds.
 */
const namesNothing = ['22P02', '22021', '23503']
/** Of the database, and of the system. */
const diskFull = ['53100', 'ENOSPC']
/** A row that must be the only one; a check. */
const refusedByRule = ['23505', '23514']

/** Where more than a password is shown, and what is gone on with then. */
const proofOf = (next: string) => `/account/proof?next=${encodeURIComponent(next)}`

/** A form that was not taken has no address to come back to: its group has. */
const pageOf = (kind: ProblemKind, url = '') => ({
  kind,
  proof: kind === 'factor-first' ? proofOf(/^\/g\/[\w-]+/.exec(url)?.[0] ?? '/account') : null,
})
/** A guest who follows a share link is given no cookie, not even beside a refusal. */
function optionsOf(kind: ProblemKind, { url, member, locale: own }: Pick<FastifyRequest, 'url' | 'member' | 'locale'>) {
  const bare = url.startsWith('/r/')
  const locale = (bare ? null : (member?.group.locale ?? own)) ?? 'en'
  return { status: statusOf[kind], title: wordsFor(locale).problem[kind].heading, bare, locale }
}
