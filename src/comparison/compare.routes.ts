import type { FastifyInstance, FastifyRequest } from 'fastify'
import { dayIn } from '../quantities/dates.ts'
import { lockedLate } from '../seasons/locked-late.ts'
import { questionsOf, type Terms } from '../seasons/question.queries.ts'
import { writeCsv } from '../web/csv.ts'
import { notFound } from '../web/problem.ts'
import { catalogue } from '../words/catalogue.ts'
import { readAsked } from './compare.form.ts'
import { comparePage, measuringShown } from './compare.page.ts'
import { findingsPage, type Question } from './findings/findings.page.ts'
import { findingsTold } from './findings/findings-told.page.ts'
import { otherwisePage } from './findings/otherwise.page.ts'
import { replicatedPage } from './findings/replicated.page.ts'
import { firstTable } from './matched/first-table.ts'
import { comparePictures } from './pictures/compare-pictures.page.ts'
import { type Pictured, pictureFigures } from './pictures/picture-figures.page.ts'
import { trialRecord } from './record/trial-record.queries.ts'
import { type SeasonRecord, seasonsAmong } from './record/trial-record.ts'
import { figureRows, furtherTables, unitsOf } from './rows/figures-csv.ts'
import { rowLinks } from './rows/row-links.page.ts'
import { errorOfMeasuring, readingsOf } from './totals/error-of-measuring.ts'

export function compareRoutes(app: FastifyInstance): void {
  app.get('/g/:group/compare', { config: { access: 'reader' } }, async (request, reply) => {
    const asked = await tableAsked(request, seasonIn(request))
    const { table, seasons, methods, chosen, said, otherwise, beside, replicated, measuring } = asked
    const { locale, currency, slug } = request.member.group
    const figures = asked.figuresOf({ otherIds: beside === null ? [] : [beside] })
    const query = request.query as Record<string, unknown>
    const page = {
      ...comparePage(table, locale, currency),
      measuring: measuringShown(measuring, locale),
      seasons,
      chosen,
      said: findingsTold(said, locale),
      otherwise,
      matchedChoices,
      pictures: comparePictures(figures, locale).map((one) => one.picture),
      beside,
      replicated,
      asked: 'by' in (request.query as object),
      behind: rowLinks({ ...{ slug, season: chosen, methods, referenceId: said.referenceId }, query }),
    }
    return reply.page('comparison/compare', page, { title: catalogue.comparison.title })
  })

  app.get('/g/:group/compare.json', { config: { access: 'reader' } }, async (request) => {
    const { table, found, measuring } = await tableAsked(request, seasonIn(request))
    return { ...table, measuring, findings: found, units: unitsOf(), currency: request.member.group.currency }
  })

  app.get<{ Querystring: { table?: string } }>(
    '/g/:group/compare.csv',
    { config: { access: 'reader' } },
    async (request, reply) => {
      const { table, record, seasonIds, said } = await tableAsked(request, seasonIn(request))
      const name = request.query.table ?? 'methods'
      const rows = figureRows(table, name) ?? new Map(Object.entries(furtherTables(record, seasonIds, said))).get(name)
      if (!rows) throw notFound()
      return reply.type('text/csv; charset=utf-8').send(writeCsv(rows))
    },
  )
}

/** Who asks, of which group, and under which choices: all that a comparison needs of a request. */
export type Asking = Pick<FastifyRequest, 'read' | 'member' | 'query'>

/** The table that an address asks for: `?season=` an id or "all"; without it the latest season that is over. */
export async function tableAsked(request: Asking, season: string | undefined) {
  const { record, questions } = await request.read(async (tx) => ({
    record: await trialRecord(tx, request.member.group.id),
    questions: await questionsOf(tx, request.member.group.id),
  }))
  const latest = (record.seasons.findLast((one) => one.closed) ?? record.seasons.at(-1))?.id ?? 'all'
  const chosen = season ?? latest
  if (chosen !== 'all' && !record.seasons.some((one) => one.id === chosen)) throw notFound()
  const { locale, currency, timeZone } = request.member.group
  const seasonIds = chosen === 'all' ? record.seasons.map((one) => one.id) : [chosen]
  const question = lockedQuestion(questions, seasonsAmong(record, seasonIds), timeZone)
  const { by, beside, measures: rules, matched } = readAsked(request.query)
  const said = findingsPage(record, seasonIds, { question, matched, locale, currency })
  const other = said.others.find((one) => one.id === beside) ?? said.others[0]
  return {
    ...{ record, seasonIds, said },
    found: said.found,
    measuring: errorOfMeasuring(readingsOf(record, seasonIds)),
    replicated: replicatedPage(record, seasonIds, { ...said, locale }),
    beside: other?.id ?? null,
    /** What pictures of it are drawn from. */
    figuresOf: (of: Pick<Pictured, 'otherIds' | 'wanted'>) =>
      pictureFigures(record, seasonIds, { referenceId: said.referenceId, rules: said.rules, ...of }),
    otherwise: otherwisePage(record, seasonIds, { by, rules, locale, currency }),
    methods: record.methods,
    table: firstTable(record, chosen === 'all' ? null : chosen),
    seasons: record.seasons.map(({ id, name, changedSince = 0 }) => ({ id, name, changedSince })),
    chosen,
  }
}

/** The rules of matched crops that an address may name. */
const matchedChoices = [
  { rule: 'weights', values: ['marketable', 'all'] },
  { rule: 'mix', values: ['pooled areas', 'equal parts'] },
  { rule: 'outside', values: ['counted', 'set left out'] },
] as const

type Questions = Awaited<ReturnType<typeof questionsOf>>

/** The latest question that was locked for one of these seasons before any of them began; else the latest that was locked late. */
export function lockedQuestion(
  questions: Questions,
  seasons: readonly SeasonRecord[],
  timeZone: string,
): Question | null {
  const locked = questions.flatMap((one) =>
    one.lockedAt !== null && seasons.some((season) => season.id === one.seasonId)
      ? [{ ...one, lockedOn: dayIn(timeZone, one.lockedAt) }]
      : [],
  )
  const found = locked.findLast((one) => !lockedLate(one.lockedOn, seasons)) ?? locked.at(-1)
  if (!found?.referenceMethodId) return null
  const { lockedOn, marginPercent } = found
  const { question, referenceMethodId, primaryMeasure, seasonsToLookAt, sentenceIfSeen, sentenceIfNotSeen } = found
  return {
    ...{ question, referenceId: referenceMethodId, primaryMeasure, seasonsToLookAt, sentenceIfSeen, sentenceIfNotSeen },
    ...{ rules: found.terms as Terms, lockedOn, marginPercent },
  }
}

const seasonIn = (request: FastifyRequest) => (request.query as { season?: string }).season
