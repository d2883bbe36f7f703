import type { FastifyInstance, FastifyRequest } from 'fastify'
import { dayIn } from '../quantities/dates.ts'
import { lockedLate } from '../seasons/locked-late.ts'
import { questionsOf, type Terms } from '../seasons/question.queries.ts'
import { aside } from '../web/aside.ts'
import { writeCsv } from '../web/csv.ts'
import { notFound } from '../web/problem.ts'
import { queryOf, textAsked } from '../web/query-of.ts'
import { wordsFor } from '../words/locales.ts'
import { readAsked } from './compare.form.ts'
import type { Question } from './findings/findings.page.ts'
import { findingsTold } from './findings/findings-told.page.ts'
import { sideBySideShown } from './findings/side-by-side.page.ts'
import { summaryTold } from './findings/summary-told.page.ts'
import { joinable } from './matched/joinable.ts'
import { type Pictured, picturesMade } from './pictures/picture-figures.page.ts'
import { bytesOfRecord, recordKeptAt } from './record/kept-record.queries.ts'
import { type SeasonRecord, seasonsAmong, type TrialRecord } from './record/trial-record.ts'
import { untilSeasons } from './record/until-seasons.ts'
import { figureRows, furtherTables, unitsOfFigures } from './rows/figures-csv.ts'
import { rowLinks } from './rows/row-links.page.ts'
import { tableMade } from './table-made.page.ts'

export function compareRoutes(app: FastifyInstance): void {
  const config = { access: 'reader', costly: true, fromReplica: true } as const

  app.get('/g/:group/compare', { config: { ...config, keepsPage: true } }, async (request, reply) => {
    const asked = await tableAsked(request, seasonIn(request))
    const { side, summary, chosen } = asked
    const { locale, currency } = request.member.group
    const links = compareLinks(request, asked)
    const page = {
      ...framed(request, asked, 'side'),
      summary: summaryTold(summary, locale, currency),
      side: side.rows.length > 1 ? sideBySideShown(side, { locale, currency, ...links }) : null,
      files: filesOf(request, chosen),
    }
    return reply.page('comparison/compare', page, { title: page.summary.title })
  })

  app.get('/g/:group/compare.json', { config }, async (request) => {
    const { table, found, measuring, side, summary } = await tableAsked(request, seasonIn(request))
    return {
      ...table,
      measuring,
      findings: found,
      sideBySide: side,
      summary,
      units: unitsOfFigures(),
      currency: request.member.group.currency,
    }
  })

  app.get<{ Querystring: { table?: string } }>('/g/:group/compare.csv', { config }, async (request, reply) => {
    const { table, tablesOf } = await tableAsked(request, seasonIn(request))
    const name = request.query.table ?? 'methods'
    const rows = figureRows(table, name) ?? new Map(Object.entries(await tablesOf())).get(name)
    if (!rows) throw notFound()
    return reply.type('text/csv; charset=utf-8').send(writeCsv(rows))
  })
}

/** Who asks, of which group, and under which choices: all that a comparison needs of a request. */
export type Asking = Pick<FastifyRequest, 'read' | 'readAtOnce' | 'member' | 'query' | 'kept'>

/** The same asker without the choices of an address. */
export const plainly = (request: Asking): Asking => ({
  member: request.member,
  query: {},
  kept: request.kept,
  read: (work) => request.read(work),
  readAtOnce: (work) => request.readAtOnce(work),
})

/**
 * The table that an address asks for: `?season=` an id or "all"; without it the latest season that is over. Kept for as
 * long as nothing of the group is written, by all that it depends on beside the record.
 */
export async function tableAsked(request: Asking, season: string | undefined) {
  const { group } = request.member
  const { whole, questions, changes } = await request.readAtOnce(async (tx) => {
    const { record, changes } = await recordKeptAt(tx, request)
    return { whole: record, changes, questions: await questionsOf(tx, group.id) }
  })
  const latest = (whole.seasons.findLast((one) => one.closed) ?? whole.seasons.at(-1))?.id ?? 'all'
  const chosen = season ?? latest
  if (chosen !== 'all' && !whole.seasons.some((one) => one.id === chosen)) throw notFound()
  const { locale, currency, timeZone } = group
  const asked = readAsked(request.query)
  return request.kept.of({
    groupId: group.id,
    changes,
    name: JSON.stringify(['table', chosen, asked, locale, currency, timeZone]),
    make: () => tableOf(whole, questions, { chosen, asked, locale, currency, timeZone }),
    bytesOf: () => bytesOfTable + bytesOfRecord(whole) / 4,
  })
}

/** What figures, findings and sentences of the example take beside their record, measured. */
const bytesOfTable = 1_500_000

interface Choices {
  readonly chosen: string
  readonly asked: ReturnType<typeof readAsked>
  readonly locale: string
  readonly currency: string
  readonly timeZone: string
}

const tableAside = aside({ module: 'table-made.page', name: 'tableMade' }, tableMade)
const picturesAside = aside({ module: 'picture-figures.page', name: 'picturesMade' }, picturesMade)
const tablesAside = aside({ module: 'figures-csv', name: 'furtherTables' }, furtherTables)

