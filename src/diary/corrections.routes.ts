import type { FastifyInstance, FastifyRequest } from 'fastify'
import type { z } from 'zod'
import { amend, rowOf } from '../db/amend.ts'
import type { Tx } from '../db/database.ts'
import { deliveriesOf } from '../inputs/deliveries.queries.ts'
import { loadsThen } from '../inputs/load.ts'
import { labourAsTyped, weightAsTyped } from '../quantities/as-typed.ts'
import type { IsoDate } from '../quantities/dates.ts'
import { weekOf } from '../quantities/iso-week.ts'
import { plantingsOf } from '../seasons/seasons.queries.ts'
import { type Correctable, choicesOf, correcting } from '../web/correcting.ts'
import { catalogue } from '../words/catalogue.ts'
import { harvests, labourEntries, losses } from './diary.table.ts'
import {
  closedForEntry,
  crateStandingRefused,
  gardenAt,
  placesToMoveTo,
  plantingNamed,
  weekClosed,
  whenOf,
} from './moved.queries.ts'
import { sealedIn } from './sealed.queries.ts'
import { taskNames } from './tasks.ts'
import { causes, harvestCorrection, labourCorrection, lossCorrection } from './week.form.ts'
import { type Entry, removeEntry, sharesOf } from './week.queries.ts'
import { standingRefused } from './week-rules.ts'
import { refusedAsSealed } from './weighing.routes.ts'
import { seasonClosed } from './weights.routes.ts'
import { today } from './writing.routes.ts'

const words = catalogue.diary
const f = words.fields
/** What stands in a closed week is corrected once the week is open again: reopening says why. */
const closedAt = (
  tx: Tx,
  groupId: string,
  kind: 'labour' | 'harvests',
  { id, isoWeek }: { id: string; isoWeek: string },
) => closedForEntry(tx, groupId, { kind, id, isoWeek })

const back = (row: { isoWeek: string }, request: FastifyRequest) =>
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

type LabourRow = typeof labourEntries.$inferSelect & { readonly choices: Choices; readonly loads: Loads }
type Loads = { value: string; label: string }[]
/** `label` is set while the row is sealed: nothing on its page then tells the planting. */
type HarvestRow = typeof harvests.$inferSelect & { readonly choices: Choices; readonly label: string | null }
type Choices = Awaited<ReturnType<typeof placesToMoveTo>>

async function withChoices<T extends typeof labourEntries | typeof harvests>(
  tx: Tx,
  table: T,
  groupId: string,
  id: string,
) {
  const row = await rowOf(tx, table, groupId, id)
  return row && { ...row, choices: await placesToMoveTo(tx, groupId, row.seasonId) }
}

async function labourToCorrect(tx: Tx, groupId: string, id: string): Promise<LabourRow | undefined> {
  const row = (await withChoices(tx, labourEntries, groupId, id)) as Omit<LabourRow, 'loads'> | undefined
  if (!row) return undefined
  const loads = loadsThen(await deliveriesOf(tx, groupId), '9999-12-31')
  return { ...row, loads: loads.map((one) => ({ value: one.id, label: `${one.inputName}, ${one.deliveredOn}` })) }
}

type LabourGiven = z.output<typeof labourCorrection>

const placeOf = (row: LabourRow) =>
  row.gardenId ? `garden:${row.gardenId}` : row.bedId ? `bed:${row.bedId}` : `planting:${row.plantingId}`

