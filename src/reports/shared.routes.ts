import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify'
import { placeOf } from '../accounts/place.ts'
import { giveBackTry, mayTry } from '../accounts/sessions.queries.ts'
import type { Database } from '../db/database.ts'
import { asMember } from '../db/transaction.ts'
import { sent } from '../lookups/unsaid.ts'
import { readForm, refuseForm } from '../web/form.ts'
import { notFound, Problem } from '../web/problem.ts'
import { readingIn } from '../web/reading-in.ts'
import { squareCode } from '../web/square-code.ts'
import { wordsFor } from '../words/locales.ts'
import { type Asked, type Behind, behindLink, editionIn, keptFigures } from './behind-link.routes.ts'
import { figureFiles } from './figure-files.routes.ts'
import { figureTableNames } from './figure-tables.ts'
import { addOpenings, isPassphrase, type OpenLink } from './links.queries.ts'
import { pageOf, type ReportStanding } from './one-report.routes.ts'
import { openings } from './openings.ts'
import { passFor, passIsGood, passMinutes } from './pass.queries.ts'
import { passphraseForm } from './report.form.ts'
import type { Edition } from './report.page.ts'
import { rowTablesIn } from './row-tables.ts'
import { together } from './together.ts'

const mostUnknown = 60
const mostTries = { ofOneAddress: 10, ofOneLink: 600 }
const passCookie = 'evenground-report'

export interface SharingOptions {
  readonly secureCookies: boolean
  /** The kept files of the script in R that counts a report's figures again. */
  readonly scriptParts: readonly string[]
}

interface TokenRoute {
  Params: { token: string }
  Querystring: { edition?: string }
}
type TokenRequest = FastifyRequest<TokenRoute>

