import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify'
import type { Tx } from '../db/database.ts'
import { newId } from '../db/new-id.ts'
import { type Author, bedsOf, gardensOf } from '../gardens/gardens.queries.ts'
import { dayIn, type IsoDate } from '../quantities/dates.ts'
import { formatArea, formatKilograms } from '../quantities/formatting.ts'
import { daysOf, type IsoWeek, readIsoWeek, thursdayOf, weekOf } from '../quantities/iso-week.ts'
import { plantingsOf, seasonsOf } from '../seasons/seasons.queries.ts'
import { type RefusedForm, readForm, refuseForm } from '../web/form.ts'
import { notFound } from '../web/problem.ts'
import { catalogue } from '../words/catalogue.ts'
import { taskNames } from './tasks.ts'
import {
  closingForm,
  containerForm,
  harvestForm,
  hoursForm,
  lossForm,
  removalForm,
  reopeningForm,
  sharedHarvestForm,
} from './week.form.ts'
import { weekPage } from './week.page.ts'
import {
  closeWeek,
  closingsOf,
  containersOf,
  type Entry,
  entriesOfWeek,
  removeEntry,
  reopenWeek,
  saveContainer,
  saveHarvest,
  saveLabour,
  saveLoss,
} from './week.queries.ts'
import { dayRefused, isMuch, seasonOfDay, standingRefused } from './week-rules.ts'

const words = catalogue.diary
type WeekRequest = FastifyRequest<{ Params: { week: string } }>
type Errors = Record<string, string>

interface Writing {
  readonly tx: Tx
  readonly author: Author
  readonly week: IsoWeek
  readonly request: WeekRequest
}

export function weekRoutes(app: FastifyInstance): void {
  app.get('/g/:group/weeks', { config: { access: 'reader' } }, async (request, reply) =>
    reply.redirect(`/g/${request.member.group.slug}/weeks/${weekOf(today(request))}`, 303),
  )
  app.get('/g/:group/weeks/:week', { config: { access: 'reader' } }, (request, reply) =>
    show(request as WeekRequest, reply, null),
  )

  writes(app, 'hours', (request) => readForm(hoursForm, request.body), enterHours)
  writes(
    app,
    'harvests',
    (request) => readForm(harvestForm(request.member.group.weightUnit), request.body),
    (at, given) => enterHarvest(at, given, [given.plantingId], false),
  )
  writes(
    app,
    'shared-harvests',
    (request) => readForm(sharedHarvestForm(request.member.group.weightUnit), request.body),
    (at, given) => enterHarvest(at, given, given.plantingIds, true),
  )
  writes(app, 'losses', (request) => readForm(lossForm, request.body), enterLoss)
  writes(
    app,
    'containers',
    (request) => readForm(containerForm(request.member.group.weightUnit), request.body),
    async (at, given) => {
      await saveContainer(at.tx, at.author, given)
    },
  )
  writes(
    app,
    'closings',
    (request) => readForm(closingForm, request.body),
    async (at, given) => {
      await closeWeek(at.tx, at.author, { ...given, isoWeek: at.week })
    },
    words.closedNow,
  )
  writes(
    app,
    'reopenings',
    (request) => readForm(reopeningForm, request.body),
    async (at, { reason, ...given }) => {
      await reopenWeek(at.tx, at.author.groupId, { ...given, isoWeek: at.week }, reason)
    },
    words.reopened,
  )
  writes(app, 'removals', (request) => readForm(removalForm, request.body), removeOne, words.removed)
}

/** Every form of the week: read, then saved in one transaction that may still refuse with a sentence at a field. */
function writes<T>(
  app: FastifyInstance,
  form: string,
  read: (request: WeekRequest) => { kind: 'answer'; value: T } | RefusedForm,
  save: (at: Writing, given: T) => Promise<Errors | void>,
  notice: string = words.saved,
): void {
  app.post(`/g/:group/weeks/:week/${form}`, { config: { access: 'recorder' } }, async (plain, reply) => {
    const request = plain as WeekRequest
    const week = weekIn(request)
    const answer = read(request)
    if (answer.kind === 'refused') return show(request, reply, { form, ...answer })
    const author = { groupId: request.member.group.id, createdBy: request.member.personId }
    const errors = await request.write((tx) => save({ tx, author, week, request }, answer.value))
    if (errors) return show(request, reply, { form, ...refuseForm(request.body, errors) })
    return reply.backTo(`/g/${request.member.group.slug}/weeks/${week}`, notice)
  })
}

