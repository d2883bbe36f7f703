import { taskNames } from '../../diary/tasks.ts'
import { held } from '../../lookups/held.ts'
import { rowsWith } from '../../lookups/rows-with.ts'
import { numberIn } from '../../lookups/unsaid.ts'
import type { TrialRecord } from '../record/trial-record.ts'
import { overOwners } from './adding-up.ts'
import { methodsOfBeds } from './method-totals.ts'

interface LabourOfMethod {
  readonly methodId: string
  /** Person-minutes by task, and of them those of the establishing phase. */
  readonly byTask: Readonly<Record<string, { readonly minutes: number; readonly establishing: number }>>
  /** Person-minutes by task and ISO week, for work whose week is known. */
  readonly byWeek: readonly { readonly week: string; readonly task: string; readonly minutes: number }[]
}

/** Minutes of every method by task and week; what was written for several beds follows them by area, exactly. */
export function labourByTask(record: TrialRecord, seasonIds: readonly string[]): LabourOfMethod[] {
  const tasks = new Map<string, Map<string, { minutes: number; establishing: number }>>()
  const weeks = new Map<string, Map<string, number>>()
  for (const seasonId of seasonIds) {
    const methodOf = methodsOfBeds(record, seasonId)
    for (const entry of rowsWith(record.labour, 'seasonId', seasonId)) {
      const ofBed = (bedId: string) => methodOf.get(bedId)
      overOwners({ record, seasonId, bedIds: entry.bedIds }, entry.personMinutes, ofBed, (methodId, each) => {
        const minutes = (entry.times ?? 1) * each
        const own = tasks.get(methodId) ?? new Map<string, { minutes: number; establishing: number }>()
        const sum = own.get(entry.task) ?? { minutes: 0, establishing: 0 }
        const establishing = sum.establishing + (entry.phase === 'establishing' ? minutes : 0)
        tasks.set(methodId, own.set(entry.task, { minutes: sum.minutes + minutes, establishing }))
        if (!entry.isoWeek) return
        const key = `${entry.isoWeek} ${entry.task}`
        const ofWeeks = weeks.get(methodId) ?? new Map<string, number>()
        weeks.set(methodId, ofWeeks.set(key, numberIn(ofWeeks, key) + minutes))
      })
    }
  }
  return record.methods.flatMap((method) => {
    const own = tasks.get(method.id)
    if (!own) return []
    const byTask = Object.fromEntries(
      taskNames.flatMap((task) => (own.has(task) ? [[task, held(own, task)] as const] : [])),
    )
    return [{ methodId: method.id, byTask, byWeek: weeksOf(weeks.get(method.id)) }]
  })
}

function weeksOf(sums: ReadonlyMap<string, number> | undefined): LabourOfMethod['byWeek'] {
  return [...(sums ?? [])]
    .sort(([a], [b]) => (a < b ? -1 : 1))
    .map(([key, minutes]) => ({ week: key.slice(0, 8), task: key.slice(9), minutes }))
}
