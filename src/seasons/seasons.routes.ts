import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify'
import { constraintOf } from '../db/constraint.ts'
import type { Tx } from '../db/database.ts'
import { newId } from '../db/new-id.ts'
import { lyingOver } from '../gardens/areas-held.ts'
import { type Author, bedsOf, gardensOf, methodsOf } from '../gardens/gardens.queries.ts'
import type { IsoDate } from '../quantities/dates.ts'
import { dayIn } from '../quantities/dates.ts'
import { formatDay } from '../quantities/formatting.ts'
import { formAsked, type RefusedForm, readForm, refuseForm } from '../web/form.ts'
import { notFound } from '../web/problem.ts'
import { wordsHere } from '../web/words-here.ts'
import { assigned } from './assigning.routes.ts'
import { inBedFrom } from './bed-course.ts'
import { firstDayOf, seenFrom } from './days-of-season.ts'
import { usualYears } from './family-returns.ts'
import { found404 } from './found-404.routes.ts'
import { plantingsKept } from './kept-plantings.queries.ts'
import { returnsSaid } from './plan.page.ts'
import { assignmentForm, clearingForm, matchedSetForm, plantingsForm, seasonForm } from './seasons.form.ts'
import { type DecidedBefore, decidedBefore, type PlantingWait, type SeedSaved, seasonPage } from './seasons.page.ts'
import {
  assignmentsOf,
  clearPlanting,
  cropsOf,
  type DaysWritten,
  matchedSetsOf,
  type NewPlantings,
  plantingsOf,
  saveMatchedSet,
  savePlantings,
  saveSeason,
  seasonsOf,
} from './seasons.queries.ts'
import { missingSaid, standingSaid, twinAsked } from './twins.page.ts'
import type { Gone } from './twins.ts'
import { comesBefore } from './what-follows.ts'

const ofSeason = '/g/:group/seasons/:season'
const words = () => wordsHere().seasons
type SeasonRoute = { Params: { season: string } }
type SeasonRequest = FastifyRequest<SeasonRoute>

const authorOf = (request: FastifyRequest): Author => ({
  groupId: request.member.group.id,
  createdBy: request.member.personId,
})

/** What other chapters know of a season, handed in because this one stands below them. */
interface SeasonOptions {
  readonly waits: (tx: Tx, groupId: string) => Promise<readonly PlantingWait[]>
  readonly decided: (tx: Tx, groupId: string) => Promise<readonly DecidedBefore[]>
  readonly lost: (tx: Tx, groupId: string) => Promise<readonly Gone[]>
  readonly written: DaysWritten
  readonly seedSaved: (tx: Tx, groupId: string) => Promise<readonly SeedSaved[]>
}

export function seasonRoutes(app: FastifyInstance, options: SeasonOptions): void {
  const showOne = (request: SeasonRequest, reply: FastifyReply, refused: Refused | null) =>
    show(request, reply, options, refused)

  app.get('/g/:group/seasons', { config: { access: 'reader' } }, (request, reply) => showAll(request, reply, null))

  app.post('/g/:group/seasons', { config: { access: 'keeper' } }, async (request, reply) => {
    const form = readForm(seasonForm, request.body)
    if (form.kind === 'refused') return showAll(request, reply, form)
    try {
      await request.write((tx) => saveSeason(tx, authorOf(request), form.value))
    } catch (error) {
      const sentence = {
        seasons_do_not_overlap: words().overlap,
        seasons_name_is_taken: wordsHere().gardens.nameTaken,
      }[constraintOf(error)]
      if (!sentence) throw error
      return showAll(request, reply, refuseForm(request.body, { startsOn: sentence }))
    }
    return reply.backTo(`/g/${request.member.group.slug}/seasons/${form.value.id}`, words().saved)
  })

  app.get<SeasonRoute>(
    '/g/:group/seasons/:season',
    { config: { access: 'reader', keepsPage: true } },
    (request, reply) => showOne(request, reply, null),
  )

  app.post<SeasonRoute>(`${ofSeason}/assignments`, { config: { access: 'keeper' } }, async (request, reply) => {
    const form = readForm(assignmentForm, request.body)
    if (form.kind === 'refused') return showOne(request, reply, { form: 'assignments', ...form })
    const refusal = await found404(() => assigned(request, form.value))
    if (refusal) return showOne(request, reply, { form: 'assignments', ...refuseForm(request.body, refusal) })
    return back(request, reply)
  })

  app.post<SeasonRoute>(`${ofSeason}/plantings`, { config: { access: 'recorder' } }, async (request, reply) => {
    const form = readForm(plantingsForm(request.member.group.areaUnit), request.body)
    if (form.kind === 'refused') return showOne(request, reply, { form: 'plantings', ...form })
    const { beds, ...given } = form.value
    const wanted = { ...given, bedIds: beds, seasonId: request.params.season }
    const errors = await planted(request, wanted)
    if (errors) return showOne(request, reply, { form: 'plantings', ...refuseForm(request.body, errors) })
    return reply.backTo(pathOf(request), await plantedNotice(request, form.value.id))
  })

  app.post<SeasonRoute>(`${ofSeason}/matched-sets`, { config: { access: 'keeper' } }, async (request, reply) => {
    const form = readForm(matchedSetForm, request.body)
    if (form.kind === 'refused') return showOne(request, reply, { form: 'matched-sets', ...form })
    const errors = await request.write((tx) => joinOrSay(tx, authorOf(request), request.params.season, form.value))
    if (errors) return showOne(request, reply, { form: 'matched-sets', ...refuseForm(request.body, errors) })
    return back(request, reply)
  })

  app.post<SeasonRoute>(`${ofSeason}/clearings`, { config: { access: 'recorder' } }, async (request, reply) => {
    const form = readForm(clearingForm, request.body)
    if (form.kind === 'refused') return showOne(request, reply, { form: 'clearings', ...form })
    const { plantingId, clearedOn } = form.value
    const ahead = clearedOn > dayIn(request.member.group.timeZone, new Date())
    if (ahead)
      return showOne(request, reply, { form: 'clearings', ...refuseForm(request.body, { clearedOn: words().ahead }) })
    const errors = await cleared(request, options.written, { plantingId, clearedOn })
    if (errors) return showOne(request, reply, { form: 'clearings', ...refuseForm(request.body, errors) })
    return back(request, reply)
  })
}