type Hours = Extract<ReturnType<typeof readForm<ReturnType<typeof hoursForm.parse>>>, { kind: 'answer' }>['value']

async function enterHours(at: Writing, given: Hours): Promise<Errors | void> {
  if (given.workedOn && dayWrong(at, given.workedOn)) return { workedOn: dayWrong(at, given.workedOn) ?? '' }
  const season = seasonOfDay(await seasonsOf(at.tx, at.author.groupId), given.workedOn ?? thursdayOf(at.week))
  if (!season) return { workedOn: words.noSeason }
  const gardens = await gardensOf(at.tx, at.author.groupId)
  const touched = given.gardenId === 'all' ? gardens.map((garden) => garden.id) : [given.gardenId]
  if (touched.some((id) => !gardens.some((garden) => garden.id === id))) return { gardenId: catalogue.fields.notChosen }
  if (await anyClosed(at, touched, 'hours')) return { gardenId: words.isClosed }
  await saveLabour(at.tx, at.author, {
    id: given.id,
    seasonId: season.id,
    isoWeek: at.week,
    workedOn: given.workedOn,
    task: given.task,
    phase: given.phase,
    personMinutes: given.time.personMinutes,
    people: given.time.people,
    gardenId: given.gardenId === 'all' ? null : given.gardenId,
    shareRule: given.gardenId === 'all' ? 'area' : null,
  })
}

interface Weighed {
  readonly id: string
  readonly harvestedOn: string
  readonly marketable: number | null
  readonly unmarketable: number | null
  readonly why: string | null
  readonly containerId: string | null
  readonly surely?: string | undefined
}

async function enterHarvest(
  at: Writing,
  given: Weighed,
  plantingIds: readonly string[],
  shared: boolean,
): Promise<Errors | void> {
  const field = shared ? 'plantingIds' : 'plantingId'
  const wrongDay = dayWrong(at, given.harvestedOn)
  if (wrongDay) return { harvestedOn: wrongDay }
  const found = (await plantingsOf(at.tx, at.author.groupId)).filter((planting) => plantingIds.includes(planting.id))
  if (found.length !== new Set(plantingIds).size) return { [field]: catalogue.fields.notChosen }
  for (const planting of found) {
    const refused = standingRefused(planting, given.harvestedOn)
    if (refused) return { harvestedOn: words[refused] }
  }
  const beds = await bedsOf(at.tx, at.author.groupId)
  const gardenIds = found.map((planting) => beds.find((bed) => bed.id === planting.bedId)?.gardenId ?? '')
  if (await anyClosed(at, gardenIds, 'weights')) return { [field]: words.isClosed }
  const net = await netOf(at, given)
  if ('errors' in net) return net.errors
  const area = found.reduce((sum, planting) => sum + planting.areaCm2, 0)
  const much = isMuch(net.marketableG + net.unmarketableG, area)
  const { locale } = at.request.member.group
  if (much && !given.surely) {
    return {
      surely: words.muchAsk(formatKilograms(net.marketableG + net.unmarketableG, locale), formatArea(area, locale)),
    }
  }
  const harvest = {
    id: given.id,
    seasonId: found[0]?.seasonId ?? '',
    plantingId: shared ? null : (plantingIds[0] ?? null),
    shareRule: shared ? 'area' : null,
    harvestedOn: given.harvestedOn,
    isoWeek: at.week,
    unmarketableReason: net.unmarketableG > 0 ? given.why : null,
    containerId: given.containerId,
    ...net,
  }
  await saveHarvest(at.tx, at.author, harvest, shared ? plantingIds : [])
}

type Net = { marketableG: number; unmarketableG: number; grossG: number | null } | { errors: Errors }

