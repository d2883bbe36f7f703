import type { FastifyInstance, FastifyRequest } from 'fastify'
import { z } from 'zod'
import { asShown } from '../lookups/unsaid.ts'
import { seasonsOf } from '../seasons/seasons.queries.ts'
import { notFound } from '../web/problem.ts'
import { addressPart } from '../web/query-of.ts'
import { catalogue } from '../words/catalogue.ts'
import { historyPage, rowPage, type Telling, tableNamed } from './history.page.ts'
import { changesOfRow, latestChanges, namesOfGroup } from './history.queries.ts'

const words = catalogue.history
const changesAtOnce = 100

/** Any address is read: what in it is not a choice of this page is no choice. */
const asked = z.object({
  table: z
    .string()
    .refine((table) => Object.hasOwn(words.tables, table))
    .nullable()
    .catch(null),
  closed: z.uuid().nullable().catch(null),
  below: z
    .string()
    .regex(/^\d{1,15}$/)
    .transform(Number)
    .nullable()
    .catch(null),
})

/** For keepers: what was changed, by whom, when and why. */
export function historyRoutes(app: FastifyInstance): void {
  app.get('/g/:group/history', { config: { access: 'keeper' } }, async (request, reply) => {
    const { group } = request.member
    const { table, closed, below } = asked.parse(request.query ?? {})
    const { seasons, changes, names } = await request.read(async (tx) => {
      const seasons = (await seasonsOf(tx, group.id)).filter((season) => season.closedAt !== null)
      const since = seasons.find((season) => season.id === closed) ?? null
      const changes = await latestChanges(tx, group.id, { table, closed: since, below }, changesAtOnce + 1)
      return { seasons, changes, names: await namesOfGroup(tx, group.id) }
    })
    const season = seasons.find((one) => one.id === closed)
    const shown = changes.slice(0, changesAtOnce)
    const chosen = new URLSearchParams({ ...(table ? { table } : {}), ...(season ? { closed: season.id } : {}) })
    const page = {
      ...historyPage(shown, tellingOf(request, names)),
      table,
      closed: asShown(season?.id),
      said: season ? words.afterClosingSay(season.name) : words.lead,
      tables: [{ value: '', label: words.all }, ...tableChoices()],
      times: [
        { value: '', label: words.anyTime },
        ...seasons.map(({ id, name }) => ({ value: id, label: words.afterClosing(name) })),
      ],
      newest: below === null ? null : `?${chosen}`,
      older: changes.length > changesAtOnce ? `?${chosen}&below=${shown.at(-1)?.number}` : null,
    }
    return reply.page('exchange/history', page, { title: words.title })
  })

  app.get('/g/:group/history/:table/:row', { config: { access: 'keeper' } }, async (request, reply) => {
    const [table, row] = [addressPart(request, 'table'), addressPart(request, 'row')]
    if (!Object.hasOwn(words.tables, table)) throw notFound()
    const { changes, names } = await request.read(async (tx) => ({
      changes: await changesOfRow(tx, request.member.group.id, table, row),
      names: await namesOfGroup(tx, request.member.group.id),
    }))
    if (changes.length === 0) throw notFound()
    const page = rowPage(changes, tellingOf(request, names))
    return reply.page('exchange/history-of-row', page, { title: words.rowTitle(page.what) })
  })
}

function tellingOf(request: FastifyRequest, names: ReadonlyMap<string, string>): Telling {
  const { slug, locale, timeZone, currency } = request.member.group
  return { slug, locale, timeZone, currency, names }
}

const tableChoices = () =>
  Object.keys(words.tables)
    .map((table) => ({ value: table, label: tableNamed(table) }))
    .sort((a, b) => (a.label < b.label ? -1 : 1))
