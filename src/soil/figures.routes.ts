import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify'
import { writeCsv } from '../web/csv.ts'
import { notFound } from '../web/problem.ts'
import { textAsked } from '../web/query-of.ts'
import { ledgerRows } from './ledger.queries.ts'
import { samplePlacesOf, soilTestsOf } from './soil.queries.ts'
import { ledgerCells, ledgerFigures, soilCells, soilFigures } from './soil-figures.ts'

/** The figures of the soil's pages for programs, at the addresses of the pages. */
export function soilFigureRoutes(app: FastifyInstance): void {
  const config = { access: 'reader' } as const
  const csv = (reply: FastifyReply, cells: Parameters<typeof writeCsv>[0]) =>
    reply.type('text/csv; charset=utf-8').send(writeCsv(cells))

  app.get('/g/:group/soil.json', { config }, (request) => tests(request))
  app.get('/g/:group/soil.csv', { config }, async (request, reply) => csv(reply, soilCells(await tests(request))))
  app.get('/g/:group/soil/balance.json', { config }, (request) => balance(request))
  app.get('/g/:group/soil/balance.csv', { config }, async (request, reply) =>
    csv(reply, ledgerCells(await balance(request))),
  )
}

const tests = (request: FastifyRequest) =>
  request.read(async (tx) => {
    const { id } = request.member.group
    return soilFigures(await soilTestsOf(tx, id), await samplePlacesOf(tx, id))
  })

/** Of the season that the address names, or of all. */
const balance = (request: FastifyRequest) =>
  request.read(async (tx) => {
    const asked = textAsked(request, 'season') ?? null
    const rows = await ledgerRows(tx, request.member.group.id)
    if (asked !== null && !rows.seasons.some((one) => one.id === asked)) throw notFound()
    return ledgerFigures(rows, asked)
  })