async function tableOf(whole: TrialRecord, questions: Questions, { chosen, asked, ...where }: Choices) {
  const { locale, currency, timeZone } = where
  const seasonIds = chosen === 'all' ? whole.seasons.map((one) => one.id) : [chosen]
  const record = untilSeasons(whole, seasonIds)
  const question = lockedQuestion(questions, seasonsAmong(record, seasonIds), timeZone)
  const made = await tableAside(whole, {
    seasonIds,
    oneSeason: chosen === 'all' ? null : chosen,
    question,
    asked,
    locale,
    currency,
  })
  const { referenceId, rules, others } = made.said
  const comparisons = new Map(others.map((one) => [one.id, one.comparisons]))
  return {
    ...made,
    record,
    seasonIds,
    /** What pictures of it are drawn from. */
    figuresOf: (of: Pick<Pictured, 'otherIds' | 'wanted'>) =>
      picturesAside(whole, { seasonIds, referenceId, rules, comparisons, ...of }),
    /** Its figures that stand in no table of its pages, as rows for files. */
    tablesOf: () => tablesAside(whole, { seasonIds, told: made.said }),
    methods: record.methods,
    seasons: whole.seasons.map(({ id, name, changedSince = 0 }) => ({ id, name, changedSince })),
    chosen,
  }
}

export type TableAsked = Awaited<ReturnType<typeof tableAsked>>

export const partKeys = ['side', 'seasons', 'crops', 'why', 'work', 'losses', 'otherwise', 'doubts', 'layout'] as const
export type PartKey = (typeof partKeys)[number]

/** Whether replicated places or several seasons add anything to the comparison. */
export const saysMore = ({ together, pairs, stable }: TableAsked['replicated']): boolean =>
  together !== null || pairs.length > 0 || stable !== null

/** What stands around each part: the parts, and the choices at the top that change the address. */
export function framed(request: FastifyRequest, asked: TableAsked, part: PartKey) {
  const { slug, locale } = request.member.group
  const words = wordsFor(locale).comparison
  const base = `/g/${slug}/compare`
  const kept = choicesKept(request)
  const to = (key: PartKey, more: Readonly<Record<string, string>>) => {
    const query = new URLSearchParams({ ...kept, season: asked.chosen, ...more })
    return `${key === 'side' ? base : `${base}/${key}`}?${query.toString()}`
  }
  const shown = partKeys.filter((key) => key !== 'layout' || saysMore(asked.replicated))
  return {
    part,
    parts: shown.map((key) => ({ label: words.partNames[key], address: to(key, {}), current: key === part })),
    seasonLinks: [...asked.seasons, { id: 'all', name: words.all }].map(({ id, name }) => ({
      label: name,
      address: to(part, { season: id }),
      current: id === asked.chosen,
    })),
    references: asked.side.rows
      .map(({ methodId, method }) => ({ value: methodId, label: method }))
      .sort(
        (a, b) => asked.methods.findIndex((m) => m.id === a.value) - asked.methods.findIndex((m) => m.id === b.value),
      ),
    referenceId: asked.said.referenceId,
    address: part === 'side' ? base : `${base}/${part}`,
    kept: Object.entries({ ...kept, season: asked.chosen }).filter(([name]) => name !== 'reference'),
    chosen: asked.chosen,
    joinable: part === 'side' || part === 'crops' ? joinableSaid(request, asked) : [],
    said: findingsTold(asked.said, locale),
  }
}

/** Crops that would count if they were joined to sets; a keeper is led to where they are. */
function joinableSaid({ member }: FastifyRequest, { record, seasonIds }: TableAsked) {
  const words = wordsFor(member.group.locale).comparison
  return joinable(record, seasonIds).map(({ seasonId, season, crops }) => ({
    said: words.joinable(crops, season),
    address: member.role === 'keeper' ? `/g/${member.group.slug}/seasons/${seasonId}#join-sets` : null,
  }))
}

/** The rules of an address that go along from part to part. */
export function choicesKept(request: FastifyRequest): Record<string, string> {
  const query = queryOf(request)
  const names = [
    'reference',
    'beside',
    'weights',
    'mix',
    'outside',
    'area',
    'harvestWork',
    'establishing',
    'ownMade',
    'by',
  ]
  return Object.fromEntries(
    names.flatMap((name) => {
      const value = query[name]
      return typeof value === 'string' && value !== '' ? [[name, value.slice(0, 80)] as const] : []
    }),
  )
}

export const compareLinks = (request: FastifyRequest, { methods, chosen, said }: TableAsked) =>
  rowLinks({
    slug: request.member.group.slug,
    season: chosen,
    methods,
    referenceId: said.referenceId,
    query: queryOf(request),
  })

const filesOf = (request: FastifyRequest, chosen: string) => {
  const base = `/g/${request.member.group.slug}/compare`
  return { json: `${base}.json?season=${chosen}`, csv: `${base}.csv?table=methods&season=${chosen}` }
}

type Questions = Awaited<ReturnType<typeof questionsOf>>

/**
 * The latest question that was locked for one of these seasons before any of them began; else the latest that was
 * locked late.
 */
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
  const terms = found.terms as Terms
  const { question, referenceMethodId, primaryMeasure, seasonsToLookAt, sentenceIfSeen, sentenceIfNotSeen } = found
  return {
    question,
    referenceId: referenceMethodId,
    primaryMeasure,
    seasonsToLookAt,
    sentenceIfSeen,
    sentenceIfNotSeen,
    rules: terms,
    pairs: terms.pairs ?? [],
    lockedOn,
    marginPercent,
  }
}

export const seasonIn = (request: FastifyRequest) => textAsked(request, 'season')
