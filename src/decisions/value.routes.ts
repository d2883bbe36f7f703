import type { FastifyInstance, FastifyRequest } from 'fastify'
import { recordKeptAt } from '../comparison/record/kept-record.queries.ts'
import { cropPricesOf } from '../seasons/crop-prices.queries.ts'
import { priceOfSeason } from '../seasons/crop-prices.ts'
import { cropsOf } from '../seasons/seasons.queries.ts'
import { queryOf } from '../web/query-of.ts'
import { wordsHere } from '../web/words-here.ts'
import { toLog } from './to-log.ts'
import { valuePage } from './value.page.ts'
import { returnPerHour, worthOfMethods } from './value-and-effort.ts'

const words = () => wordsHere().value

/** What ground and hours brought by method: the worth of the harvest, its food, the effort. */
export function valueRoutes(app: FastifyInstance): void {
  app.get('/g/:group/decide/value', { config: { access: 'reader' } }, async (request, reply) => {
    const { group, role } = request.member
    const { season, seasons, rows } = await asked(request)
    const at = `/g/${group.slug}/decide/value`
    const shown = season && rows.length > 0 ? valuePage({ season: season.name, rows }, group) : null
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
    const { season, rows } = await asked(request)
    return {
      schemaVersion: 1,
      scenario: 'value',
      season: season?.name ?? null,
      currency: request.member.group.currency,
      methods: rows.map((row) => ({
        ...row,
        minorPerHourAfterInputs: returnPerHour(row, 1),
      })),
    }
  })
}

/** The season asked for, otherwise the last that is closed, otherwise the last with weights. */
async function asked(request: FastifyRequest) {
  const { group } = request.member
  const { record, crops, prices } = await request.readAtOnce(async (tx) => ({
    record: (await recordKeptAt(tx, request)).record,
    crops: await cropsOf(tx, group.id),
    prices: await cropPricesOf(tx, group.id),
  }))
  const weighed = new Set(record.plantings.filter((one) => one.marketableG > 0).map((one) => one.seasonId))
  const seasons = record.seasons.filter(({ id }) => weighed.has(id))
  const wanted = queryOf(request).season
  const season = seasons.find(({ id }) => id === wanted) ?? seasons.findLast((one) => one.closed) ?? seasons.at(-1)
  if (!season) return { season, seasons, rows: [] }
  const worth = crops.map((crop) => ({ ...crop, priceMinorPerKg: priceOfSeason(prices.get(crop.id) ?? [], season) }))
  return { season, seasons, rows: worthOfMethods(record, season.id, worth) }
}
