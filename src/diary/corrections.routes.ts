import type { FastifyInstance, FastifyRequest } from 'fastify'
import { amend, rowOf } from '../db/amend.ts'
import type { Tx } from '../db/database.ts'
import { labourAsTyped, weightAsTyped } from '../quantities/as-typed.ts'
import type { Minutes } from '../quantities/times.ts'
import { plantingsOf } from '../seasons/seasons.queries.ts'
import { type Correctable, choicesOf, correcting } from '../web/correcting.ts'
import { catalogue } from '../words/catalogue.ts'
import { harvests, labourEntries, losses } from './diary.table.ts'
import { taskNames } from './tasks.ts'
import { causes, harvestCorrection, labourCorrection, lossCorrection } from './week.form.ts'
import { closingsOf, type Entry, gardensTouched, removeEntry } from './week.queries.ts'
import { seasonClosed } from './weights.routes.ts'

const words = catalogue.diary
const f = words.fields
/** What stands in a closed week is corrected once the week is open again: reopening says why. */
async function closedAt(tx: Tx, groupId: string, kind: Entry, row: { id: string; isoWeek: string }) {
  const touched = await gardensTouched(tx, groupId, kind, row.id)
  const what = kind === 'labour' ? 'hours' : 'weights'
  return (await closingsOf(tx, groupId, row.isoWeek)).some(
    (closing) => closing.what === what && touched.includes(closing.gardenId),
  )
}

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

interface LabourGiven {
  readonly time: { readonly personMinutes: Minutes; readonly people: number }
}

const labour: Correctable<typeof labourEntries.$inferSelect, LabourGiven> = {
  kind: 'labour',
  access: 'recorder',
  find: (tx, groupId, id) => rowOf(tx, labourEntries, groupId, id),
  title: (row) => `${row.task}, ${row.isoWeek}`,
  fields: (row) => [
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
  ],
  form: () => labourCorrection,
  save: (tx, seen, { time, ...given }) => amend(tx, labourEntries, seen, { ...given, ...time }),
  remove: removing('labour', labourEntries),
  refuse: async (tx, row) => ((await closedAt(tx, row.groupId, 'labour', row)) ? { time: words.isClosed } : undefined),
  back,
}

interface HarvestGiven {
  readonly marketable: number
  readonly unmarketable: number
  readonly why: string | null
  readonly pieces: number | null
}

const harvest: Correctable<typeof harvests.$inferSelect, HarvestGiven> = {
  kind: 'harvests',
  access: 'recorder',
  find: (tx, groupId, id) => rowOf(tx, harvests, groupId, id),
  title: (row) => `${words.weights}, ${row.harvestedOn}`,
  fields: (row, request) => {
    const unit = request.member.group.weightUnit
    return [
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
  save: (tx, seen, { marketable, unmarketable, why, pieces }) =>
    amend(tx, harvests, seen, {
      marketableG: marketable,
      unmarketableG: unmarketable,
      unmarketableReason: unmarketable > 0 ? why : null,
      pieces,
      grossG: null,
      containerId: null,
    }),
  remove: removing('harvests', harvests),
  refuse: async (tx, row) =>
    (await closedAt(tx, row.groupId, 'harvests', row)) ? { marketable: words.isClosed } : undefined,
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