const labour: Correctable<LabourRow, LabourGiven> = {
  kind: 'labour',
  table: 'labour_entries',
  access: 'recorder',
  find: labourToCorrect,
  title: (row) => `${row.task}, ${row.isoWeek}`,
  fields: (row) => [
    ...(row.shareRule === null
      ? [{ name: 'place', label: f.place, value: placeOf(row), options: placesFor(row) }]
      : []),
    { name: 'workedOn', label: f.day, type: 'date', value: row.workedOn ?? '' },
    {
      name: 'task',
      label: f.task,
      value: row.task,
      options: taskNames.map((task) => ({ value: task, label: words.tasks[task] })),
    },
    { name: 'time', label: f.time, hint: f.timeHint, value: labourAsTyped(row.personMinutes, row.people) },
    { name: 'phase', label: f.phase, value: row.phase, options: choicesOf(catalogue.seasons.phases) },
    { name: 'who', label: f.who, value: row.who ?? '' },
    { name: 'effort', label: f.effort, value: row.effort === null ? '' : String(row.effort) },
    {
      name: 'deliveryId',
      label: f.load,
      value: row.deliveryId ?? '',
      options: [{ value: '', label: f.noLoad }, ...row.loads],
    },
  ],
  form: () => labourCorrection,
  save: async (tx, seen, { time, place, workedOn, ...given }, row) => {
    const when = workedOn === undefined ? {} : { workedOn, ...(await whenOf(tx, seen.groupId, workedOn, row)) }
    const [kind, id] = (place ?? placeOf(row)).split(':')
    const nowhere = { gardenId: null, bedId: null, plantingId: null }
    const where = row.shareRule === null ? { ...nowhere, [`${kind}Id`]: id } : {}
    return amend(tx, labourEntries, seen, { ...given, ...time, ...when, ...where })
  },
  remove: removing('labour', labourEntries),
  refuse: async (tx, row, given, request) => {
    if (await closedAt(tx, row.groupId, 'labour', row)) return { time: words.isClosedThere }
    if (!given) return undefined
    if (given.deliveryId && !row.loads.some((one) => one.value === given.deliveryId))
      return { deliveryId: catalogue.fields.notChosen }
    if (given.workedOn && given.workedOn > today(request)) return { workedOn: words.ahead }
    const gardenId = row.shareRule === null ? await gardenAt(tx, row.groupId, given.place ?? placeOf(row)) : undefined
    if (row.shareRule === null && !gardenId) return { place: catalogue.fields.notChosen }
    const { isoWeek } = await whenOf(tx, row.groupId, given.workedOn ?? null, row)
    const closed = gardenId
      ? await weekClosed(tx, row.groupId, { isoWeek, gardenId, what: 'hours' })
      : await closedAt(tx, row.groupId, 'labour', { id: row.id, isoWeek })
    return closed ? { workedOn: words.isClosedThere } : undefined
  },
  back,
}

const placesFor = ({ choices }: LabourRow) => [
  ...choices.ground,
  ...choices.plantings.map(({ value, label }) => ({ value: `planting:${value}`, label })),
]

async function harvestToCorrect(tx: Tx, groupId: string, id: string): Promise<HarvestRow | undefined> {
  const row = (await withChoices(tx, harvests, groupId, id)) as Omit<HarvestRow, 'label'> | undefined
  return row && { ...row, label: (await sealedIn(tx, groupId, row.isoWeek)).get(row.plantingId ?? '') ?? null }
}

type HarvestGiven = z.output<ReturnType<typeof harvestCorrection>>

/** A weight that is known by name is not moved under a sealed label: the week would show both side by side. */
async function movedUnderLabel(tx: Tx, row: HarvestRow, to: { day: string; plantingId: string | undefined }) {
  const [author, week] = [{ groupId: row.groupId, createdBy: null }, weekOf(to.day as IsoDate)]
  if (row.shareRule === null) return refusedAsSealed({ tx, author, week }, [to.plantingId ?? row.plantingId ?? ''])
  if (week === row.isoWeek) return undefined
  const from = await sharesOf(tx, row.groupId, row.id)
  return refusedAsSealed(
    { tx, author, week },
    from.map((share) => share.plantingId),
  )
}

