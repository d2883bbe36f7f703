import type { FastifyInstance } from 'fastify'
import { trialRecord } from '../comparison/record/trial-record.queries.ts'
import { readForm } from '../web/form.ts'
import { catalogue } from '../words/catalogue.ts'
import { planForm } from './next-season.form.ts'
import { nextSeasonPage, spreadKeys, spreadsToOffer } from './next-season.page.ts'
import { ownSpreads } from './own-spreads.ts'
import { planKinds } from './plan.ts'

const words = catalogue.nextSeason

/** Which comparisons next season's layout should be able to settle: a plan, what it can show, and what one more would buy. */
export function nextSeasonRoutes(app: FastifyInstance): void {
  app.get('/g/:group/decide/next-season', { config: { access: 'reader' } }, async (request, reply) => {
    const { group } = request.member
    const record = await request.read((tx) => trialRecord(tx, group.id))
    const own = ownSpreads(record)
    const asked = request.query as Record<string, unknown>
    const crops = new Set(record.plantings.filter((one) => one.matchedSetId !== null).map((one) => one.crop)).size
    const offered = {
      ...{ kind: 'split gardens', n: String(Math.max(2, record.gardens.length)), crops: String(Math.max(1, crops)) },
      ...{ seasons: '1', matters: '20', ...spreadsToOffer(own.kind === 'answer' ? own.spreads : null) },
    }
    const typed = { ...offered, ...asked }
    const form = readForm(planForm, typed)
    const page = {
      typed,
      errors: form.kind === 'refused' ? form.errors : {},
      plan: form.kind === 'answer' ? nextSeasonPage(form.value, group.locale) : null,
      own: own.kind === 'answer' ? { plantings: own.plantings, told: Object.keys(own.spreads) } : null,
      kinds: planKinds,
      spreads: spreadKeys,
    }
    return reply.page('planning/next-season', page, { title: words.title, status: form.kind === 'refused' ? 422 : 200 })
  })
}