async function cleared(
  request: SeasonRequest,
  written: DaysWritten,
  given: { plantingId: string; clearedOn: IsoDate },
) {
  const { id: groupId, locale } = request.member.group
  const { plantingId, clearedOn } = given
  try {
    return await request.write(async (tx) => {
      const { last } = await written(tx, groupId, plantingId)
      if (last !== null && last > clearedOn) return { clearedOn: words().writtenLater }
      const day = await clearPlanting(tx, { ...given, groupId, seasonId: request.params.season })
      if (!day) throw notFound()
      return day === clearedOn ? null : { clearedOn: words().clearedAlready(formatDay(day, locale)) }
    })
  } catch (error) {
    const constraint = constraintOf(error)
    if (constraint === 'plantings_cleared_after_sown') return { clearedOn: words().clearedFirst }
    if (constraint !== 'plantings_fit_their_bed') throw error
    return { clearedOn: await noRoomSaid(request, plantingId, clearedOn) }
  }
}

/** Names what was planned to follow it, and comes while it would still stand. */
async function noRoomSaid(request: SeasonRequest, plantingId: string, clearedOn: IsoDate): Promise<string> {
  const { id, locale } = request.member.group
  const plantings = await request.read((tx) => plantingsOf(tx, id))
  const planting = plantings.find((one) => one.id === plantingId)
  const follows = planting ? comesBefore(plantings, planting, clearedOn) : []
  return words().noRoomUntilThen(
    follows.map((one) => ({ name: `${one.crop}, ${one.cultivar}`, on: formatDay(inBedFrom(one), locale) })),
  )
}

async function plantOrSay(tx: Tx, author: Author, given: NewPlantings): Promise<Record<string, string> | null> {
  const seasons = await seasonsOf(tx, author.groupId)
  const season = seasons.find((one) => one.id === given.seasonId)
  if (!season) throw notFound()
  if (seenFrom(season, given) === 'after') return { [firstDayOf(given)]: words().dayOutside }
  const crop = (await cropsOf(tx, author.groupId)).find((one) => one.id === given.cropId)
  const end = given.standsUntil ?? null
  const picked = end === null ? undefined : seasons.find((one) => one.startsOn <= end && end <= one.endsOn)
  if (crop?.countsWhenPicked && picked && picked.id !== season.id && !given.standsOverSeasons)
    return { standsUntil: words().pickedLater(crop.name, picked.name) }
  const beds = await bedsOf(tx, author.groupId)
  if (given.bedIds.some((bedId) => !beds.some((bed) => bed.id === bedId))) return { beds: wordsHere().fields.notChosen }
  await savePlantings(tx, author, given)
  return null
}

/** The bed may be full: the database counts what stands together, so that two who plant at once are both counted. */
async function planted(request: SeasonRequest, wanted: NewPlantings): Promise<Record<string, string> | null> {
  try {
    return await request.write((tx) => plantOrSay(tx, authorOf(request), wanted))
  } catch (error) {
    if (constraintOf(error) === 'plantings_fit_their_bed') return { areaCm2: words().bedFull }
    if (constraintOf(error) === 'plantings_raised_in') return { raisedInBedId: wordsHere().fields.notChosen }
    if (constraintOf(error) === 'cultivars_crop') return { cropId: wordsHere().fields.notChosen }
    throw error
  }
}

