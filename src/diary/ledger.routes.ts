import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify'
import { newId } from '../db/new-id.ts'
import { lyingOver } from '../gardens/areas-held.ts'
import { bedsOf, gardensOf } from '../gardens/gardens.queries.ts'
import { deliveriesOf } from '../inputs/deliveries.queries.ts'
import { loadsThen } from '../inputs/load.ts'
import { manureWaitsOf } from '../inputs/manure.queries.ts'
import { linkOf } from '../lookups/unsaid.ts'
import { addDays } from '../quantities/dates.ts'
import { formatDay } from '../quantities/formatting.ts'
import { daysOf, type IsoWeek, mondayOf, sundayOf, weekAfter } from '../quantities/iso-week.ts'
import { plantingsOf, seasonsOf } from '../seasons/seasons.queries.ts'
import { type RefusedForm, readForm, refuseForm, saidOf } from '../web/form.ts'
import type { Undo } from '../web/pages.ts'
import { textAsked } from '../web/query-of.ts'
import { wordsHere } from '../web/words-here.ts'
import type { Words } from '../words/catalogue.ts'
import { wordsFor } from '../words/locales.ts'
import {
  enterClosing,
  enterHarvest,
  enterHours,
  enterLabelled,
  enterLoss,
  enterReopening,
  enterSharedHarvest,
  enterSharedHours,
} from './entering.routes.ts'
import { whollyLost } from './first-picked.queries.ts'
import { weekIsClosed } from './known.ts'
import { ledgerPage } from './ledger.page.ts'
import { chosenIn, leftWith, sectionLeft } from './left-with.routes.ts'
import { cutDays, lotsSince, stillToWeigh } from './lots.queries.ts'
import { pickedTooSoonIn } from './manure.queries.ts'
import { savedTold } from './saved.queries.ts'
import { gardensLabelled, sealedIn } from './sealed.queries.ts'
import { secondReadingsOf } from './second-readings.queries.ts'
import { secondWeeksOf } from './second-weeks.ts'
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
  sharedHoursForm,
} from './week.form.ts'
import {
  closingsOf,
  containersOf,
  type Entry,
  entriesOfWeek,
  gardensTouched,
  lastUsed,
  removeEntry,
  saveContainer,
} from './week.queries.ts'
import { labelledForm, secondReadingForm } from './weighing.form.ts'
import { enterSecondReading } from './weighing.routes.ts'
import {
  type Errors,
  today,
  type WeekRequest,
  type WeekRoute,
  type Writing,
  weekIn,
  writeInWeek,
} from './writing.routes.ts'

const words = () => wordsHere().diary

/** Everything of a week line by line, and a form for each kind of line: for what a cell of the sheet does not say. */
export function ledgerRoutes(app: FastifyInstance): void {
  app.get<WeekRoute>('/g/:group/weeks/:week/ledger', { config: { access: 'reader' } }, (request, reply) =>
    show(request, reply, null),
  )
  const unit = (request: FastifyRequest) => request.member.group.weightUnit
  writes(app, 'hours', (request) => readForm(hoursForm, request.body), enterHours, undoEntry('labour'))
  writes(
    app,
    'shared-hours',
    (request) => readForm(sharedHoursForm, request.body),
    enterSharedHours,
    undoEntry('labour'),
  )
  writes(
    app,
    'harvests',
    (request) => readForm(harvestForm(unit(request)), request.body),
    enterHarvest,
    undoEntry('harvests'),
  )
  writes(
    app,
    'labelled',
    (request) => readForm(labelledForm(unit(request)), request.body),
    enterLabelled,
    undoEntry('harvests'),
  )
  writes(
    app,
    'second-readings',
    (request) => readForm(secondReadingForm(unit(request)), request.body),
    enterSecondReading,
  )
  writes(
    app,
    'shared-harvests',
    (request) => readForm(sharedHarvestForm(unit(request)), request.body),
    enterSharedHarvest,
    undoEntry('harvests'),
  )
  writes(app, 'losses', (request) => readForm(lossForm, request.body), enterLoss, undoEntry('losses'))
  writes(
    app,
    'containers',
    (request) => readForm(containerForm(unit(request)), request.body),
    async (at, given) => saidOf(await saveContainer(at.tx, at.author, given)),
  )
  closings(app)
  writes(app, 'removals', (request) => readForm(removalForm, request.body), removeOne, undefined, words().removed)
}

function closings(app: FastifyInstance): void {
  writes(
    app,
    'closings',
    (request) => readForm(closingForm, request.body),
    enterClosing,
    (given, address) => ({ address: `${address}/reopenings`, fields: { ...given, reason: words().undone } }),
    words().closedNow,
  )
  writes(
    app,
    'reopenings',
    (request) => readForm(reopeningForm, request.body),
    enterReopening,
    ({ gardenId, what }, address) => ({ address: `${address}/closings`, fields: { gardenId, what } }),
    words().reopened,
  )
}

const weekSpan = (week: IsoWeek) => ({ startsOn: mondayOf(week), endsOn: addDays(mondayOf(week), 6) })

/** A lot is weighed again within a year and a bit. */
const daysOfLots = 400

const isAhead = (week: IsoWeek, request: FastifyRequest) => mondayOf(week) > today(request)

type UndoOf<T> = (given: T, address: string) => Undo

const undoEntry =
  (entry: Entry): UndoOf<{ id: string }> =>
  ({ id }, address) => ({ address: `${address}/removals`, fields: { entry: `${entry}:${id}`, reason: words().undone } })

