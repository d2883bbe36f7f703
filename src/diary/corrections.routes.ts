import type { FastifyInstance, FastifyRequest } from 'fastify'
import type { z } from 'zod'
import { amend, rowOf } from '../db/amend.ts'
import type { Tx } from '../db/database.ts'
import { asShown, linkOf } from '../lookups/unsaid.ts'
import { labourAsTyped } from '../quantities/as-typed.ts'
import { type IsoWeek, weekOf } from '../quantities/iso-week.ts'
import { seasonIsClosed } from '../seasons/seasons.queries.ts'
import { type Correctable, choicesOf, correcting } from '../web/correcting.ts'
import { wordsHere } from '../web/words-here.ts'
import { wordsFor } from '../words/locales.ts'
import { harvests, labourEntries, losses } from './diary.table.ts'
import { emptyAsThen } from './empty-as-then.ts'
import { weightsAsWeighed, whatWasWeighed } from './harvest-fields.routes.ts'
import { type HoursTyped, hoursRuled } from './hours-rule.ts'
import { knownForWriting } from './known.queries.ts'
import { lossRuled } from './loss-rule.ts'
import { lotsNamed } from './lots.queries.ts'
import { closedForEntry, closedForLoss, placesOfWork } from './moved.queries.ts'
import { type Field, type RowRefusal, refuse } from './refusal.ts'
import { errorsOf } from './said.ts'
import { stateTyped } from './state-fields.ts'
import { taskNames } from './tasks.ts'
import { type HarvestRow, harvestToCorrect, type LabourRow, labourToCorrect } from './to-correct.queries.ts'
import { causes, harvestCorrection, labourCorrection, lossCorrection } from './week.form.ts'
import { type Entry, removeEntry, sharesOf, sharesOfWork } from './week.queries.ts'
import { type WeighingTyped, weighingRuled } from './weighing-rule.ts'
import { today } from './writing.routes.ts'

const words = () => wordsHere().diary
const f = () => words().fields
/** What stands in a closed week is corrected once the week is open again: reopening says why. */
const closedBefore = (
  tx: Tx,
  kind: 'labour' | 'harvests',
  { groupId, id, isoWeek }: { groupId: string; id: string; isoWeek: IsoWeek },
) => closedForEntry(tx, groupId, { kind, id, isoWeek })

const back = (row: { isoWeek: IsoWeek }, request: FastifyRequest) =>
  `/g/${request.member.group.slug}/weeks/${row.isoWeek}`

/** Removes where the version that was seen still stands; shares go with it. */
const removing =
  (kind: Entry, table: typeof labourEntries | typeof harvests | typeof losses) =>
  async (tx: Tx, seen: { groupId: string; id: string; version: number }, reason: string) => {
    const row = await rowOf(tx, table, seen.groupId, seen.id)
    if (row?.version !== seen.version) return false
    await removeEntry(tx, seen.groupId, kind, seen.id, reason)
    return true
  }

type LabourGiven = z.output<typeof labourCorrection>

const placeOf = (row: LabourRow) =>
  row.gardenId ? `garden:${row.gardenId}` : row.bedId ? `bed:${row.bedId}` : `planting:${row.plantingId}`

const loadsToChoose = (row: LabourRow) => [{ value: '', label: f().noLoad }, ...row.loads]
const phasesOf = () => [{ value: '', label: f().phaseAsItLies }, ...choicesOf(wordsHere().seasons.phases)]

