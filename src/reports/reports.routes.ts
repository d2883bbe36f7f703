import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify'
import { z } from 'zod'
import { mayTry } from '../accounts/sessions.queries.ts'
import { comparePage } from '../comparison/compare.page.ts'
import { tableAsked } from '../comparison/compare.routes.ts'
import { figureRows, unitsOf } from '../comparison/figures-csv.ts'
import type { FirstTable } from '../comparison/first-table.ts'
import type { Database } from '../db/database.ts'
import { newId } from '../db/new-id.ts'
import { dayIn } from '../quantities/dates.ts'
import { formatDay } from '../quantities/formatting.ts'
import { writeCsv } from '../web/csv.ts'
import { optionalDate, optionalText, text, uuid } from '../web/fields.ts'
import { type RefusedForm, readForm } from '../web/form.ts'
import { notFound, Problem } from '../web/problem.ts'
import { catalogue } from '../words/catalogue.ts'
import { addLink, freezeReport, linksOf, reportOf, reportsOf, revokeLink, sharedReport } from './reports.queries.ts'

const words = catalogue.reports
const mostOpenings = 300

const freezeForm = z.object({
  id: uuid(),
  title: text({ most: 120 }),
  words: optionalText({ most: 5000 }),
  season: text({ most: 40 }),
})
const linkForm = z.object({ endsOn: optionalDate() })

type ReportRequest = FastifyRequest<{ Params: { report: string } }>

export function reportRoutes(app: FastifyInstance, database: Database): void {
  app.get('/g/:group/reports', { config: { access: 'reader' } }, (request, reply) => showAll(request, reply, null))

  app.post('/g/:group/reports', { config: { access: 'keeper' } }, async (request, reply) => {
    const form = readForm(freezeForm, request.body)
    if (form.kind === 'refused') return showAll(request, reply, form)
    const { group, personId } = request.member
    const { table, said } = await tableAsked(request, form.value.season)
    const page = { ...comparePage(table, group.locale, group.currency), said }
    const { locale, timeZone, currency } = group
    const contents = { page, table, units: unitsOf(), group: group.name, locale, timeZone, currency }
    const { id, title, words: own } = form.value
    await request.write((tx) =>
      freezeReport(tx, { groupId: group.id, createdBy: personId }, { id, title, words: own ?? '', contents }),
    )
    return reply.backTo(`/g/${group.slug}/reports/${id}`, words.frozen)
  })

  app.get('/g/:group/reports/:report', { config: { access: 'reader' } }, (request, reply) =>
    showOne(request as ReportRequest, reply, null),
  )

  app.post('/g/:group/reports/:report/links', { config: { access: 'keeper' } }, async (plain, reply) => {
    const request = plain as ReportRequest
    const form = readForm(linkForm, request.body)
    if (form.kind === 'refused') return showOne(request, reply, null, form)
    const { group, personId } = request.member
    const author = { groupId: group.id, createdBy: personId }
    if (!(await request.read((tx) => reportOf(tx, group.id, request.params.report)))) throw notFound()
    const token = await request.write((tx) =>
      addLink(tx, author, request.params.report, form.value.endsOn, group.timeZone),
    )
    return showOne(request, reply, `${request.protocol}://${request.host}/r/${token}`)
  })

  app.post<{ Params: { group: string; report: string; link: string } }>(
    '/g/:group/reports/:report/links/:link/revoke',
    { config: { access: 'keeper' } },
    async (request, reply) => {
      await request.write((tx) => revokeLink(tx, request.member.group.id, request.params.link))
      return reply.backTo(`/g/${request.params.group}/reports/${request.params.report}`, words.revokedNow)
    },
  )

  figuresOf(app, '/g/:group/reports/:report', 'reader', async (request) => {
    const { report } = request.params as { report: string }
    return request.read((tx) => reportOf(tx, request.member.group.id, report))
  })

  app.get('/r/:token', { config: { access: 'public' } }, async (request, reply) => {
    const report = await shared(request, reply)
    return reply.page('reports/report', pageOf(report), { title: report.title, bare: true })
  })
  const shared = async (request: FastifyRequest, reply: FastifyReply) => {
    if (!(await mayTry(database, `report ${request.ip}`, mostOpenings))) throw new Problem('too-often')
    const report = await sharedReport(database, (request.params as { token: string }).token)
    if (!report) throw notFound()
    reply.header('referrer-policy', 'no-referrer').header('x-robots-tag', 'noindex, nofollow')
    reply.header('cache-control', 'private, no-store')
    return report
  }
  figuresOf(app, '/r/:token', 'public', shared)
}

