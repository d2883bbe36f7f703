import type { FastifyInstance } from 'fastify'
import { peopleOf } from '../accounts/members.queries.ts'
import { decisionsOf } from '../decisions/decisions.queries.ts'
import { dueForALook } from '../decisions/due.ts'
import { standingClosings } from '../diary/week.queries.ts'
import { bedsOf, gardensOf, methodsOf, sitesOf } from '../gardens/gardens.queries.ts'
import { dayIn } from '../quantities/dates.ts'
import { formatDay } from '../quantities/formatting.ts'
import { questionsOf } from '../seasons/question.queries.ts'
import { assignmentsOf, plantingsOf, seasonsOf } from '../seasons/seasons.queries.ts'
import { catalogue } from '../words/catalogue.ts'
import { homePage } from './home.page.ts'

export function homeRoutes(app: FastifyInstance): void {
  app.get('/g/:group', { config: { access: 'reader' } }, async (request, reply) => {
    const { group, role } = request.member
    const today = dayIn(group.timeZone, new Date())
    const { rows, questions, decisions } = await request.read(async (tx) => ({
      questions: await questionsOf(tx, group.id),
      decisions: await decisionsOf(tx, group.id),
      rows: {
        today,
        sites: await sitesOf(tx, group.id),
        methods: await methodsOf(tx, group.id),
        gardens: await gardensOf(tx, group.id),
        beds: await bedsOf(tx, group.id),
        seasons: await seasonsOf(tx, group.id),
        assignments: await assignmentsOf(tx, group.id),
        plantings: await plantingsOf(tx, group.id),
        closings: await standingClosings(tx, group.id),
        people: (await peopleOf(tx, group.id)).length,
      },
    }))
    const page = {
      ...homePage(rows, `/g/${group.slug}`, questions),
      due: dueForALook(decisions, today).map(({ id, decision, expected, lookAgainOn }) => ({
        ...{ id, decision, expected, day: formatDay(lookAgainOn ?? '', group.locale) },
      })),
      isKeeper: role === 'keeper',
      mayRecord: role !== 'reader',
    }
    return reply.page('home/home', page, { title: catalogue.home.title })
  })
}
