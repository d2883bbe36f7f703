import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify'
import { comparePictures, pictureSource } from '../comparison/pictures/compare-pictures.page.ts'
import { writeCsv } from '../web/csv.ts'
import { drawnName } from '../web/drawn-files.ts'
import { notFound } from '../web/problem.ts'
import { addressPart, textAsked } from '../web/query-of.ts'
import { figureTablesIn } from './figure-tables.ts'
import { figuresIn } from './figures-of-today.routes.ts'
import type { ReportStanding } from './one-report.routes.ts'
import { recomputeScript } from './recompute-script.ts'
import { isRowTable } from './row-tables.ts'

type Find = (request: FastifyRequest, reply: FastifyReply) => Promise<ReportStanding>

interface FilesAt {
  readonly address: string
  readonly access: 'public' | 'reader'
  /** The kept files of the script that counts again. */
  readonly scriptParts: readonly string[]
  readonly find: Find
}

/**
 * The figures of a report at its address with `.json` and `.csv?table=`; the rows behind them only where it was agreed.
 */
export function figureFiles(app: FastifyInstance, { address, access, scriptParts, find }: FilesAt): void {
  const csv = 'text/csv; charset=utf-8'
  const config = { access, fromReplica: true }
  app.get(`${address}.json`, { config }, async (request, reply) => {
    const report = await find(request, reply)
    const { title, state, edition, frozenAt, dataCutOff, checksum } = report
    const made = { edition, dataCutOff, serviceVersion: report.serviceVersion, checksum }
    return { title, state, frozenAt, ...made, figures: figuresIn(report.contents) }
  })
  app.get(`${address}.csv`, { config }, async (request, reply) => {
    const report = await find(request, reply)
    const rows = figureTablesIn(report.contents).get(textAsked(request, 'table') ?? 'methods')
    if (!rows) throw notFound()
    return reply.type(csv).send(writeCsv(rows))
  })
  app.get(`${address}/pictures/:picture`, { config }, async (request, reply) => {
    const { contents } = await find(request, reply)
    const named = drawnName(addressPart(request, 'picture'))
    const { locale, seasons = [] } = contents
    const drawn = comparePictures(contents.pictures ?? [], locale).find((one) => one.picture.id === named?.id)
    if (!named || !drawn) throw notFound()
    const names = seasons.map((name) => ({ name }))
    return reply.drawn(drawn.picture, named.ending, pictureSource(request.member.group.name, names, locale))
  })
  app.get(`${address}/rows.csv`, { config }, async (request, reply) => {
    const { rows } = await find(request, reply)
    const table = textAsked(request, 'table')
    if (!rows || !isRowTable(table)) throw notFound()
    return reply.type(csv).send(writeCsv(rows[table] ?? []))
  })
  app.get(`${address}/recompute.R`, { config }, async (request, reply) => {
    const { rows, contents } = await find(request, reply)
    if (!rows) throw notFound()
    const edition = textAsked(request, 'edition')
    const from = `${request.protocol}://${request.host}${request.url.split('?')[0]?.replace(/\/recompute\.R$/, '')}`
    const query = edition && /^\d{1,6}$/.test(edition) ? `&edition=${edition}` : ''
    const script = recomputeScript({ from, query, contents, parts: scriptParts })
    return reply.type('text/plain; charset=utf-8').send(script)
  })
}