const labour: Correctable<LabourRow, LabourGiven> = {
  kind: 'labour',
  table: 'labour_entries',
  access: 'recorder',
  find: labourToCorrect,
  title: (row) => `${row.task}, ${row.isoWeek}`,
  fields: (row) => [
    ...(row.shareRule === null
      ? [{ name: 'place', label: f().place, value: placeOf(row), options: placesOfWork(row.choices) }]
      : []),
    { name: 'workedOn', label: f().day, type: 'date', value: asShown(row.workedOn) },
    {
      name: 'task',
      label: f().task,
      value: row.task,
      options: taskNames.map((task) => ({ value: task, label: words().tasks[task] })),
    },
    { name: 'time', label: f().time, hint: f().timeHint, value: labourAsTyped(row.personMinutes, row.people) },
    { name: 'phase', label: f().phase, value: row.phase === null ? '' : row.phase, options: phasesOf() },
    { name: 'who', label: f().who, value: asShown(row.who) },
    { name: 'effort', label: f().effort, value: row.effort === null ? '' : String(row.effort) },
    { name: 'deliveryId', label: f().load, value: asShown(row.deliveryId), options: loadsToChoose(row) },
  ],
  form: () => labourCorrection,
  closed: seasonIsClosed,
  correct: async (tx, { seen, row, given, request }) => {
    if (await closedBefore(tx, 'labour', row)) return { time: words().isClosedThere }
    const workedOn = given.workedOn === undefined ? row.workedOn : given.workedOn
    const isoWeek = workedOn === null ? row.isoWeek : weekOf(workedOn)
    const over = row.shareRule === null ? [] : await sharesOfWork(tx, row.groupId, row.id)
    const known = await knownForWriting(tx, row.groupId, { weeks: [isoWeek], today: today(request) })
    const ruled = hoursRuled(known, {
      id: row.id,
      isoWeek,
      workedOn,
      task: given.task,
      time: given.time,
      people: null,
      phase: given.phase,
      who: given.who,
      effort: given.effort,
      deliveryId: given.deliveryId,
      seasonId: row.seasonId,
      place: row.shareRule === null ? (given.place ?? placeOf(row)) : over.map((one) => one.bedId ?? one.gardenId),
      countedIn: (given.place ?? placeOf(row)) === placeOf(row) ? row.seasonId : null,
      shareRule: row.shareRule as HoursTyped['shareRule'],
      // Parts by another rule have no number of their own.
      shares: new Map(over.map((one) => [one.gardenId, one.share ?? 0])),
      source: row.source as HoursTyped['source'],
      surely: true,
    })
    if (ruled.kind === 'refused') return saidThere(ruled, request, namesOfHours)
    const { id: _id, ...changes } = ruled.row.labour
    return amend(tx, labourEntries, seen, changes)
  },
  remove: removing('labour', labourEntries),
  refuse: async (tx, row) => ((await closedBefore(tx, 'labour', row)) ? { time: words().isClosedThere } : undefined),
  back,
}

const namesOfHours = { place: 'workedOn', day: 'workedOn', load: 'deliveryId', season: 'workedOn' } as const

type HarvestGiven = z.output<ReturnType<typeof harvestCorrection>>

const harvest: Correctable<HarvestRow, HarvestGiven> = {
  kind: 'harvests',
  access: 'recorder',
  find: harvestToCorrect,
  title: (row) =>
    `${row.label === null ? words().weights : wordsHere().weighing.labelled(row.label)}, ${row.harvestedOn}`,
  fields: (row, request) => {
    const planting = { name: 'plantingId', label: f().planting, value: asShown(row.plantingId) }
    return [
      ...(row.shareRule === null && row.label === null ? [{ ...planting, options: row.choices.plantings }] : []),
      { name: 'harvestedOn', label: f().harvestDay, type: 'date', value: row.harvestedOn },
      ...weightsAsWeighed(row, request.member.group.weightUnit),
      {
        name: 'why',
        label: f().why,
        value: asShown(row.unmarketableReason),
        options: [{ value: '', label: '' }, ...choicesOf(words().reasons)],
      },
      { name: 'pieces', label: f().pieces, value: row.pieces === null ? '' : String(row.pieces) },
      ...whatWasWeighed(row),
    ]
  },
  form: (request) => harvestCorrection(request.member.group.weightUnit),
  closed: seasonIsClosed,
  correct: async (tx, { seen, row, given, request }) => {
    if (await closedBefore(tx, 'harvests', row)) return { marketable: words().isClosedThere }
    const harvestedOn = given.harvestedOn ?? row.harvestedOn
    const isoWeek = weekOf(harvestedOn)
    const said = (refusal: RowRefusal) => saidThere(refusal, request, namesOfWeighing(row))
    if (row.label !== null && isoWeek !== row.isoWeek) return said(refuse('day', 'sameWeek'))
    const parts = row.shareRule === null ? [] : await sharesOf(tx, row.groupId, row.id)
    const known = await knownForWriting(tx, row.groupId, { weeks: [isoWeek], today: today(request) })
    const what = stateTyped(row, given)
    const lots = await lotsNamed(tx, row.groupId, what.sameLotAs)
    const ruled = weighingRuled(emptyAsThen({ ...known, lots }, row), {
      ...what,
      id: row.id,
      isoWeek,
      harvestedOn,
      why: given.why,
      pieces: given.pieces,
      marketable: given.marketable,
      unmarketable: given.unmarketable,
      from: plantingsOfRow(row, given.plantingId, parts),
      countedIn: (given.plantingId ?? row.plantingId) === row.plantingId ? row.seasonId : null,
      shareRule: row.shareRule as WeighingTyped['shareRule'],
      // The same.
      shares: new Map(parts.map((one) => [one.plantingId, one.share ?? 0])),
      containerId: given.containerId === undefined ? row.containerId : given.containerId,
      source: row.source as WeighingTyped['source'],
      surely: true,
    })
    if (ruled.kind === 'refused') return said(ruled)
    const { id: _id, ...changes } = ruled.row.harvest
    // A row is moved within its season: its figures are of that one.
    if (changes.seasonId !== row.seasonId) return said(refuse('from', 'notChosen'))
    return amend(tx, harvests, seen, changes)
  },
  remove: removing('harvests', harvests),
  refuse: async (tx, row) =>
    (await closedBefore(tx, 'harvests', row)) ? { marketable: words().isClosedThere } : undefined,
  back,
}

