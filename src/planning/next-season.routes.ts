import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify'
import { keptRecord } from '../comparison/record/kept-record.queries.ts'
import type { TrialRecord } from '../comparison/record/trial-record.ts'
import { type Answered, unanswered } from '../decisions/answered.ts'
import { toLog, type Whose } from '../decisions/to-log.ts'
import { methodsOf } from '../gardens/gardens.queries.ts'
import { dayIn } from '../quantities/dates.ts'
import { seasonsOf } from '../seasons/seasons.queries.ts'
import { type RefusedForm, readForm } from '../web/form.ts'
import { queryOf } from '../web/query-of.ts'
import { wordsHere } from '../web/words-here.ts'
import { planForm } from './next-season.form.ts'
import { nextSeasonPage, spreadKeys, spreadsToOffer } from './next-season.page.ts'
import { ownSpreads } from './own-spreads.ts'
import { planKinds } from './plan.ts'
import { writePlanRoutes } from './write-plan.routes.ts'

const words = () => wordsHere().nextSeason

/**
 * Which comparisons next season's layout should be able to settle: a plan, what it can show, and what one more would
 * buy.
 */
/** For the page of a season's end: gardens that hold both methods, with the group's own spreads. */
export async function nextSeasonAnswered(request: FastifyRequest): Promise<Answered> {
  const { group } = request.member
  const { record } = await keptRecord(request)
  const form = readForm(planForm, offeredFor(record, ownSpreads(record)))
  if (form.kind === 'refused') return unanswered('nextSeason')
  const { smallest, df, about, matters, chance, tried, variants } = nextSeasonPage(form.value, group.locale)
  const said =
    // Where a smallest difference can be told its chance can: the two are null together.
    smallest === null ? words().none : `${words().smallest(smallest, df)} ${words().chance(matters, chance ?? '')}`
  const more = variants.find((one) => one.change === 'season')
  return {
    key: 'nextSeason',
    about: words().about(form.value.n, form.value.crops),
    answer: said,
    sure: tried ? [words().tried[about](tried)] : [],
    change: more?.smallest ? words().oneMoreSeason(more.smallest) : null,
    handed: null,
  }
}

/** What the form begins with: as many gardens and matched crops as the group has. */
function offeredFor(record: TrialRecord, own: ReturnType<typeof ownSpreads>): Record<string, string> {
  const crops = new Set(record.plantings.filter((one) => one.matchedSetId !== null).map((one) => one.crop)).size
  return {
    ...{ kind: 'split gardens', n: String(Math.max(2, record.gardens.length)), crops: String(Math.max(1, crops)) },
    ...{ seasons: '1', matters: '20', ...spreadsToOffer(own.kind === 'answer' ? own.spreads : null) },
  }
}

export function nextSeasonRoutes(app: FastifyInstance): void {
  app.get('/g/:group/decide/next-season', { config: { access: 'reader' } }, (request, reply) =>
    show(request, reply, null),
  )
  writePlanRoutes(app, show)
}

async function show(request: FastifyRequest, reply: FastifyReply, refused: RefusedForm | null) {
  const { group, role } = request.member
  const { record } = await keptRecord(request)
  const own = ownSpreads(record)
  const asked = queryOf(request)
  const typed = { ...offeredFor(record, own), ...asked }
  const form = readForm(planForm, typed)
  const { seasons, methods } = await request.read(async (tx) => ({
    seasons: await seasonsOf(tx, group.id),
    methods: await methodsOf(tx, group.id),
  }))
  const today = dayIn(group.timeZone, new Date())
  const plan = form.kind === 'answer' ? nextSeasonPage(form.value, group.locale) : null
  const page = {
    typed,
    errors: form.kind === 'refused' ? form.errors : {},
    plan,
    own: own.kind === 'answer' ? { plantings: own.plantings, told: Object.keys(own.spreads) } : null,
    kinds: planKinds,
    spreads: spreadKeys,
    spreadsWrong: form.kind === 'refused' && spreadKeys.some((key) => form.errors[key] !== undefined),
    write: {
      typed:
        refused?.typed ?? (plan?.proposed ? { ...plan.proposed, matters: Math.round(Number(typed.matters)) } : null),
      errors: refused?.errors ?? {},
      wrong: refused !== null,
      seasonChoices: seasons.filter((one) => one.startsOn > today).map(({ id, name }) => ({ value: id, label: name })),
      methodChoices: methods.map(({ id, name }) => ({ value: id, label: name })),
      mayChange: role === 'keeper',
    },
    logAddress: plan?.smallest ? logAddress(group, plan, request.url) : null,
  }
  const wrong = refused !== null || form.kind === 'refused'
  return reply.page('planning/next-season', page, { title: words().title, status: wrong ? 422 : 200 })
}

function logAddress(group: Whose, { smallest, df, matters, chance }: ReturnType<typeof nextSeasonPage>, from: string) {
  // Only a plan that could be judged is written down: neither is null here.
  const finding = words().smallest(smallest ?? '', df)
  // The same.
  return toLog(group, { question: words().title, finding, from, expected: words().chance(matters, chance ?? '') })
}