async function joinOrSay(tx: Tx, author: Author, seasonId: string, given: Joined) {
  const chosen = (await plantingsOf(tx, author.groupId)).filter((one) => given.plantingIds.includes(one.id))
  if (chosen.length < new Set(given.plantingIds).size) return { plantingIds: wordsHere().fields.notChosen }
  const [first] = chosen
  if (!first || chosen.some((one) => one.cultivarId !== first.cultivarId))
    return { plantingIds: words().setOneCultivar }
  if (chosen.some((one) => one.seasonId !== seasonId)) return { plantingIds: words().setOneSeason }
  await saveMatchedSet(tx, author, { ...given, seasonId, cultivarId: first.cultivarId })
  return null
}

interface Joined {
  readonly id: string
  readonly name: string
  readonly plantingIds: readonly string[]
}

const pathOf = (request: SeasonRequest) => `/g/${request.member.group.slug}/seasons/${request.params.season}`
const back = (request: SeasonRequest, reply: FastifyReply) => reply.backTo(pathOf(request), words().saved)

/** Saved; and where the cultivar is missing, and that it stood before its season, where that is so. */
async function plantedNotice(request: SeasonRequest, plantingId: string): Promise<string> {
  const { id } = request.member.group
  const seasonId = request.params.season
  const { seasons, ...rows } = await request.read(async (tx) => ({
    seasonId,
    seasons: await seasonsOf(tx, id),
    gardens: await gardensOf(tx, id),
    beds: await bedsOf(tx, id),
    assignments: await assignmentsOf(tx, id),
    plantings: await plantingsOf(tx, id),
  }))
  const season = seasons.find((one) => one.id === seasonId)
  const planted = rows.plantings.find((one) => one.id === plantingId)
  const early = season && planted && seenFrom(season, planted) === 'before'
  return [words().saved, twinAsked(rows, plantingId), early ? words().stoodBefore : ''].filter(Boolean).join(' ')
}

async function showAll(request: FastifyRequest, reply: FastifyReply, refused: RefusedForm | null) {
  const { group, role } = request.member
  const seasons = await request.read((tx) => seasonsOf(tx, group.id))
  const page = {
    seasons: seasons.map((season) => ({
      ...season,
      from: formatDay(season.startsOn, group.locale),
      to: formatDay(season.endsOn, group.locale),
    })),
    typed: refused?.typed ?? { id: newId() },
    errors: refused?.errors ?? {},
    mayChange: role === 'keeper',
  }
  return reply.page('seasons/seasons', page, { title: words().title, status: refused ? 422 : 200 })
}

type Refused = RefusedForm & { readonly form: string }

async function show(
  request: SeasonRequest,
  reply: FastifyReply,
  { waits, decided, lost, seedSaved }: SeasonOptions,
  refused: Refused | null,
) {
  const { group, role } = request.member
  const rows = await request.readAtOnce(async (tx) => ({
    seasons: await seasonsOf(tx, group.id),
    gardens: await gardensOf(tx, group.id),
    beds: await bedsOf(tx, group.id),
    methods: await methodsOf(tx, group.id),
    crops: await cropsOf(tx, group.id),
    assignments: await assignmentsOf(tx, group.id),
    plantings: await plantingsKept(tx, request),
    matchedSets: await matchedSetsOf(tx, group.id),
    waits: await waits(tx, group.id),
    decided: await decided(tx, group.id),
    lost: await lost(tx, group.id),
    seedSaved: await seedSaved(tx, group.id),
  }))
  const season = rows.seasons.find((one) => one.id === request.params.season)
  if (!season) throw notFound()
  const page = {
    ...seasonPage(
      {
        ...rows,
        seasonId: season.id,
        bedsThere: lyingOver(rows.beds, season),
        returns: returnsSaid({ ...rows, seasonId: season.id }, usualYears),
      },
      group.locale,
    ),
    season: {
      id: season.id,
      name: season.name,
      from: formatDay(season.startsOn, group.locale),
      to: formatDay(season.endsOn, group.locale),
    },
    decidedBefore: decidedBefore(rows, season.id),
    missing: missingSaid({ ...rows, seasonId: season.id }),
    twins: standingSaid({ ...rows, seasonId: season.id }, rows.lost, group.locale),
    uniform: season.isUniformYear === 1,
    of: (form: string) => ({
      typed: refused?.form === form ? refused.typed : { id: reply.freshId() },
      errors: refused?.form === form ? refused.errors : {},
      open: refused?.form === form,
    }),
    asked: formAsked(request),
    mayChange: role === 'keeper',
    mayRecord: role !== 'reader',
  }
  return reply.page('seasons/season', page, { title: season.name, status: refused ? 422 : 200 })
}
