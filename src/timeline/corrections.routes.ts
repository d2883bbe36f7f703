import type { FastifyInstance, FastifyRequest } from 'fastify'
import { ofTable, rowOf } from '../db/amend.ts'
import { bedsOf } from '../gardens/gardens.queries.ts'
import { bedClosures } from '../gardens/gardens.table.ts'
import { asShown, linkOf, nameIfAny } from '../lookups/unsaid.ts'
import { dayIn } from '../quantities/dates.ts'
import { formatDay } from '../quantities/formatting.ts'
import { type Correctable, correcting } from '../web/correcting.ts'
import { wordsHere } from '../web/words-here.ts'
import { type ClosureGiven, closureCorrection } from './garden.form.ts'
import { countedTooSoon } from './restart.ts'

const words = () => wordsHere().timeline

type ClosureRow = typeof bedClosures.$inferSelect & { readonly bed: string; readonly gardenId: string }

const shown = (count: number | null) => (count === null ? '' : String(count))

const closure: Correctable<ClosureRow, ClosureGiven> = {
  ...ofTable(bedClosures),
  kind: 'bed-closures',
  access: 'recorder',
  find: async (tx, groupId, id) => {
    const row = await rowOf(tx, bedClosures, groupId, id)
    const bed = (await bedsOf(tx, groupId)).find((one) => one.id === row?.bedId)
    return row && { ...row, bed: nameIfAny(bed), gardenId: linkOf(bed?.gardenId) }
  },
  title: (row) => words().closureOf(row.bed, row.fromDay),
  fields: (row) => [
    { name: 'fromDay', label: words().from, value: row.fromDay, type: 'date' },
    { name: 'toDay', label: words().to, value: asShown(row.toDay), type: 'date' },
    { name: 'why', label: words().why, value: row.why },
    { name: 'material', label: words().material, value: asShown(row.material) },
    { name: 'regrowthAfter4Weeks', label: words().shootsAfter(4), value: shown(row.regrowthAfter4Weeks) },
    { name: 'regrowthAfter8Weeks', label: words().shootsAfter(8), value: shown(row.regrowthAfter8Weeks) },
    { name: 'regrowthAfter12Weeks', label: words().shootsAfter(12), value: shown(row.regrowthAfter12Weeks) },
    { name: 'regrowth', label: words().regrowthWords, value: asShown(row.regrowth) },
  ],
  form: () => closureCorrection,
  refuse: async (_tx, _row, given, request) => {
    const { timeZone, locale } = request.member.group
    const early = given ? countedTooSoon(given, dayIn(timeZone, new Date())) : []
    if (early.length === 0) return undefined
    return Object.fromEntries(
      early.map(({ weeks, field, due }) => [field, words().countedTooSoon(weeks, formatDay(due, locale))]),
    )
  },
  back: (row, request: FastifyRequest) => `/g/${request.member.group.slug}/gardens/${row.gardenId}`,
}

export function closureCorrections(app: FastifyInstance): void {
  correcting(app, closure)
}
