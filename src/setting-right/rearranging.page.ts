import { asShown, textIn } from '../lookups/unsaid.ts'
import type { IsoDate } from '../quantities/dates.ts'
import { formatArea, formatDay, formatHours, formatKilograms, formatNumber } from '../quantities/formatting.ts'
import type { IsoWeek } from '../quantities/iso-week.ts'
import { catalogue } from '../words/catalogue.ts'

const words = catalogue.settingRight
const diary = catalogue.diary

/** What is written of one planting, as far as a line of it can be told from others. */
interface Written {
  readonly weights: readonly Weight[]
  readonly crates: readonly Weight[]
  readonly losses: readonly { id: string; lostOn: IsoDate; sharePermille: number; cause: string }[]
  readonly labour: readonly {
    id: string
    isoWeek: IsoWeek
    workedOn: IsoDate | null
    task: string
    personMinutes: number
  }[]
  readonly loads: readonly { id: string; appliedOn: IsoDate; quantityThousandths: number }[]
  readonly notes: readonly { id: string; seenOn: IsoDate; words: string }[]
  readonly counts: readonly { id: string; countedOn: IsoDate; what: string; value: string }[]
}

interface Weight {
  readonly id: string
  readonly harvestedOn: IsoDate
  readonly marketableG: number
  readonly unmarketableG: number
}

interface LineWritten {
  readonly id: string
  readonly on: string
  readonly said: string
}

/** Every entry of a planting as one line, by day. */
export function linesWritten(written: Written, loadNames: ReadonlyMap<string, string>, locale: string): LineWritten[] {
  const on = (day: string) => formatDay(day, locale)
  const weight = (one: Weight) => formatKilograms(one.marketableG + one.unmarketableG, locale)
  const named = <T extends string>(names: Readonly<Record<T, string>>, key: string) => names[key as T] ?? key
  const lines = [
    ...written.weights.map((one) => [one.harvestedOn, one.id, words.weight(on(one.harvestedOn), weight(one))] as const),
    ...written.crates.map((one) => [one.harvestedOn, one.id, words.crate(on(one.harvestedOn), weight(one))] as const),
    ...written.losses.map((one) => {
      const percent = formatNumber(one.sharePermille / 10, locale, one.sharePermille % 10 ? 1 : 0)
      return [one.lostOn, one.id, words.loss(on(one.lostOn), percent, named(diary.causes, one.cause))] as const
    }),
    ...written.labour.map((one) => {
      const when = one.workedOn === null ? one.isoWeek : on(one.workedOn)
      const said = words.hours(when, formatHours(one.personMinutes, locale), named(diary.tasks, one.task))
      return [one.workedOn ?? one.isoWeek, one.id, said] as const
    }),
    ...written.loads.map((one) => {
      const amount = formatNumber(one.quantityThousandths / 1000, locale, one.quantityThousandths % 1000 ? 2 : 0)
      return [one.appliedOn, one.id, words.load(on(one.appliedOn), amount, textIn(loadNames, one.id))] as const
    }),
    ...written.notes.map((one) => [one.seenOn, one.id, words.note(on(one.seenOn), one.words)] as const),
    ...written.counts.map(
      (one) => [one.countedOn, one.id, words.count(on(one.countedOn), one.what, one.value)] as const,
    ),
  ]
  const inOrder = lines.sort((a, b) => (a[0] < b[0] ? -1 : a[0] > b[0] ? 1 : a[1] < b[1] ? -1 : 1))
  return inOrder.map(([day, id, said]) => ({ id, on: day, said }))
}

interface Standing {
  readonly id: string
  readonly areaCm2: number
  readonly sownOn: IsoDate | null
  readonly plantedOn: IsoDate | null
}

/** How the plantings of the same cultivar in the same bed are told apart in a list. */
export const choiceOf = (one: Standing, name: string, locale: string) => ({
  value: one.id,
  label: words.choice(name, formatDay(asShown(one.sownOn ?? one.plantedOn), locale), formatArea(one.areaCm2, locale)),
})
