import type { FastifyInstance, FastifyRequest } from 'fastify'
import { recordKeptAt } from '../comparison/record/kept-record.queries.ts'
import { applicationsOf, placesOf } from '../inputs/applications.queries.ts'
import { measuresOf } from '../inputs/measures.queries.ts'
import { placeOfRow } from '../inputs/place.ts'
import { cropPricesOf } from '../seasons/crop-prices.queries.ts'
import { priceOfSeason } from '../seasons/crop-prices.ts'
import { cropsOf } from '../seasons/seasons.queries.ts'
import { queryOf } from '../web/query-of.ts'
import { wordsHere } from '../web/words-here.ts'
import { type LoadsCarried, loadsCarried } from './loads-carried.ts'
import { toLog } from './to-log.ts'
import { valuePage } from './value.page.ts'
import { returnPerHour, worthOfMethods } from './value-and-effort.ts'

const words = () => wordsHere().value

/** What ground and hours brought by method: the worth of the harvest, its food, the effort. */
export function valueRoutes(app: FastifyInstance): void {
  app.get('/g/:group/decide/value', { config: { access: 'reader' } }, async (request, reply) => {
    const { group, role } = request.member
    const { season, seasons, rows, loads } = await asked(request)
    const at = `/g/${group.slug}/decide/value`
    const shown = season && rows.length > 0 ? valuePage({ season: season.name, rows, loads }, group) : null
    const page = {
      choices: seasons.map(({ id, name }) => ({
        label: name,
        address: `${at}?season=${id}`,
        current: id === season?.id,
      })),
      shown,
      logAddress: shown?.handed && role === 'keeper' ? toLog(group, { ...shown.handed, from: request.url }) : null,
    }
    return reply.page('decisions/value', page, { title: words().title })
  })

  app.get('/g/:group/decide/value.json', { config: { access: 'reader' } }, async (request) => {
    const { season, rows, loads } = await asked(request)
    return {
      schemaVersion: 1,
      scenario: 'value',
      season: season?.name ?? null,
      currency: request.member.group.currency,
      methods: rows.map((row) => ({
        ...row,
        ...loadsOf(loads, row),
        minorPerHourAfterInputs: returnPerHour(row, 1),
      })),
    }
  })
}

/** Nothing was spread where there is no entry. */
function loadsOf(loads: ReadonlyMap<string, LoadsCarried>, { methodId }: { readonly methodId: string }) {
  const own = loads.get(methodId)
  return own === undefined ? { carriedG: 0, unweighedLoads: 0 } : { carriedG: own.grams, unweighedLoads: own.unweighed }
}

/** The season asked for, otherwise the last that is closed, otherwise the last with weights. */
async function asked(request: FastifyRequest) {
  const { group } = request.member
  const { record, crops, prices, spreadings, places, measures } = await request.readAtOnce(async (tx) => ({
    record: (await recordKeptAt(tx, request)).record,
    crops: await cropsOf(tx, group.id),
    prices: await cropPricesOf(tx, group.id),
    spreadings: await applicationsOf(tx, group.id),
    places: await placesOf(tx, group.id),
    measures: await measuresOf(tx, group.id),
  }))
  const weighed = new Set(record.plantings.filter((one) => one.marketableG > 0).map((one) => one.seasonId))
  const seasons = record.seasons.filter(({ id }) => weighed.has(id))
  const wanted = queryOf(request).season
  const season = seasons.find(({ id }) => id === wanted) ?? seasons.findLast((one) => one.closed) ?? seasons.at(-1)
  if (!season) return { season, seasons, rows: [], loads: new Map<string, LoadsCarried>() }
  const worth = crops.map((crop) => ({ ...crop, priceMinorPerKg: priceOfSeason(prices.get(crop.id) ?? [], season) }))
  const spread = spreadings.map((one) => ({ ...one, bedIds: placeOfRow(places, one)?.bedIds ?? [] }))
  const loads = loadsCarried(record, season.id, { spread, measures })
  return { season, seasons, rows: worthOfMethods(record, season.id, worth), loads }
}
