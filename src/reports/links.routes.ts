import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify'
import { z } from 'zod'
import type { Tx } from '../db/database.ts'
import type { Author } from '../gardens/gardens.queries.ts'
import { dayIn } from '../quantities/dates.ts'
import { formatDay, formatNumber } from '../quantities/formatting.ts'
import { type RefusedForm, readForm } from '../web/form.ts'
import { notFound } from '../web/problem.ts'
import { wordsHere } from '../web/words-here.ts'
import { figureTableNames } from './figure-tables.ts'
import { formPage } from './form-page.routes.ts'
import { addLink, linksOf, linksOpen, openingsOf, revokeLink } from './links.queries.ts'
import { pageOf, standing } from './one-report.routes.ts'
import { linkForm } from './report.form.ts'
import { editionsOf, firstEditionOf, type Report, reportOf } from './reports.queries.ts'
import { rowTablesIn } from './row-tables.ts'

const words = () => wordsHere().reports
interface ReportRoute {
  Params: { report: string }
}
type ReportRequest = FastifyRequest<ReportRoute>

/** One report as the group sees it: a draft to write on, or a finished one with its links. */
export function linkRoutes(app: FastifyInstance): void {
  app.get<ReportRoute>(
    '/g/:group/reports/:report',
    { config: { access: 'reader', fromReplica: true } },
    (request, reply) => showOne(request, reply, null),
  )

  app.post<ReportRoute>('/g/:group/reports/:report/links', { config: { access: 'keeper' } }, async (request, reply) => {
    const form = readForm(linkForm, request.body)
    const { group, personId } = request.member
    const report = await request.read((tx) => reportOf(tx, group.id, request.params.report))
    if (!report || report.state === 'draft') throw notFound()
    if (form.kind === 'refused') return showOne(request, reply, null, form)
    const author = { groupId: group.id, createdBy: personId }
    const link = { reportId: firstEditionOf(report), timeZone: group.timeZone, ...form.value }
    const most = app.quotas.linksOfGroup
    const token = await request.write((tx) => addLinkWithin(tx, author, link, most)).catch(noneWhereTooMany)
    if (token !== null) return showOne(request, reply, `${request.protocol}://${request.host}/r/${token}`)
    const errors = { endsOn: words().tooManyLinks(most) }
    return showOne(request, reply, null, { kind: 'refused', errors, typed: { endsOn: form.value.endsOn } })
  })

  app.post<{ Params: { group: string; report: string; link: string } }>(
    '/g/:group/reports/:report/links/:link/revoke',
    { config: { access: 'keeper' } },
    async (request, reply) => {
      const { report, link } = request.params
      if (![report, link].every((id) => z.uuid().safeParse(id).success)) throw notFound()
      if (!(await request.write((tx) => revokeLink(tx, request.member.group.id, link)))) throw notFound()
      return reply.backTo(`/g/${request.params.group}/reports/${request.params.report}`, words().revokedNow)
    },
  )
}

class TooManyLinks extends Error {}

/** Counted once it is there, when whoever makes one at the same moment waits; one too many is not stored. */
async function addLinkWithin(tx: Tx, author: Author, link: Parameters<typeof addLink>[2], most: number) {
  const token = await addLink(tx, author, link)
  if ((await linksOpen(tx, author.groupId)) > most) throw new TooManyLinks()
  return token
}

function noneWhereTooMany(error: unknown): null {
  if (error instanceof TooManyLinks) return null
  throw error
}

async function showOne(
  request: ReportRequest,
  reply: FastifyReply,
  link: string | null,
  refused: RefusedForm | null = null,
) {
  const { group, role } = request.member
  const report = await request.readAtOnce((tx) => reportOf(tx, group.id, request.params.report))
  if (!report) throw notFound()
  if (report.state === 'draft') return showDraft(request, reply, report)
  const editions = await request.read((tx) => editionsOf(tx, group.id, firstEditionOf(report)))
  const finished = editions.filter((one) => one.state !== 'draft')
  const address = (id: string) => `/g/${group.slug}/reports/${id}`
  const stands = await standing(request, report)
  const page = await pageOf(request, stands, { editions: finished, addressOf: (one) => address(one.id) })
  const mine = {
    id: report.id,
    link,
    mayShare: role === 'keeper',
    links: await linksShown(
      request,
      editions.map((one) => one.id),
    ),
    errors: refused?.errors ?? {},
    typed: { endsOn: refused?.typed.endsOn },
  }
  const rows = stands.rows && rowTablesIn(stands.rows)
  const tables = figureTableNames(stands.contents)
  const files = { base: address(report.id), query: '', tables, rows, printed: null }
  return reply.page('reports/report', { ...page, mine, files }, { title: report.title, status: refused ? 422 : 200 })
}

async function showDraft(request: ReportRequest, reply: FastifyReply, report: Report) {
  const { id, title, words: own, season, sections, pictures, keeps, version } = report
  const chosen = { season, sections, pictures, keeps, rowsAgreed: report.rowsAgreed ? 'yes' : '' }
  const typed = { id, title, words: own, version, ...chosen }
  const form = request.member.role === 'keeper' ? await formPage(request, typed, {}) : null
  return reply.page('reports/draft', { title, form }, { title })
}

async function linksShown(request: FastifyRequest, reportIds: readonly string[]) {
  const { id: groupId, timeZone, locale } = request.member.group
  const found = await request.read(async (tx) => {
    const links = await linksOf(tx, groupId, reportIds)
    const ids = links.map((one) => one.id)
    return { links, openings: await openingsOf(tx, groupId, ids) }
  })
  return found.links.map((one) => ({
    id: one.id,
    ends: one.endsAt && formatDay(dayIn(timeZone, new Date(one.endsAt.getTime() - 1)), locale),
    revoked: one.revokedAt !== null,
    withPassphrase: one.passphraseHash !== null,
    opened: found.openings
      .filter((opening) => opening.linkId === one.id)
      .map(({ day, openings }) => ({ day: formatDay(day, locale), times: formatNumber(openings, locale, 0) })),
  }))
}
