import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify'
import { formatDay } from '../quantities/formatting.ts'
import { readForm } from '../web/form.ts'
import { notFound } from '../web/problem.ts'
import { catalogue } from '../words/catalogue.ts'
import { usualYears } from './family-returns.ts'
import { planAsked } from './plan.form.ts'
import { planPage } from './plan.page.ts'
import { planRowsOf } from './plan.queries.ts'

const words = catalogue.plan
type SeasonRequest = FastifyRequest<{ Params: { season: string } }>

/** A season as it is planned: bed by bed, what follows what. */
export function planRoutes(app: FastifyInstance): void {
  const address = '/g/:group/seasons/:season/plan'
  app.get(address, { config: { access: 'reader' } }, (request, reply) => show(request as SeasonRequest, reply))
}

async function show(request: SeasonRequest, reply: FastifyReply) {
  const { group, role } = request.member
  const rows = await request.read((tx) => planRowsOf(tx, group.id))
  const season = rows.seasons.find((one) => one.id === request.params.season)
  if (!season) throw notFound()
  const asked = readForm(planAsked, request.query)
  const years = asked.kind === 'answer' ? (asked.value.years ?? usualYears) : usualYears
  const page = {
    ...planPage({ ...rows, seasonId: season.id }, group.locale, years),
    season: {
      ...{ id: season.id, name: season.name },
      ...{ from: formatDay(season.startsOn, group.locale), to: formatDay(season.endsOn, group.locale) },
    },
    asked: {
      typed: asked.kind === 'refused' ? String(asked.typed.years ?? '') : String(years),
      error: asked.kind === 'refused' ? asked.errors.years : undefined,
    },
    mayChange: role === 'keeper',
  }
  return reply.page('seasons/plan', page, {
    title: words.title(season.name),
    status: asked.kind === 'refused' ? 422 : 200,
  })
}
