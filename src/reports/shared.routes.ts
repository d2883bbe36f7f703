import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify'
import { mayTry } from '../accounts/sessions.queries.ts'
import type { Database } from '../db/database.ts'
import { asMember } from '../db/transaction.ts'
import { dayIn } from '../quantities/dates.ts'
import { readForm, refuseForm } from '../web/form.ts'
import { notFound, Problem } from '../web/problem.ts'
import { catalogue } from '../words/catalogue.ts'
import { wordsFor } from '../words/locales.ts'
import { figureFiles } from './figure-files.routes.ts'
import { addOpenings, isPassphrase, type OpenLink, openLink } from './links.queries.ts'
import { namesAgreed } from './names.queries.ts'
import { pageOf, standing } from './one-report.routes.ts'
import { openings } from './openings.ts'
import { passFor, passIsGood, passMinutes } from './pass.queries.ts'
import { passphraseForm } from './report.form.ts'
import type { Edition } from './report.page.ts'
import { changeNumber, editionsOf, reportOf } from './reports.queries.ts'
import { rowTableNames } from './row-tables.ts'
import { together } from './together.ts'

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

  const behind = together((key) => behindLink(database, JSON.parse(key) as Asked))

  /** Only tokens that lead nowhere are counted as tries: a whole hall may open one link from one address. */
  const asked = async (plain: FastifyRequest, reply: FastifyReply): Promise<Behind> => {
    const request = plain as TokenRequest
    reply.header('referrer-policy', 'no-referrer').header('x-robots-tag', 'noindex, nofollow')
    reply.header('cache-control', 'private, no-store')
    const found = await behind(JSON.stringify([request.params.token, String(request.query.edition ?? '')]))
    if (found) return found
    if (!(await mayTry(database, `unknown link ${request.ip}`, mostUnknown))) throw new Problem('too-often')
    throw notFound()
  }
  const mayRead = (request: FastifyRequest, { id, passphraseHash }: OpenLink) =>
    passphraseHash === null || passIsGood(request.cookies[passCookie], { id, key: passphraseHash }, Date.now())

  const showLocked = (reply: FastifyReply, { group }: OpenLink, errors: Record<string, string>, status: number) => {
    // The form below must be able to say where it comes from; other sites are still told nothing.
    reply.header('referrer-policy', 'same-origin')
    const options = {
      title: words.locked.title,
      bare: true,
      locale: group.locale,
      about: wordsFor(group.locale).reports.aboutLocked,
      status,
    }
    return reply.page('reports/locked', { errors }, options)
  }

  app.get('/r/:token', { config: { access: 'public' } }, async (plain, reply) => {
    const request = plain as TokenRequest
    const found = await asked(request, reply)
    const { link } = found
    if (!mayRead(request, link)) return showLocked(reply, link, {}, 200)
    editionIn(request, found)
    opened.count({ groupId: link.group.id, linkId: link.id, day: found.today })
    const keepAs = `${request.protocol}://${request.host}${request.url} ${found.madeOf}`
    return reply.kept(keepAs) ?? showReport(request, reply, found, keepAs)
  })

  app.post('/r/:token', { config: { access: 'public', withoutCookie: true } }, async (plain, reply) => {
    const request = plain as TokenRequest
    const { link } = await asked(request, reply)
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

  figureFiles(app, '/r/:token', 'public', async (request, reply) => {
    const found = await asked(request, reply)
    if (!mayRead(request, found.link)) throw notFound()
    return standingOf(request, editionIn(request, found).id)
  })
}

type Asked = readonly [token: string, edition: string]

/** The link of a token, the finished editions it leads to, and the names that may stand on them. */
async function behindLink(database: Database, [token, edition]: Asked) {
  const link = await openLink(database, token)
  if (!link) return undefined
  const groupId = link.group.id
  return asMember(database, { personId: null, groupId, readOnly: true }, async (tx) => {
    const editions = await editionsOf(tx, groupId, link.reportId)
    const finished = editions.filter((one) => one.state !== 'draft')
    const wanted = edition === '' ? finished.at(-1) : finished.find((one) => String(one.edition) === edition)
    const changes = wanted?.state === 'live' ? await changeNumber(tx, groupId) : null
    const names = await namesAgreed(tx, groupId)
    const today = dayIn(link.group.timeZone, new Date())
    return { link, finished, wanted, names, today, madeOf: madeOf({ link, finished, wanted, changes, names, today }) }
  })
}

interface Made {
  readonly link: OpenLink
  readonly finished: readonly { readonly id: string; readonly version: number; readonly state: string }[]
  readonly wanted: { readonly id: string } | undefined
  readonly changes: number | null
  readonly names: readonly string[]
  readonly today: string
}

/** All that a rendered page is made of, so that one kept under the same name is the same page. */
function madeOf({ link, finished, wanted, changes, names, today }: Made): string {
  const { name, locale } = link.group
  const editions = finished.map(({ id, version, state }) => [id, version, state])
  return JSON.stringify([wanted?.id, editions, changes === null ? null : [changes, today], names, name, locale])
}

type Behind = NonNullable<Awaited<ReturnType<typeof behindLink>>>

/** The edition that the address asks for, else the latest finished one; from here the request reads that group as a guest. */
function editionIn(request: FastifyRequest, { link, wanted }: Behind): Edition {
  if (!wanted) throw notFound()
  request.member = { personId: null, role: 'reader', group: link.group, visiting: true }
  return wanted
}

async function standingOf(request: FastifyRequest, id: string) {
  const report = await request.read((tx) => reportOf(tx, request.member.group.id, id))
  if (!report) throw notFound()
  return standing(request, report)
}

async function showReport(request: TokenRequest, reply: FastifyReply, behind: Behind, keepAs: string) {
  const { finished, names } = behind
  const asked = editionIn(request, behind)
  const report = await standingOf(request, asked.id)
  const { group } = request.member
  const base = `/r/${request.params.token}`
  const addressOf = (one: Edition) => (one === finished.at(-1) ? base : `${base}?edition=${one.edition}`)
  const page = await pageOf(request, report, { editions: finished, addressOf, names })
  const query = asked === finished.at(-1) ? '' : `?edition=${asked.edition}`
  const printed = `${request.protocol}://${request.host}${base}${query}`
  const files = { base, query, rows: report.rows ? rowTableNames : null, printed }
  const { locale, seasons = [] } = report.contents
  const about = wordsFor(locale).reports.about(group.name, seasons.join(', '))
  const options = { title: report.title, bare: true, locale, about, keepAs }
  return reply.page('reports/report', { ...page, mine: null, files }, options)
}
