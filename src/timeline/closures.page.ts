import { type AreaFrom, areaOn } from '../gardens/areas-held.ts'
import { asShown, nameIfAny } from '../lookups/unsaid.ts'
import type { IsoDate } from '../quantities/dates.ts'
import { formatDay, formatHours, formatNumber } from '../quantities/formatting.ts'
import { type BedLabour, type Closure, restartOf } from './restart.ts'

interface Rows {
  readonly beds: readonly { id: string; name: string; areas: readonly AreaFrom[] }[]
  readonly closures: readonly (Closure & {
    id: string
    why: string
    material: string | null
    regrowth: string | null
  })[]
  readonly bedLabour: readonly BedLabour[]
}

/** Each covered bed with what starting it again took and what came of it. */
export function closuresShown(rows: Rows, locale: string, today: IsoDate) {
  return rows.closures.map((closure) => {
    const bed = rows.beds.find((one) => one.id === closure.bedId)
    const found = restartOf(closure, areaOn(bed?.areas ?? [], closure.fromDay), rows.bedLabour, today)
    return {
      id: closure.id,
      bed: nameIfAny(bed),
      why: closure.why,
      material: asShown(closure.material),
      regrowthWords: asShown(closure.regrowth),
      from: formatDay(closure.fromDay, locale),
      to: closure.toDay ? formatDay(closure.toDay, locale) : null,
      weeks: formatNumber(found.days / 7, locale, 1),
      idle: formatNumber(found.idleCm2Days / 10_000 / 7, locale, 1),
      uncovered: closure.toDay !== null,
      countNow: found.regrowth.some(({ due, shoots }) => due !== null && due <= today && shoots === null),
      hours: found.entries === 0 ? null : formatHours(found.personMinutes, locale),
      regrowth: (closure.toDay === null ? [] : found.regrowth).map(({ weeks, due, shoots }) => ({
        weeks,
        shoots: shoots === null ? null : formatNumber(shoots, locale, 0),
        due: due !== null && due > today ? formatDay(due, locale) : null,
      })),
    }
  })
}
