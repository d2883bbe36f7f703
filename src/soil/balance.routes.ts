import type { FastifyInstance } from 'fastify'
import { seasonsOf } from '../seasons/seasons.queries.ts'
import { textAsked } from '../web/query-of.ts'
import { wordsHere } from '../web/words-here.ts'
import { balancePage } from './balance.page.ts'
import { balanceRows } from './balance.queries.ts'

/** What a season's inputs carried less what its harvests took away, garden by garden. */
export function balanceRoutes(app: FastifyInstance): void {
  app.get('/g/:group/soil/balance', { config: { access: 'reader' } }, async (request, reply) => {
    const { group } = request.member
    const asked = textAsked(request, 'season') ?? ''
    const { seasons, season, rows } = await request.read(async (tx) => {
      const seasons = await seasonsOf(tx, group.id)
      const season = seasons.find((one) => one.id === asked) ?? seasons.at(-1)
      return { seasons, season, rows: season && (await balanceRows(tx, group.id, season)) }
    })
    const page = {
      ...(rows ? balancePage(rows, group.locale) : { nutrients: [] }),
      season: season?.id ?? '',
      closed: season?.closedAt !== null,
      seasonChoices: seasons.map(({ id, name }) => ({ value: id, label: name })).reverse(),
    }
    return reply.page('soil/balance', page, { title: wordsHere().soil.balance.title })
  })
}
