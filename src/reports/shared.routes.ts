import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify'
import { mayTry } from '../accounts/sessions.queries.ts'
import type { Database } from '../db/database.ts'
import { asMember } from '../db/transaction.ts'
import { dayIn } from '../quantities/dates.ts'
import { readForm, refuseForm } from '../web/form.ts'
import { notFound, Problem } from '../web/problem.ts'
import { catalogue } from '../words/catalogue.ts'
import { figureFiles } from './figure-files.routes.ts'
import { addOpenings, isPassphrase, type OpenLink, openLink } from './links.queries.ts'
import { pageOf, standing } from './one-report.routes.ts'
import { openings } from './openings.ts'
import { passFor, passIsGood, passMinutes } from './pass.queries.ts'
import { passphraseForm } from './report.form.ts'
import { editionsOf, reportOf } from './reports.queries.ts'
import { rowTableNames } from './row-tables.ts'

const words = catalogue.reports
const mostUnknown = 60
const mostTries = { ofOneAddress: 10, ofOneLink: 60 }
const passCookie = 'evenground-report'

export interface SharingOptions {
  readonly secureCookies: boolean
}

type TokenRequest = FastifyRequest<{ Params: { token: string }; Querystring: { edition?: string } }>

/** What a guest sees who was sent a link: one report, read-only, without an account. */
export function sharedRoutes(app: FastifyInstance, database: Database, { secureCookies }: SharingOptions): void {
  const opened = openings((groupId, counted) =>
    asMember(database, { personId: null, groupId }, (tx) => addOpenings(tx, groupId, counted)),
  )
  app.addHook('onClose', () => opened.write())

  /** Only tokens that lead nowhere are counted as tries: a whole hall may open one link from one address. */
  const linkAsked = async (request: TokenRequest, reply: FastifyReply): Promise<OpenLink> => {
    reply.header('referrer-policy', 'no-referrer').header('x-robots-tag', 'noindex, nofollow')
    reply.header('cache-control', 'private, no-store')
    const link = await openLink(database, request.params.token)
    if (link) return link
    if (!(await mayTry(database, `unknown link ${request.ip}`, mostUnknown))) throw new Problem('too-often')
    throw notFound()
  }
  const mayRead = (request: FastifyRequest, { id, passphraseHash }: OpenLink) =>
    passphraseHash === null || passIsGood(request.cookies[passCookie], { id, key: passphraseHash }, Date.now())

  const showLocked = (reply: FastifyReply, { group }: OpenLink, errors: Record<string, string>, status: number) => {
    // The form below must be able to say where it comes from; other sites are still told nothing.
    reply.header('referrer-policy', 'same-origin')
    const options = { title: words.locked.title, bare: true, locale: group.locale, about: words.aboutLocked, status }
    return reply.page('reports/locked', { errors }, options)
  }

  app.get('/r/:token', { config: { access: 'public' } }, async (plain, reply) => {
    const request = plain as TokenRequest
    const link = await linkAsked(request, reply)
    if (!mayRead(request, link)) return showLocked(reply, link, {}, 200)
    const found = await reportBehind(request, link)
    const base = `/r/${request.params.token}`
    const page = await pageOf(request, found.report, {
      editions: found.finished,
      addressOf: (one) => (one === found.finished.at(-1) ? base : `${base}?edition=${one.edition}`),
    })
    opened.count({ groupId: link.group.id, linkId: link.id, day: dayIn(link.group.timeZone, new Date()) })
    const printed = `${request.protocol}://${request.host}${base}${found.query}`
    const files = { base, query: found.query, rows: found.report.rows ? rowTableNames : null, printed }
    const about = words.about(link.group.name, found.report.contents.seasons?.join(', ') ?? '')
    const options = { title: found.report.title, bare: true, locale: link.group.locale, about }
    return reply.page('reports/report', { ...page, mine: null, files }, options)
  })

  app.post('/r/:token', { config: { access: 'public', withoutCookie: true } }, async (plain, reply) => {
    const request = plain as TokenRequest
    const link = await linkAsked(request, reply)
    const base = `/r/${request.params.token}`
    if (link.passphraseHash === null) return reply.redirect(base, 303)
    const allowed =
      (await mayTry(database, `passphrase ${link.id} ${request.ip}`, mostTries.ofOneAddress)) &&
      (await mayTry(database, `passphrase ${link.id}`, mostTries.ofOneLink))
    if (!allowed) throw new Problem('too-often')
    const form = readForm(passphraseForm, request.body)
    const right = form.kind === 'answer' && (await isPassphrase(link.passphraseHash, form.value.passphrase))
    if (!right) {
      const refused = form.kind === 'refused' ? form : refuseForm({}, { passphrase: words.locked.wrong })
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

  figureFiles(app, '/r/:token', 'public', async (plain, reply) => {
    const request = plain as TokenRequest
    const link = await linkAsked(request, reply)
    if (!mayRead(request, link)) throw notFound()
    return (await reportBehind(request, link)).report
  })
}

/** The edition that the address asks for, else the latest finished one; from here the request reads that group as a guest. */
async function reportBehind(request: TokenRequest, link: OpenLink) {
  const { group } = link
  request.member = { personId: null, role: 'reader', group, visiting: true }
  const { edition } = request.query
  const found = await request.read(async (tx) => {
    const editions = await editionsOf(tx, group.id, link.reportId)
    const finished = editions.filter((one) => one.state !== 'draft')
    const asked = edition === undefined ? finished.at(-1) : finished.find((one) => String(one.edition) === edition)
    return { finished, report: asked && (await reportOf(tx, group.id, asked.id)) }
  })
  if (!found.report) throw notFound()
  const latest = found.report.id === found.finished.at(-1)?.id
  const query = latest ? '' : `?edition=${found.report.edition}`
  return { finished: found.finished, report: await standing(request, found.report), query }
}
