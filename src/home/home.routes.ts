import type { FastifyInstance } from 'fastify'
import { endingOf } from '../accounts/endings.queries.ts'
import { firstSaid } from '../comparison/first-said.routes.ts'
import { recordKeptAt } from '../comparison/record/kept-record.queries.ts'
import { atOnce } from '../db/at-once.ts'
import { decisionsOf } from '../decisions/decisions.queries.ts'
import { dueForALook } from '../decisions/due.ts'
import { methodsOf } from '../gardens/gardens.queries.ts'
import { deliveriesOf } from '../inputs/deliveries.queries.ts'
import { dayIn } from '../quantities/dates.ts'
import { formatDay } from '../quantities/formatting.ts'
import { plantingsKept } from '../seasons/kept-plantings.queries.ts'
import { plantingNames } from '../seasons/planting-names.ts'
import { questionsOf } from '../seasons/question.queries.ts'
import { wordsHere } from '../web/words-here.ts'
import { homePage } from './home.page.ts'
import { lastWritten } from './last-written.queries.ts'

export function homeRoutes(app: FastifyInstance): void {
  app.get('/g/:group', { config: { access: 'reader', keepsPage: true } }, async (request, reply) => {
    const { group, role } = request.member
    const today = dayIn(group.timeZone, new Date())
    const rows = await request.readAtOnce(async (tx) => {
      const [{ record }, methods, deliveries, decisions, questions, last, ending, plantings] = await atOnce([
        recordKeptAt(tx, request),
        methodsOf(tx, group.id),
        deliveriesOf(tx, group.id),
        decisionsOf(tx, group.id),
        questionsOf(tx, group.id),
        lastWritten(tx, group.id),
        endingOf(tx, group.id),
        plantingsKept(tx, request),
      ])
      return { record, methods, deliveries, due: dueForALook(decisions, today), questions, last, ending, plantings }
    })
    const gardens = rows.record.gardens.map((one): [string, string] => [one.id, one.name])
    const names = new Map([...plantingNames(rows.plantings, group.locale), ...gardens])
    const { sentence } = await firstSaid(request)
    const page = {
      said: sentence,
      ends: rows.ending && formatDay(dayIn(group.timeZone, rows.ending.endsAt), group.locale),
      ...homePage({ ...rows, today, names }, `/g/${group.slug}`, group.locale),
      isKeeper: role === 'keeper',
      mayRecord: role !== 'reader',
    }
    return reply.page('home/home', page, { title: wordsHere().home.title })
  })
}