function plantingsOfRow(row: HarvestRow, moved: string | undefined, parts: readonly { plantingId: string }[]) {
  if (row.label !== null) return { label: row.label }
  if (row.shareRule !== null) return parts.map((one) => one.plantingId)
  return [linkOf(moved ?? row.plantingId)]
}

/** Where a form shows no field for the planting, what is wrong with it is said at the day. */
const namesOfWeighing = (row: HarvestRow) => ({
  day: 'harvestedOn',
  container: 'containerId',
  lifted: 'liftedOn',
  sameLot: 'state',
  from: row.shareRule === null && row.label === null ? 'plantingId' : 'harvestedOn',
})

type LossGiven = z.output<typeof lossCorrection>

const loss: Correctable<typeof losses.$inferSelect, LossGiven> = {
  kind: 'losses',
  access: 'recorder',
  find: (tx, groupId, id) => rowOf(tx, losses, groupId, id),
  title: (row) => `${words().losses}, ${row.lostOn}`,
  fields: (row) => [
    { name: 'percent', label: f().share, value: String(row.sharePermille / 10) },
    {
      name: 'cause',
      label: f().cause,
      value: row.cause,
      options: causes.map((cause) => ({ value: cause, label: words().causes[cause] })),
    },
    {
      name: 'outside',
      label: f().outside,
      hint: f().outsideHint,
      value: row.outsideMethod ? 'yes' : 'no',
      options: choicesOf(wordsHere().seasons.yesOrNo),
    },
    {
      name: 'alsoNextDoor',
      label: f().nextDoor,
      value: row.alsoNextDoor ?? 'no',
      options: choicesOf(words().nextDoor),
    },
    { name: 'note', label: f().note, value: asShown(row.note) },
  ],
  form: () => lossCorrection,
  closed: closedForLoss,
  correct: async (tx, { seen, row, given, request }) => {
    const isoWeek = row.isoWeek
    const known = await knownForWriting(tx, row.groupId, { weeks: [isoWeek], today: today(request) })
    const ruled = lossRuled(known, {
      id: row.id,
      isoWeek,
      plantingId: row.plantingId,
      lostOn: row.lostOn,
      percent: given.percent,
      cause: given.cause,
      alsoNextDoor: given.alsoNextDoor,
      note: given.note,
      outside: given.outside === 1,
      outsideBefore: row.outsideMethod === 1,
      surely: true,
      corrected: true,
    })
    if (ruled.kind === 'refused') return saidThere(ruled, request, { from: 'percent', day: 'percent' })
    const { id: _id, ...changes } = ruled.row
    return amend(tx, losses, seen, changes)
  },
  remove: removing('losses', losses),
  back,
}

/** In a correction the week is another page's: it is opened again there. */
function saidThere(refusal: RowRefusal, request: FastifyRequest, names: Partial<Record<Field, string>>) {
  const { locale } = request.member.group
  const errors = errorsOf(refusal, { words: wordsFor(locale), locale, names })
  if (refusal.code !== 'isClosed') return errors
  return Object.fromEntries(Object.keys(errors).map((field) => [field, words().isClosedThere]))
}

export function diaryCorrections(app: FastifyInstance): void {
  correcting(app, labour)
  correcting(app, harvest)
  correcting(app, loss)
}
