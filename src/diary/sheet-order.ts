import { linkOf, numberIn, textIn } from '../lookups/unsaid.ts'
import type { IsoDate } from '../quantities/dates.ts'
import { taskNames } from './tasks.ts'

interface Worked {
  readonly id: string
  readonly task: string
  readonly workedOn: IsoDate | null
}

/** Hours in the order of the sheet: garden by garden, task by task; what was done in several of them at the end. */
export function inSheetOrder<T extends Worked>(
  list: readonly T[],
  gardens: readonly { readonly id: string }[],
  gardenOf: (one: T) => string | undefined,
): T[] {
  const tasks: readonly string[] = taskNames
  const last = (at: number, of: number) => (at < 0 ? of : at)
  const keyed = list.map((one) => {
    const gardenId = gardenOf(one)
    const garden = last(
      gardens.findIndex(({ id }) => id === gardenId),
      gardens.length,
    )
    const task = last(tasks.indexOf(one.task), tasks.length)
    return { one, garden, task, key: `${one.workedOn === null ? '' : one.workedOn} ${one.id}` }
  })
  keyed.sort((a, b) => a.garden - b.garden || a.task - b.task || (a.key < b.key ? -1 : 1))
  return keyed.map(({ one }) => one)
}

interface Walked {
  readonly gardens: readonly { readonly id: string }[]
  readonly beds: readonly { readonly id: string; readonly gardenId: string }[]
  readonly plantings: readonly { readonly id: string; readonly bedId: string }[]
  readonly sealed: ReadonlyMap<string, string>
}

/**
 * In the order of the sheet, so that paper can be checked: gardens, beds, days; what is under labels or shared last.
 */
export function asWalked<T extends { id: string; plantingId: string | null }>(
  list: readonly T[],
  rows: Walked,
  day: (one: T) => string,
): T[] {
  const gardens = new Map(rows.gardens.map((garden, i) => [garden.id, i]))
  const beds = new Map(rows.beds.map((bed, i) => [bed.id, 1000 * numberIn(gardens, bed.gardenId) + i]))
  const bedOf = new Map(rows.plantings.map((one) => [one.id, beds.get(one.bedId)]))
  const place = ({ plantingId }: T) =>
    (plantingId === null || rows.sealed.has(plantingId) ? undefined : bedOf.get(plantingId)) ?? Number.MAX_SAFE_INTEGER
  const sealedLast = (one: T) => textIn(rows.sealed, linkOf(one.plantingId))
  const key = (one: T) => `${sealedLast(one)} ${day(one)} ${one.id}`
  return [...list].sort((a, b) => place(a) - place(b) || (key(a) < key(b) ? -1 : 1))
}
