import type { FastifyInstance, FastifyRequest } from 'fastify'
import { writeCsv } from '../web/csv.ts'
import { textAsked } from '../web/query-of.ts'
import { weatherOf } from './weather.queries.ts'

/** A station's days for programs, at the address of the page: tenths of a degree Celsius and of a millimetre. */
export function weatherFigureRoutes(app: FastifyInstance): void {
  const config = { access: 'reader' } as const
  app.get('/g/:group/weather.json', { config }, async (request) => ({ schemaVersion: 1, days: await daysFor(request) }))
  app.get('/g/:group/weather.csv', { config }, async (request, reply) => {
    const days = await daysFor(request)
    const cells = [
      ['station', 'day', 'minimumTenthsC', 'maximumTenthsC', 'rainTenthsMm'],
      ...days.map((one) => [one.station, one.day, one.minimumTenthsC, one.maximumTenthsC, one.rainTenthsMm]),
    ]
    return reply.type('text/csv; charset=utf-8').send(writeCsv(cells))
  })
}

/** Of the station and between the days that the address names; of all where it names none. */
async function daysFor(request: FastifyRequest) {
  const [station, from, to] = ['station', 'from', 'to'].map((name) => textAsked(request, name))
  const rows = await request.read((tx) => weatherOf(tx, request.member.group.id))
  return rows
    .filter((row) => (!station || row.station === station) && (!from || row.day >= from) && (!to || row.day <= to))
    .map(({ station, day, minimumTenthsC, maximumTenthsC, rainTenthsMm }) => ({
      station,
      day,
      minimumTenthsC,
      maximumTenthsC,
      rainTenthsMm,
    }))
}