/** Every form of the week: read, then saved in one transaction that may still refuse with a sentence at a field. */
function writes<T>(
  app: FastifyInstance,
  form: string,
  read: (request: WeekRequest) => { kind: 'answer'; value: T } | RefusedForm,
  save: (at: Writing, given: T) => Promise<Errors | void>,
  undo?: UndoOf<T>,
  notice: string = words().saved,
): void {
  app.post<WeekRoute>(`/g/:group/weeks/:week/${form}`, { config: { access: 'recorder' } }, async (request, reply) => {
    const week = weekIn(request)
    const answer = read(request)
    if (answer.kind === 'refused') return show(request, reply, { form, ...answer })
    const { errors, told } = await writeInWeek(request, async (at) => {
      const refused = await save(at, answer.value)
      return { errors: refused, told: refused ? '' : await savedTold(at, form, request.body) }
    })
    if (errors) return show(request, reply, { form, ...refuseForm(request.body, errors) })
    const address = `/g/${request.member.group.slug}/weeks/${week}`
    const at = `${address}/ledger?${leftWith(request.body, form)}#${sectionLeft[form] ?? 'open-and-closed'}`
    return reply.backTo(at, told || notice, undo?.(answer.value, address))
  })
}

const namesOfFields = ({ fields: f }: Words['diary']) => ({
  plantingId: f.planting,
  plantingIds: f.plantings,
  harvestedOn: f.harvestDay,
  marketable: f.good,
  unmarketable: f.bad,
  containerId: f.container,
  workedOn: f.day,
  deliveryId: f.load,
  seasonId: f.season,
  gardenIds: f.gardens,
  shareRule: f.rule,
  lostOn: f.lossDay,
  percent: f.share,
  alsoNextDoor: f.nextDoor,
  people: f.peopleCount,
  name: f.containerName,
  tareG: f.tare,
  surely: undefined,
})

async function removeOne(at: Writing, given: { entry: string; reason: string }): Promise<Errors | void> {
  const [kind, id] = given.entry.split(':') as [Entry, string]
  const entries = await entriesOfWeek(at.tx, at.author.groupId, at.week)
  if (!entries[kind].some((entry) => entry.id === id)) return { entry: wordsHere().fields.notChosen }
  const touched = await gardensTouched(at.tx, at.author.groupId, kind, id)
  const what = kind === 'labour' ? 'hours' : 'weights'
  if (weekIsClosed(at.known, what, touched, at.week)) return { entry: words().isClosed }
  await removeEntry(at.tx, at.author.groupId, kind, id, given.reason)
}

async function show(request: WeekRequest, reply: FastifyReply, refused: (RefusedForm & { form: string }) | null) {
  const week = weekIn(request)
  const { group, role } = request.member
  const [left, find] = [textAsked(request, 'left'), textAsked(request, 'find')]
  const rows = await request.read(async (tx) => ({
    gardens: await gardensOf(tx, group.id),
    beds: await bedsOf(tx, group.id),
    seasons: await seasonsOf(tx, group.id),
    plantings: await plantingsOf(tx, group.id),
    containers: await containersOf(tx, group.id),
    closings: await closingsOf(tx, group.id, week),
    ...(await entriesOfWeek(tx, group.id, week)),
    lastWeek: await entriesOfWeek(tx, group.id, weekAfter(week, -1)),
    sealed: await sealedIn(tx, group.id, week),
    keeperCloses: role === 'keeper' ? new Set<string>() : await gardensLabelled(tx, group.id, week),
    sealedBefore: await sealedIn(tx, group.id, weekAfter(week, -1)),
    secondReadings: await secondReadingsOf(tx, group.id, week),
    loads: await deliveriesOf(tx, group.id),
    waits: await manureWaitsOf(tx, group.id),
    gone: await whollyLost(tx, group.id),
    tooSoon: await pickedTooSoonIn(tx, group.id, { isoWeek: week }),
    lastUsed: await lastUsed(tx, group.id, week),
    lots: await lotsSince(tx, group.id, addDays(mondayOf(week), -daysOfLots)),
    cuts: await cutDays(tx, group.id),
    stillToWeigh: await stillToWeigh(tx, group.id),
  }))
  const { people } = rows.lastUsed
  const said = wordsFor(group.locale).diary
  const chosen = chosenIn(request.query, daysOf(week))
  const page = {
    ...ledgerPage({
      ...rows,
      bedsThere: lyingOver(rows.beds, weekSpan(week)),
      week,
      locale: group.locale,
      find: typeof find === 'string' ? find.slice(0, 80) : '',
    }),
    tasks: taskNames.map((task) => ({ value: task, label: words().tasks[task] })),
    people,
    /** What the fields of its forms are called, for a message that stands away from its field. */
    fieldNames: { ...said.fields, ...namesOfFields(said) },
    ahead: isAhead(week, request),
    readTwice: rows.seasons.some((season) => secondWeeksOf(season).includes(week)),
    mayLabel: role === 'keeper',
    /** The section that was left: the notice stands there. */
    left: sectionLeft[linkOf(left)] ?? null,
    loads: loadsThen(rows.loads, sundayOf(week)).map((one) => ({
      value: one.id,
      label: `${one.inputName}, ${formatDay(one.deliveredOn, group.locale)}`,
    })),
    of: (form: string) => ({
      typed: refused?.form === form ? refused.typed : { id: newId(), ...chosen },
      errors: refused?.form === form ? refused.errors : {},
      open: refused?.form === form,
      left: left === form,
    }),
    mayRecord: role !== 'reader',
  }
  return reply.page('diary/ledger', page, { title: words().ledgerTitle(week), status: refused ? 422 : 200 })
}