type Find = (request: FastifyRequest, reply: FastifyReply) => Promise<Report | undefined>

/** The figures of a frozen report, at its address with `.json` and `.csv?table=`: as they were frozen. */
function figuresOf(app: FastifyInstance, address: string, access: 'public' | 'reader', find: Find): void {
  app.get(`${address}.json`, { config: { access } }, async (request, reply) => {
    const report = await find(request, reply)
    if (!report) throw notFound()
    const { table, units, currency } = report.contents as Contents
    const { title, checksum, frozenAt } = report
    return { title, frozenAt, checksum, currency, units, ...table }
  })
  app.get<{ Querystring: { table?: string } }>(`${address}.csv`, { config: { access } }, async (request, reply) => {
    const report = await find(request, reply)
    const rows = report && figureRows((report.contents as Contents).table, request.query.table ?? 'methods')
    if (!rows) throw notFound()
    return reply.type('text/csv; charset=utf-8').send(writeCsv(rows))
  })
}

interface Contents {
  readonly page: object
  readonly table: FirstTable
  readonly units: Record<string, string>
  readonly group: string
  readonly locale: string
  readonly timeZone: string
  readonly currency: string
}

type Report = NonNullable<Awaited<ReturnType<typeof reportOf>>>

function pageOf(report: Report) {
  const contents = report.contents as Contents
  return {
    ...contents.page,
    title: report.title,
    group: contents.group,
    paragraphs: report.words.split(/\n\s*\n/).filter((paragraph) => paragraph.trim() !== ''),
    frozenOn: formatDay(dayIn(contents.timeZone, report.frozenAt), contents.locale),
    checksum: report.checksum,
    mine: null,
  }
}

async function showAll(request: FastifyRequest, reply: FastifyReply, refused: RefusedForm | null) {
  const { group, role } = request.member
  const all = await request.read((tx) => reportsOf(tx, group.id))
  const { seasons, chosen } = await tableAsked(request, undefined)
  const page = {
    reports: all.map(({ id, title, frozenAt }) => ({
      id,
      title,
      frozen: formatDay(dayIn(group.timeZone, frozenAt), group.locale),
    })),
    seasonChoices: [
      ...seasons.map(({ id, name }) => ({ value: id, label: name })),
      { value: 'all', label: catalogue.comparison.allSeasons },
    ],
    typed: refused?.typed ?? { id: newId(), season: chosen },
    errors: refused?.errors ?? {},
    mayChange: role === 'keeper',
  }
  return reply.page('reports/reports', page, { title: words.title, status: refused ? 422 : 200 })
}

async function showOne(
  request: ReportRequest,
  reply: FastifyReply,
  link: string | null,
  refused: RefusedForm | null = null,
) {
  const { group, role } = request.member
  const found = await request.read(async (tx) => ({
    report: await reportOf(tx, group.id, request.params.report),
    links: await linksOf(tx, group.id, request.params.report),
  }))
  if (!found.report) throw notFound()
  const links = found.links.map((one) => ({
    id: one.id,
    ends: one.endsAt && formatDay(dayIn(group.timeZone, new Date(one.endsAt.getTime() - 1)), group.locale),
    revoked: one.revokedAt !== null,
  }))
  const typed = { errors: refused?.errors ?? {}, typed: refused?.typed ?? {} }
  const mine = { id: found.report.id, link, links, mayShare: role === 'keeper', ...typed }
  const status = refused ? 422 : 200
  return reply.page('reports/report', { ...pageOf(found.report), mine }, { title: found.report.title, status })
}
