import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify'
import type { z } from 'zod'
import { cropName } from '../comparison/record/crop-name.ts'
import { recordKeptAt } from '../comparison/record/kept-record.queries.ts'
import type { TrialRecord } from '../comparison/record/trial-record.ts'
import { type Answered, unanswered } from '../decisions/answered.ts'
import { assumptionsIn } from '../decisions/field-assumed.ts'
import { type HandedToLog, toLog } from '../decisions/to-log.ts'
import { blocksOf, methodsOf } from '../gardens/gardens.queries.ts'
import { nameIfAny } from '../lookups/unsaid.ts'
import { dayIn } from '../quantities/dates.ts'
import { questionsOf, type Terms } from '../seasons/question.queries.ts'
import { seasonsOf } from '../seasons/seasons.queries.ts'
import { aside } from '../web/aside.ts'
import { type RefusedForm, readForm, type Typed } from '../web/form.ts'
import { queryOf } from '../web/query-of.ts'
import { wordsHere } from '../web/words-here.ts'
import { planForm } from './next-season.form.ts'
import { nextSeasonPage, spreadKeys, spreadsToOffer } from './next-season.page.ts'
import { ownSpreads } from './own-spreads.ts'
import { planKinds } from './plan.ts'
import { methodsPlanned, planChosen } from './plan-chosen.ts'
import { writePlanRoutes } from './write-plan.routes.ts'

const words = () => wordsHere().nextSeason

/**
 * Which comparisons next season's layout should be able to settle: a plan, what it can show, and what one more would
 * buy.
 */
export function nextSeasonRoutes(app: FastifyInstance): void {
  app.get('/g/:group/decide/next-season', { config: { access: 'reader' } }, (request, reply) =>
    show(request, reply, null),
  )
  writePlanRoutes(app, show)
}

/** For the page of a season's end: gardens that hold two methods, with the group's own spreads. */
export async function nextSeasonAnswered(request: FastifyRequest): Promise<Answered> {
  const known = await knownOf(request)
  const form = readForm(planForm, offeredFor(known.own))
  if (form.kind === 'refused') return unanswered('nextSeason')
  const plan = planChosen(form.value, known)
  const page = nextSeasonPage(plan, form.value, request.member.group.locale)
  const { answer, about, tried, variants } = page
  const more = variants.find((one) => one.change === 'season')
  return {
    key: 'nextSeason',
    about: words().about(plan.n, plan.crops),
    answer,
    sure: tried ? [words().tried[about](tried)] : [],
    change: more?.smallest ? words().oneMoreSeason(more.smallest) : null,
    handed: handedOn(form.value, page, known),
  }
}

/** What the form begins with: all of the group's gardens and matched crops, and the spreads that its record tells. */
function offeredFor(own: ReturnType<typeof ownSpreads>): Record<string, string> {
  const spreads = spreadsToOffer(own.kind === 'answer' ? own.spreads : null)
  return { kind: 'split gardens', n: '', crops: '', seasons: '1', matters: '20', ...spreads }
}

const spreadsAside = aside({ module: 'own-spreads', name: 'ownSpreads' }, ownSpreads)
const bytesOfSpreads = 500

type Known = Awaited<ReturnType<typeof knownOf>>
type PlanGiven = z.output<typeof planForm>

/** What of the group's own a plan can be made of. */
async function knownOf(request: FastifyRequest) {
  const { id } = request.member.group
  const rows = await request.readAtOnce(async (tx) => ({
    ...(await recordKeptAt(tx, request)),
    methods: await methodsOf(tx, id),
    seasons: await seasonsOf(tx, id),
    blocks: await blocksOf(tx, id),
    questions: await questionsOf(tx, id),
  }))
  const { record, changes, blocks, questions } = rows
  const withBeds = new Set(record.beds.map((bed) => bed.gardenId))
  const bedded = record.gardens.filter((one) => withBeds.has(one.id))
  return {
    methodRows: rows.methods,
    seasonRows: rows.seasons,
    blockRows: blocks,
    gardenRows: bedded,
    own: await request.kept.of({
      groupId: id,
      changes,
      name: 'own spreads',
      make: () => spreadsAside(record, null),
      bytesOf: () => bytesOfSpreads,
    }),
    gardens: bedded.map((one) => one.id),
    blocks: blocks.map((one) => one.id),
    crops: matchedCropsOf(record),
    questions: questions.map((one) => ({
      seasonId: one.seasonId,
      text: one.question,
      pairs: (one.terms as Terms).pairs ?? [],
    })),
  }
}

const matchedCropsOf = ({ plantings }: TrialRecord) =>
  [...new Set(plantings.filter((one) => one.matchedSetId !== null).map(cropName))].sort()