const harvest: Correctable<HarvestRow, HarvestGiven> = {
  kind: 'harvests',
  access: 'recorder',
  find: harvestToCorrect,
  title: (row) => `${row.label === null ? words.weights : catalogue.weighing.labelled(row.label)}, ${row.harvestedOn}`,
  fields: (row, request) => {
    const unit = request.member.group.weightUnit
    const planting = { name: 'plantingId', label: f.planting, value: row.plantingId ?? '' }
    return [
      ...(row.shareRule === null && row.label === null ? [{ ...planting, options: row.choices.plantings }] : []),
      { name: 'harvestedOn', label: f.harvestDay, type: 'date', value: row.harvestedOn },
      { name: 'marketable', label: f.netGood, hint: f.weightHint, value: weightAsTyped(row.marketableG, unit) },
      { name: 'unmarketable', label: f.netBad, value: weightAsTyped(row.unmarketableG, unit) },
      {
        name: 'why',
        label: f.why,
        value: row.unmarketableReason ?? '',
        options: [{ value: '', label: '' }, ...choicesOf(words.reasons)],
      },
      { name: 'pieces', label: f.pieces, value: row.pieces === null ? '' : String(row.pieces) },
    ]
  },
  form: (request) => harvestCorrection(request.member.group.weightUnit),
  save: (tx, seen, { marketable, unmarketable, why, pieces, ...given }, row) => {
    const harvestedOn = given.harvestedOn ?? row.harvestedOn
    return amend(tx, harvests, seen, {
      ...{ marketableG: marketable, unmarketableG: unmarketable, unmarketableReason: unmarketable > 0 ? why : null },
      ...{ pieces, harvestedOn, isoWeek: weekOf(harvestedOn as IsoDate), grossG: null, containerId: null },
      plantingId: row.shareRule === null && row.label === null ? (given.plantingId ?? row.plantingId) : row.plantingId,
    })
  },
  remove: removing('harvests', harvests),
  refuse: async (tx, row, given, request) => {
    if (await closedAt(tx, row.groupId, 'harvests', row)) return { marketable: words.isClosedThere }
    if (!given) return undefined
    const day = given.harvestedOn ?? row.harvestedOn
    if (day > today(request)) return { harvestedOn: words.ahead }
    if (row.label !== null && weekOf(day as IsoDate) !== row.isoWeek)
      return { harvestedOn: catalogue.weighing.sameWeek }
    const hidden =
      row.label === null && (await movedUnderLabel(tx, row, { day, plantingId: given.plantingId ?? undefined }))
    if (hidden) return { harvestedOn: hidden }
    if (row.shareRule !== null) {
      const refused = await crateStandingRefused(tx, row.groupId, row.id, day)
      if (refused) return { harvestedOn: words[refused] }
      const moved = { id: row.id, isoWeek: weekOf(day as IsoDate) }
      return (await closedAt(tx, row.groupId, 'harvests', moved)) ? { harvestedOn: words.isClosedThere } : undefined
    }
    const planting = await plantingNamed(
      tx,
      row.groupId,
      (row.label === null ? given.plantingId : null) ?? row.plantingId ?? '',
    )
    if (planting?.seasonId !== row.seasonId) return { plantingId: catalogue.fields.notChosen }
    const standing = standingRefused(planting, day)
    if (standing) return { harvestedOn: words[standing] }
    const gardenId = (await gardenAt(tx, row.groupId, `planting:${planting.id}`)) ?? ''
    const at = { isoWeek: weekOf(day as IsoDate), gardenId, what: 'weights' }
    return (await weekClosed(tx, row.groupId, at)) ? { harvestedOn: words.isClosedThere } : undefined
  },
  back,
}

interface LossGiven {
  readonly percent: number
  readonly outside: number
}

const loss: Correctable<typeof losses.$inferSelect, LossGiven> = {
  kind: 'losses',
  access: 'recorder',
  find: (tx, groupId, id) => rowOf(tx, losses, groupId, id),
  title: (row) => `${words.losses}, ${row.lostOn}`,
  fields: (row) => [
    { name: 'percent', label: f.share, value: String(row.sharePermille / 10) },
    {
      name: 'cause',
      label: f.cause,
      value: row.cause,
      options: causes.map((cause) => ({ value: cause, label: words.causes[cause] })),
    },
    {
      name: 'outside',
      label: f.outside,
      hint: f.outsideHint,
      value: row.outsideMethod ? 'yes' : 'no',
      options: choicesOf(catalogue.seasons.yesOrNo),
    },
    { name: 'alsoNextDoor', label: f.nextDoor, value: row.alsoNextDoor ?? 'no', options: choicesOf(words.nextDoor) },
    { name: 'note', label: f.note, value: row.note ?? '' },
  ],
  form: () => lossCorrection,
  save: (tx, seen, { percent, outside, ...given }) =>
    amend(tx, losses, seen, { ...given, sharePermille: 10 * percent, outsideMethod: outside }),
  remove: removing('losses', losses),
  refuse: async (tx, row, given) => {
    if (!given || given.outside === row.outsideMethod) return undefined
    const planting = (await plantingsOf(tx, row.groupId)).find((one) => one.id === row.plantingId)
    const author = { groupId: row.groupId, createdBy: null }
    return (await seasonClosed({ tx, author }, planting?.seasonId ?? ''))
      ? { outside: words.outsideTooLate }
      : undefined
  },
  back,
}

export function diaryCorrections(app: FastifyInstance): void {
  correcting(app, labour)
  correcting(app, harvest)
  correcting(app, loss)
}
