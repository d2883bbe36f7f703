import type { FastifyInstance, FastifyRequest } from 'fastify'
import { atOnce } from '../db/at-once.ts'
import { recordOf } from '../lookups/keys.ts'
import { questionsOf } from '../seasons/question.queries.ts'
import { seasonsOf } from '../seasons/seasons.queries.ts'
import { writeCsv } from '../web/csv.ts'
import { pagerOf } from '../web/pager.ts'
import { notFound } from '../web/problem.ts'
import { queryOf } from '../web/query-of.ts'
import { wordsFor } from '../words/locales.ts'
import { lockedQuestion } from './compare.routes.ts'
import { plainRules } from './matched/matched-season.ts'
import { recordKeptAt } from './record/kept-record.queries.ts'
import { seasonsAmong } from './record/trial-record.ts'
import { lineNames } from './rows/line-names.page.ts'
import { type More, rowsAddress } from './rows/row-links.page.ts'
import { rowsPage } from './rows/rows.page.ts'
import { methodsIn, rowsBehind, rowsWanted } from './rows/rows-behind.ts'
import { figureLines } from './rows/rows-figures.ts'
import { scopeOf } from './rows/rows-scope.ts'
import { rowTable, rowTables } from './rows/rows-tables.ts'
import { type SectionInPages, sectionsInPages } from './rows/sections-in-pages.ts'
import { readRowsAsked } from './rows.form.ts'

export function rowsRoutes(app: FastifyInstance): void {
  const config = { access: 'reader', costly: true, fromReplica: true } as const

  app.get('/g/:group/compare/rows', { config }, async (request, reply) => {
    const rows = await rowsAsked(request)
    const { group, role } = request.member
    const { scope, season, record } = rows
    const words = wordsFor(group.locale)
    const at = (changes: More, ending?: string) =>
      rowsAddress(group.slug, { ...named(request), season: rows.chosen, ...changes }, ending)
    const shown = rowsPage({ ...rows, locale: group.locale, currency: group.currency })
    const pagerIn = (only: SectionInPages) =>
      pagerOf(shown[only], {
        name: words.rowsBehind.sections[only],
        words: words.turning,
        locale: group.locale,
        to: (page) => `${at({ only, page: String(page) })}#${only}`,
      })
    const page = {
      ...shown,
      pagers: recordOf(sectionsInPages, pagerIn),
      names: lineNames(words, rows.kept, group.currency),
      season,
      chosen: rows.chosen,
      counted: rows.counted,
      kept: rows.kept,
      currency: group.currency,
      oneMethod: rows.ofMethod,
      seasons: [...record.seasons, { id: 'all', name: null }].map(({ id, name }) => ({
        id,
        name,
        address: at({ season: id, planting: undefined }),
      })),
      methods: !rows.ofMethod
        ? []
        : record.methods
            .filter((one) => rows.methodIds.includes(one.id) || one.id === scope.id)
            .map(({ id, name }) => ({
              id,
              name,
              address: at({ method: id, planting: undefined, ...besideOf(rows, id) }),
              current: id === scope.id,
            })),
      compare: `/g/${group.slug}/compare?season=${rows.chosen}`,
      all: at({
        crop: undefined,
        planting: undefined,
        task: undefined,
        cause: undefined,
        outsideMethod: undefined,
        garden: rows.ofMethod ? undefined : rows.garden,
        bed: rows.ofMethod ? undefined : rows.bed,
      }),
      ofCrop: (crop: string) =>
        `${at({ crop, planting: undefined, task: undefined, cause: undefined, outsideMethod: undefined })}#plantings`,
      ofPlanting: (planting: string) => `${at({ planting })}#plantings`,
      only: rows.shown.section,
      json: at({}, '.json'),
      csv: rowTables.map((table) => ({ table, address: at({ table }, '.csv') })),
      mayRecord: role !== 'reader',
      mayKeep: role === 'keeper',
    }
    return reply.page('comparison/rows', page, {
      title: words.rowsBehind.title(scope.name, season ?? words.comparison.allSeasons),
    })
  })

  app.get('/g/:group/compare/rows.json', { config }, async (request) => {
    const { scope, seasonIds, season, kept, all, ...asked } = await rowsAsked(request)
    const rows = rowsWanted(all, kept)
    const tables = rowTables.map((name) => [name, objectsOf(rowTable(name, { record: scope.record, rows }))])
    return {
      schemaVersion: 1,
      of: scope.name,
      id: scope.id,
      season,
      kept,
      rules: asked.rules,
      figures: figureLines(scope.record, all, { ...asked, kept, seasonIds, methodId: scope.id }),
      ...Object.fromEntries(tables),
      currency: request.member.group.currency,
    }
  })

  app.get('/g/:group/compare/rows.csv', { config }, async (request, reply) => {
    const { scope, kept, all, table } = await rowsAsked(request)
    const name = rowTables.find((one) => one === (table ?? 'plantings'))
    if (!name) throw notFound()
    const cells = rowTable(name, { record: scope.record, rows: rowsWanted(all, kept) })
    return reply.type('text/csv; charset=utf-8').send(writeCsv(cells))
  })
}