/** The container's empty weight comes off the marketable weight, or off the other where only that was weighed. */
async function netOf(at: Writing, given: Weighed): Promise<Net> {
  const [marketable, unmarketable] = [given.marketable ?? 0, given.unmarketable ?? 0]
  if (given.marketable === null && given.unmarketable === null) return { errors: { marketable: words.nothingWeighed } }
  if (unmarketable > 0 && given.why === null) return { errors: { why: words.whyMissing } }
  if (given.containerId === null) return { marketableG: marketable, unmarketableG: unmarketable, grossG: null }
  const container = (await containersOf(at.tx, at.author.groupId)).find((one) => one.id === given.containerId)
  if (!container) return { errors: { containerId: catalogue.fields.notChosen } }
  const gross = given.marketable ?? unmarketable
  if (gross < container.tareG) return { errors: { marketable: words.lessThanTare } }
  return given.marketable === null
    ? { marketableG: 0, unmarketableG: gross - container.tareG, grossG: gross }
    : { marketableG: gross - container.tareG, unmarketableG: unmarketable, grossG: gross }
}

type Loss = ReturnType<typeof lossForm.parse>

async function enterLoss(at: Writing, given: Loss): Promise<Errors | void> {
  const wrongDay = dayWrong(at, given.lostOn)
  if (wrongDay) return { lostOn: wrongDay }
  const planting = (await plantingsOf(at.tx, at.author.groupId)).find((one) => one.id === given.plantingId)
  if (!planting) return { plantingId: catalogue.fields.notChosen }
  const refused = standingRefused(planting, given.lostOn)
  if (refused) return { lostOn: words[refused] }
  const { id, plantingId, lostOn, cause, alsoNextDoor } = given
  await saveLoss(at.tx, at.author, {
    id,
    plantingId,
    lostOn,
    cause,
    alsoNextDoor,
    isoWeek: at.week,
    sharePermille: 10 * given.percent,
  })
}

async function removeOne(at: Writing, given: { entry: string; reason: string }): Promise<Errors | void> {
  const [kind, id] = given.entry.split(':') as [Entry, string]
  const entries = await entriesOfWeek(at.tx, at.author.groupId, at.week)
  if (!entries[kind].some((entry) => entry.id === id)) return { entry: catalogue.fields.notChosen }
  await removeEntry(at.tx, at.author.groupId, kind, id, given.reason)
}

async function anyClosed(at: Writing, gardenIds: readonly string[], what: string): Promise<boolean> {
  const closings = await closingsOf(at.tx, at.author.groupId, at.week)
  return closings.some((closing) => closing.what === what && gardenIds.includes(closing.gardenId))
}

function dayWrong(at: Writing, day: string): string | undefined {
  const refused = dayRefused({ day, daysOfWeek: daysOf(at.week), today: today(at.request) })
  return refused && words[refused]
}

const today = (request: FastifyRequest): IsoDate => dayIn(request.member.group.timeZone, new Date())

function weekIn(request: WeekRequest): IsoWeek {
  const week = readIsoWeek(request.params.week)
  if (!week) throw notFound()
  return week
}

async function show(request: WeekRequest, reply: FastifyReply, refused: (RefusedForm & { form: string }) | null) {
  const week = weekIn(request)
  const { group, role } = request.member
  const rows = await request.read(async (tx) => ({
    gardens: await gardensOf(tx, group.id),
    beds: await bedsOf(tx, group.id),
    plantings: await plantingsOf(tx, group.id),
    containers: await containersOf(tx, group.id),
    closings: await closingsOf(tx, group.id, week),
    ...(await entriesOfWeek(tx, group.id, week)),
  }))
  const page = {
    ...weekPage({ ...rows, week, locale: group.locale }),
    tasks: taskNames.map((task) => ({ value: task, label: task })),
    of: (form: string) => ({
      typed: refused?.form === form ? refused.typed : { id: newId() },
      errors: refused?.form === form ? refused.errors : {},
      open: refused?.form === form,
    }),
    mayRecord: role !== 'reader',
  }
  return reply.page('diary/week', page, { title: words.title(week), status: refused ? 422 : 200 })
}
