import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify'
import { constraintOf } from '../db/constraint.ts'
import type { Database } from '../db/database.ts'
import { asShown } from '../lookups/unsaid.ts'
import { dayIn } from '../quantities/dates.ts'
import { formatDay } from '../quantities/formatting.ts'
import { seasonsOf } from '../seasons/seasons.queries.ts'
import { type RefusedForm, readForm, refuseForm } from '../web/form.ts'
import { notFound } from '../web/problem.ts'
import { addressPart, fieldsOf, textAsked } from '../web/query-of.ts'
import { serviceVersion } from '../web/version.ts'
import { wordsHere } from '../web/words-here.ts'
import { figureFiles } from './figure-files.routes.ts'
import { figuresIn, figuresOfToday } from './figures-of-today.routes.ts'
import { formPage } from './form-page.routes.ts'
import { linkRoutes } from './links.routes.ts'
import { nameRoutes } from './names.routes.ts'
import { pageOf, standing } from './one-report.routes.ts'
import { reportForm } from './report.form.ts'
import { freezeDraft, reportOf, reportsOf, saveDraft, setLive, type WrittenReport } from './reports.queries.ts'
import { wantsDecided } from './sections.ts'
import { type SharingOptions, sharedRoutes } from './shared.routes.ts'

const words = () => wordsHere().reports

/** Reports are written, looked at, kept as drafts, finished and shared. */
export function reportRoutes(app: FastifyInstance, database: Database, options: SharingOptions): void {
  app.get('/g/:group/reports', { config: { access: 'reader' } }, (request, reply) => showAll(request, reply, null))

  app.post('/g/:group/reports', { config: { access: 'keeper' } }, async (request, reply) => {
    const form = readForm(reportForm, request.body)
    if (form.kind === 'refused') return showAll(request, reply, form)
    if (!(await isSeason(request, form.value.season))) {
      return showAll(request, reply, refuseForm(request.body, { season: wordsHere().fields.notChosen }))
    }
    if (form.value.step === 'preview') return showPreview(request, reply, form.value)
    return keep(request, reply, form.value, form.value.step === 'finish')
  })

  nameRoutes(app)
  linkRoutes(app)
  const find = async (request: FastifyRequest) => {
    const report = addressPart(request, 'report')
    const found = await request.readAtOnce((tx) => reportOf(tx, request.member.group.id, report))
    if (!found || found.state === 'draft') throw notFound()
    return standing(request, found)
  }
  const address = '/g/:group/reports/:report'
  figureFiles(app, { address, access: 'reader', scriptParts: options.scriptParts, find })
  sharedRoutes(app, database, options)
}

async function isSeason(request: FastifyRequest, season: string): Promise<boolean> {
  if (season === 'all') return true
  return (await request.read((tx) => seasonsOf(tx, request.member.group.id))).some((one) => one.id === season)
}

/** Writes the draft over and, where it is to be finished, freezes it or sets it live in the same transaction. */
async function keep(request: FastifyRequest, reply: FastifyReply, written: WrittenReport, finish: boolean) {
  const { group, personId } = request.member
  const frozen = finish && written.keeps === 'frozen'
  const today = frozen
    ? await figuresOfToday(request, written.season, {
        ...written,
        rows: written.rowsAgreed === 'yes',
        decided: wantsDecided(written.sections),
      })
    : null
  const write = () =>
    request.write(async (tx) => {
      const saved = await saveDraft(tx, { groupId: group.id, createdBy: personId }, written)
      if (saved !== 'saved' || !finish) return saved
      if (!today) await setLive(tx, group.id, written.id)
      else await freezeDraft(tx, group.id, written.id, { ...today, figures: figuresIn(today.contents), serviceVersion })
      return saved
    })
  const outcome = await write().catch(async (error: unknown) => {
    if (!['reports_group_id_id_pk', 'reports_edition_once'].includes(constraintOf(error))) throw error
    // A form sent twice at once breaks both keys, and either may be named: the second finds the draft when it looks
    // again. Two who begin the same later edition at once: the second is told.
    const there = await request.read((tx) => reportOf(tx, group.id, written.id))
    return there ? write() : ('changed' as const)
  })
  if (outcome === 'changed') {
    const refused = refuseForm(request.body, { title: words().changedMeanwhile })
    return showAll(request, reply, { ...refused, typed: { ...refused.typed, version: '' } }, 409)
  }
  const said = finish ? (frozen ? words().frozen : words().live) : words().draftKept
  return reply.backTo(`/g/${group.slug}/reports/${written.id}`, outcome === 'finished' ? words().finishedAlready : said)
}

async function showPreview(request: FastifyRequest, reply: FastifyReply, written: WrittenReport) {
  const today = await figuresOfToday(request, written.season, {
    ...written,
    rows: false,
    decided: wantsDecided(written.sections),
  })
  const { id, title, words: own, sections, pictures } = written
  const unfinished = {
    id,
    title,
    words: asShown(own),
    sections,
    pictures,
    state: 'preview',
    edition: 1,
    frozenAt: null,
  }
  const figures = { ...today, serviceVersion, checksum: null }
  const page = await pageOf(request, { ...unfinished, ...figures }, { editions: [], addressOf: () => '' })
  const form = await formPage(request, fieldsOf(request.body), {})
  return reply.page('reports/preview', { ...page, form, mine: null }, { title: words().previewTitle })
}

async function showAll(request: FastifyRequest, reply: FastifyReply, refused: RefusedForm | null, status = 422) {
  const { group, role } = request.member
  const { all, seasons } = await request.read(async (tx) => ({
    all: await reportsOf(tx, group.id),
    seasons: await seasonsOf(tx, group.id),
  }))
  const after = all.find((one) => one.id === textAsked(request, 'after'))
  const page = {
    reports: all.map(({ id, title, state, edition, frozenAt }) => ({
      id,
      title,
      state,
      edition,
      frozen: frozenAt && formatDay(dayIn(group.timeZone, frozenAt), group.locale),
    })),
    after: after?.title ?? null,
    seasonsToGuess: seasons.map(({ id, name }) => ({ id, name })),
    form: role === 'keeper' ? await formPage(request, refused?.typed ?? null, refused?.errors ?? {}) : null,
  }
  return reply.page('reports/reports', page, { title: words().title, status: refused ? status : 200 })
}