/** What an address of the rows asks for: a season, a method, garden or bed of this group, or not found. */
async function rowsAsked(request: FastifyRequest) {
  const { id, timeZone } = request.member.group
  const { crop, planting, task, cause, outside, matched, ...asked } = readRowsAsked(request.query)
  // All rows of all: known before ten years of them are read.
  if ((asked.method ?? asked.garden ?? asked.bed) === undefined) throw notFound()
  const { record, questions, chosen, season } = await request.readAtOnce(async (tx) => {
    const [seasons, questions] = await atOnce([seasonsOf(tx, id), questionsOf(tx, id)])
    const chosen = asked.season ?? seasons.at(-1)?.id ?? 'all'
    const season = seasons.find((one) => one.id === chosen)?.name ?? null
    if (chosen !== 'all' && season === null) throw notFound()
    const grain = chosen === 'all' ? 'rows' : { rowsOf: [chosen] }
    return { ...(await recordKeptAt(tx, request, grain)), questions, chosen, season }
  })
  const scope = scopeOf(record, asked)
  const besideKnown = asked.beside === undefined || record.methods.some((one) => one.id === asked.beside)
  const plantingKnown = planting === undefined || record.plantings.some((one) => one.id === planting)
  if (!scope || !besideKnown || !plantingKnown) throw notFound()
  const seasonIds = chosen === 'all' ? record.seasons.map((one) => one.id) : [chosen]
  const fixed = lockedQuestion(questions, seasonsAmong(record, seasonIds), timeZone)?.rules ?? plainRules
  const ofMethod = asked.method !== undefined
  return {
    ...asked,
    record,
    scope,
    chosen,
    season,
    seasonIds,
    ofMethod,
    kept: { crop, planting, task, cause, outside },
    besideId: ofMethod && asked.beside !== scope.id ? (asked.beside ?? null) : null,
    matchedRules: { ...fixed, ...matched },
    methodIds: methodsIn(record, seasonIds),
    all: rowsBehind(scope.record, seasonIds, scope.id),
  }
}

/** The words of the address that stay when one of them is changed. */
function named(request: FastifyRequest): More {
  const query = queryOf(request)
  const kept = [
    'method',
    'garden',
    'bed',
    'beside',
    'crop',
    'planting',
    'task',
    'cause',
    'outsideMethod',
    'by',
  ] as const
  const rules = ['weights', 'area', 'harvestWork', 'establishing', 'ownMade', 'mix', 'outside'] as const
  return Object.fromEntries(
    [...kept, ...rules].flatMap((name) => (typeof query[name] === 'string' ? [[name, query[name]]] : [])),
  )
}

/** The rows of the other of two methods keep this one beside them. */
const besideOf = ({ scope, besideId }: { scope: { id: string }; besideId: string | null }, id: string): More =>
  besideId === id ? { beside: scope.id } : {}

function objectsOf([head = [], ...rows]: readonly (readonly (string | number | null)[])[]) {
  return rows.map((row) => Object.fromEntries(head.map((name, i) => [String(name), row[i] ?? null])))
}
