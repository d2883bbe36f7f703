import type { FastifyInstance, FastifyRequest } from 'fastify'
import { firstSaid } from '../comparison/first-said.routes.ts'
import { dayIn } from '../quantities/dates.ts'
import { seasonsOf } from '../seasons/seasons.queries.ts'
import { wordsHere } from '../web/words-here.ts'
import { type Answered, unanswered } from './answered.ts'
import { decisionsOf } from './decisions.queries.ts'
import { dressingAnswered } from './dressing.routes.ts'
import { payBackAnswered } from './pay-back.routes.ts'
import { restartAnswered } from './restart.routes.ts'
import { seasonEndPage } from './season-end.page.ts'

interface SeasonEndOptions {
  /** The planner lies above this chapter. */
  readonly nextSeason: (request: FastifyRequest) => Promise<Answered>
}

/**
 * The questions of a season's end in the order in which they are decided, each with its answer, how sure and what would
 * change it.
 */
export function seasonEndRoutes(app: FastifyInstance, { nextSeason }: SeasonEndOptions): void {
  const answersFor = async (request: FastifyRequest) => [
    await methodsAnswered(request),
    await dressingAnswered(request),
    await restartAnswered(request),
    await payBackAnswered(request),
    await nextSeason(request),
  ]

  app.get('/g/:group/decide', { config: { access: 'reader' } }, async (request, reply) => {
    const { group } = request.member
    const today = dayIn(group.timeZone, new Date())
    const { seasons, decisions } = await request.read(async (tx) => ({
      seasons: await seasonsOf(tx, group.id),
      decisions: await decisionsOf(tx, group.id),
    }))
    const answers = await answersFor(request)
    const page = seasonEndPage(answers, { seasons, decisions, today, slug: group.slug, currency: group.currency })
    return reply.page('decisions/season-end', page, { title: wordsHere().deciding.seasonEnd.title })
  })

  app.get('/g/:group/decide.json', { config: { access: 'reader' } }, async (request) => ({
    schemaVersion: 1,
    answers: (await answersFor(request)).map(({ handed: _, ...answer }) => answer),
  }))
}

async function methodsAnswered(request: FastifyRequest): Promise<Answered> {
  const { sentence, sure, settle } = await firstSaid(request)
  return {
    ...unanswered('methods'),
    answer: sentence,
    sure: [...new Set([sure[0], sure.at(-1)])].flatMap((line) => line ?? []),
    change: settle,
  }
}