async function show(request: FastifyRequest, reply: FastifyReply, refused: RefusedForm | null) {
  const { group, role } = request.member
  const known = await knownOf(request)
  const { own } = known
  const typed = { ...offeredFor(own), ...queryOf(request) }
  const form = readForm(planForm, typed)
  const plan = form.kind === 'answer' ? planChosen(form.value, known) : null
  const uneven = plan?.kind === 'turns' && plan.n % plan.methods !== 0
  const errors = form.kind === 'refused' ? form.errors : uneven ? { n: words().wholeTurns(plan.methods) } : {}
  const shown = form.kind === 'answer' && plan && !uneven ? nextSeasonPage(plan, form.value, group.locale) : null
  const today = dayIn(group.timeZone, new Date())
  const toLogHanded = form.kind === 'answer' && shown ? handedOn(form.value, shown, known) : null
  const page = {
    typed,
    errors,
    shown,
    own: own.kind === 'answer' ? { plantings: own.plantings, told: Object.keys(own.spreads) } : null,
    kinds: planKinds,
    spreads: spreadKeys,
    spreadsWrong: spreadKeys.some((key) => errors[key] !== undefined),
    chosen: chosenFrom(typed, known),
    methodChoices: known.methodRows.map(({ id, name }) => ({ value: id, label: name })),
    questionChoices: known.questions
      .filter((one) => one.pairs.length > 0)
      .map(({ seasonId, text }) => ({ value: seasonId, label: words().ofSeason(seasonName(known, seasonId), text) })),
    write: {
      typed: refused?.typed ?? writtenFrom(typed, shown),
      chosen: chosenFrom(refused?.typed ?? typed, known),
      errors: refused?.errors ?? {},
      wrong: refused !== null,
      seasonChoices: known.seasonRows
        .filter((one) => one.startsOn > today)
        .map(({ id, name }) => ({ value: id, label: name })),
      mayChange: role === 'keeper',
    },
    logAddress:
      shown && toLogHanded && role === 'keeper'
        ? toLog(group, { ...toLogHanded, question: words().title, finding: shown.answer, from: request.url })
        : null,
  }
  const wrong = refused !== null || Object.keys(errors).length > 0
  return reply.page('planning/next-season', page, { title: words().title, status: wrong ? 422 : 200 })
}

const seasonName = ({ seasonRows }: Known, id: string) => nameIfAny(seasonRows.find((one) => one.id === id))

/** The boxes of each list, ticked as they were sent. */
function chosenFrom(typed: Typed, { methodRows, gardenRows, blockRows, crops }: Known) {
  const boxes = (name: string, rows: readonly { readonly id: string; readonly name: string }[]) => {
    const ticked = new Set([typed[name] ?? []].flat())
    return { name, boxes: rows.map((one) => ({ value: one.id, label: one.name, ticked: ticked.has(one.id) })) }
  }
  const named = crops.map((name) => ({ id: name, name }))
  return {
    methods: boxes('methods', methodRows),
    ground: [boxes('gardens', gardenRows), boxes('blocks', blockRows), boxes('cropNames', named)],
  }
}

/** The form that writes it begins with what is proposed. */
function writtenFrom(typed: Typed, shown: ReturnType<typeof nextSeasonPage> | null) {
  const proposed = shown?.proposed?.plan ?? shown?.plan
  if (!proposed) return null
  const { kind, seasons } = proposed
  return { kind, seasons, matters: Math.round(Number(typed.matters)), referenceId: typed.referenceId }
}

/** One pair's like-for-like ratio is what the record can say next year; of several pairs the first. */
function handedOn(
  given: PlanGiven,
  { matters, chance, plan }: ReturnType<typeof nextSeasonPage>,
  known: Known,
): Omit<HandedToLog, 'finding' | 'question' | 'from'> {
  const w = words()
  const methods = methodsPlanned(given, known)
  const names = methods.map((id) => nameIfAny(known.methodRows.find((one) => one.id === id)))
  const [besideMethodId, methodId] = methods
  const isPair = besideMethodId !== undefined && methodId !== undefined
  const spreads = spreadKeys.map((key) => ({ label: w.spreads[key], value: `${given[key]} %` }))
  return {
    assumptions: assumptionsIn([
      { label: w.fields.kind, value: w.kinds[plan.kind] },
      { label: w.fields.methods, value: names.join(', ') },
      { label: w.fields.n, value: String(plan.n) },
      { label: w.fields.crops, value: String(plan.crops) },
      { label: w.fields.seasons, value: String(plan.seasons) },
      ...spreads,
    ]),
    ...(chance === null ? {} : { expected: w.chance(matters, chance) }),
    figure: isPair ? { measure: 'matchedRatio', methodId, besideMethodId, value: 1 + given.matters / 100 } : null,
  }
}
