import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify'
import { constraintOf } from '../db/constraint.ts'
import type { Tx } from '../db/database.ts'
import { newId } from '../db/new-id.ts'
import { lyingOver } from '../gardens/areas-held.ts'
import { methodsOf } from '../gardens/gardens.queries.ts'
import { sent } from '../lookups/unsaid.ts'
import { addDays } from '../quantities/dates.ts'
import { formatDay } from '../quantities/formatting.ts'
import { type RefusedForm, readForm, refuseForm } from '../web/form.ts'
import { notFound } from '../web/problem.ts'
import { wordsHere } from '../web/words-here.ts'
import { usualYears } from './family-returns.ts'
import { gardenParts } from './garden-parts.ts'
import { planAsked, type Successions, successionsForm } from './plan.form.ts'
import { planPage, type Seen } from './plan.page.ts'
import { planRowsOf, saveSowings } from './plan.queries.ts'
import { assignmentsOf } from './seasons.queries.ts'
import { missingSaid, twinAsked } from './twins.page.ts'

const words = () => wordsHere().plan
interface SeasonRoute {
  Params: { season: string }
}
type SeasonRequest = FastifyRequest<SeasonRoute>

/** What other chapters know of plantings, handed in because this one stands below them. */
interface PlanOptions {
  readonly picked: (tx: Tx, groupId: string) => Promise<Seen['picked']>
  readonly stands: (tx: Tx, groupId: string) => Promise<Seen['stands']>
}

/** A season as it is planned: bed by bed, what follows what; and one cultivar sown again and again. */
export function planRoutes(app: FastifyInstance, options: PlanOptions): void {
  const address = '/g/:group/seasons/:season/plan'
  app.get<SeasonRoute>(address, { config: { access: 'reader' } }, (request, reply) =>
    show(request, reply, options, null),
  )

  app.post<SeasonRoute>(`${address}/successions`, { config: { access: 'keeper' } }, async (request, reply) => {
    const form = readForm(successionsForm(request.member.group.areaUnit), request.body)
    if (form.kind === 'refused') return show(request, reply, options, form)
    const errors = await sown(request, form.value)
    if (errors) return show(request, reply, options, refuseForm(request.body, errors))
    return reply.backTo(
      `/g/${request.member.group.slug}/seasons/${request.params.season}/plan`,
      await sownNotice(request, form.value),
    )
  })
}

/** That they are planned; and in which gardens the cultivar lacks. */
async function sownNotice(request: SeasonRequest, { id }: Successions): Promise<string> {
  const { group } = request.member
  const rows = await request.read(async (tx) => ({
    ...(await planRowsOf(tx, group.id)),
    assignments: await assignmentsOf(tx, group.id),
  }))
  const asked = twinAsked({ ...rows, seasonId: request.params.season }, id)
  return asked ? `${words().sown} ${asked}` : words().sown
}

/** All of the sowings or none: each bed holds them together, or the sentence says that one does not. */
async function sown(request: SeasonRequest, { beds, firstOn, everyDays, times, ...given }: Successions) {
  const { group, personId } = request.member
  const days = Array.from({ length: times }, (_, i) => addDays(firstOn, i * everyDays))
  const rows = await request.read((tx) => planRowsOf(tx, group.id))
  const season = rows.seasons.find((one) => one.id === request.params.season)
  if (!season) throw notFound()
  const last = days.at(-1) ?? firstOn
  if (last > season.endsOn) return { times: words().lastAfterEnd(formatDay(last, group.locale)) }
  if (firstOn < season.startsOn) return { firstOn: wordsHere().seasons.dayOutside }
  if (beds.some((id) => !rows.beds.some((bed) => bed.id === id))) return { beds: wordsHere().fields.notChosen }
  const setName = (sowing: number) => words().sowingName(given.cultivar, sowing, times)
  const wanted = { ...given, bedIds: beds, days, seasonId: season.id, setName }
  try {
    await request.write((tx) => saveSowings(tx, { groupId: group.id, createdBy: personId }, wanted))
    return null
  } catch (error) {
    if (constraintOf(error) === 'plantings_fit_their_bed') return { areaCm2: words().bedTooFull(times) }
    if (constraintOf(error) === 'cultivars_crop') return { cropId: wordsHere().fields.notChosen }
    throw error
  }
}

async function show(request: SeasonRequest, reply: FastifyReply, options: PlanOptions, refused: RefusedForm | null) {
  const { group, role } = request.member
  const rows = await request.read(async (tx) => ({
    ...(await planRowsOf(tx, group.id)),
    assignments: await assignmentsOf(tx, group.id),
    methods: await methodsOf(tx, group.id),
    picked: await options.picked(tx, group.id),
    stands: await options.stands(tx, group.id),
  }))
  const season = rows.seasons.find((one) => one.id === request.params.season)
  if (!season) throw notFound()
  const asked = readForm(planAsked, request.query)
  const years = asked.kind === 'answer' ? (asked.value.years ?? usualYears) : usualYears
  const page = {
    ...planPage({ ...rows, seasonId: season.id }, { locale: group.locale, years, seen: rows }),
    missing: missingSaid({ ...rows, seasonId: season.id }),
    season: {
      id: season.id,
      name: season.name,
      from: formatDay(season.startsOn, group.locale),
      to: formatDay(season.endsOn, group.locale),
    },
    asked: {
      typed: asked.kind === 'refused' ? sent(asked.typed.years) : String(years),
      error: asked.kind === 'refused' ? asked.errors.years : undefined,
    },
    form: { typed: refused?.typed ?? { id: newId() }, errors: refused?.errors ?? {}, open: refused !== null },
    bedChoices: gardenParts({
      ...rows,
      beds: lyingOver(rows.beds, season),
      laid: rows.assignments.filter((one) => one.seasonId === season.id),
    }).map(({ name, key, beds }) => ({
      name,
      key,
      beds: [{ value: '', label: wordsHere().seasons.notHere }, ...beds],
    })),
    cropChoices: rows.crops.map(({ id, name }) => ({ value: id, label: name })),
    mayChange: role === 'keeper',
  }
  const status = refused || asked.kind === 'refused' ? 422 : 200
  return reply.page('seasons/plan', page, { title: words().title(season.name), status })
}