/** What a guest sees who was sent a link: one report, read-only, without an account. */
export function sharedRoutes(app: FastifyInstance, database: Database, options: SharingOptions): void {
  const { secureCookies, scriptParts } = options
  const opened = openings((groupId, counted) =>
    asMember(database, { personId: null, groupId }, (tx) => addOpenings(tx, groupId, counted)),
  )
  app.addHook('onClose', () => opened.write())

  const figures = keptFigures()
  const behind = together((key) => behindLink(database, JSON.parse(key) as Asked))

  /** Only tokens that lead nowhere are counted as tries: a whole hall may open one link from one address. */
  const asked = async (plain: FastifyRequest, reply: FastifyReply): Promise<Behind> => {
    const request = plain as TokenRequest
    reply.header('referrer-policy', 'no-referrer').header('x-robots-tag', 'noindex, nofollow')
    reply.header('cache-control', 'private, no-store')
    const found = await behind(JSON.stringify([request.params.token, sent(request.query.edition)]))
    if (found) return found
    if (!(await mayTry(database, `unknown link ${placeOf(request.ip)}`, mostUnknown))) throw new Problem('too-often')
    throw notFound()
  }
  const mayRead = (request: FastifyRequest, { id, passphraseHash }: OpenLink) =>
    passphraseHash === null || passIsGood(request.cookies[passCookie], { id, key: passphraseHash }, Date.now())

  const showLocked = (reply: FastifyReply, { group }: OpenLink, errors: Record<string, string>, status: number) => {
    // The form below must be able to say where it comes from; other sites are still told nothing.
    reply.header('referrer-policy', 'same-origin')
    const options = {
      title: wordsFor(group.locale).reports.locked.title,
      bare: true,
      locale: group.locale,
      about: wordsFor(group.locale).reports.aboutLocked,
      status,
    }
    return reply.page('reports/locked', { errors }, options)
  }

  app.get<TokenRoute>('/r/:token', { config: { access: 'public', fromReplica: true } }, async (request, reply) => {
    const found = await asked(request, reply)
    const { link } = found
    if (!mayRead(request, link)) return showLocked(reply, link, {}, 200)
    editionIn(request, found)
    // Whoever asks for the head alone reads nothing.
    if (request.method === 'GET') opened.count({ groupId: link.group.id, linkId: link.id, day: found.today })
    const { protocol, host, params, query } = request
    const keepAs = `${protocol}://${host}/r/${params.token} ${query.edition} ${found.madeOf}`
    return reply.kept(keepAs) ?? showReport(request, reply, found, { keepAs, report: await figures(request, found) })
  })

  app.post<TokenRoute>('/r/:token', { config: { access: 'public', withoutCookie: true } }, async (request, reply) => {
    const { link } = await asked(request, reply)
    const base = `/r/${request.params.token}`
    if (link.passphraseHash === null) return reply.redirect(base, 303)
    const tries = [
      [`passphrase ${link.id} ${placeOf(request.ip)}`, mostTries.ofOneAddress],
      [`passphrase ${link.id}`, mostTries.ofOneLink],
    ] as const
    for (const [key, most] of tries) if (!(await mayTry(database, key, most))) throw new Problem('too-often')
    const { locale } = link.group
    const form = readingIn(locale, () => readForm(passphraseForm, request.body))
    const right = form.kind === 'answer' && (await isPassphrase(link.passphraseHash, form.value.passphrase))
    // A hall opens one link from one address: a right try is given back.
    if (right) for (const [key] of tries) await giveBackTry(database, key)
    else {
      const refused =
        form.kind === 'refused' ? form : refuseForm({}, { passphrase: wordsFor(locale).reports.locked.wrong })
      return showLocked(reply, link, refused.errors, 422)
    }
    const pass = passFor({ id: link.id, key: link.passphraseHash }, Date.now())
    for (const path of [base, `${base}.json`, `${base}.csv`]) {
      const options = {
        path,
        httpOnly: true,
        sameSite: 'lax',
        secure: secureCookies,
        maxAge: passMinutes * 60,
      } as const
      reply.setCookie(passCookie, pass, options)
    }
    return reply.redirect(base, 303)
  })

  // For a meeting: the link as a square code, large, with the title alone; nothing of the figures.
  app.get<TokenRoute>('/r/:token/meeting', { config: { access: 'public' } }, async (request, reply) => {
    const { link, finished } = await asked(request, reply)
    const { token } = request.params
    if (!mayRead(request, link)) return reply.redirect(`/r/${token}`, 303)
    const latest = finished.at(-1)
    if (!latest) throw notFound()
    const address = `${request.protocol}://${request.host}/r/${token}`
    const { locale, name } = link.group
    const page = { heading: latest.title, group: name, address, code: squareCode(address), base: `/r/${token}` }
    return reply.page('reports/meeting', page, { title: latest.title, bare: true, locale })
  })

  const find = async (request: FastifyRequest, reply: FastifyReply) => {
    const found = await asked(request, reply)
    if (!mayRead(request, found.link)) throw notFound()
    return figures(request, found)
  }
  figureFiles(app, { address: '/r/:token', access: 'public', scriptParts, find })
}

interface Kept {
  readonly keepAs: string
  readonly report: ReportStanding
}

async function showReport(request: TokenRequest, reply: FastifyReply, behind: Behind, { keepAs, report }: Kept) {
  const { finished, names } = behind
  const asked = editionIn(request, behind)
  const { group } = request.member
  const base = `/r/${request.params.token}`
  const addressOf = (one: Edition) => (one === finished.at(-1) ? base : `${base}?edition=${one.edition}`)
  const page = await pageOf(request, report, { editions: finished, addressOf, names })
  const query = asked === finished.at(-1) ? '' : `?edition=${asked.edition}`
  const printed = `${request.protocol}://${request.host}${base}${query}`
  const tables = figureTableNames(report.contents)
  const files = { base, query, tables, rows: report.rows && rowTablesIn(report.rows), printed }
  const { locale, seasons = [] } = report.contents
  const about = wordsFor(locale).reports.about(group.name, seasons.join(', '))
  const options = { title: report.title, bare: true, scripted: true, locale, about, keepAs }
  return reply.page('reports/report', { ...page, mine: null, files }, options)
}
