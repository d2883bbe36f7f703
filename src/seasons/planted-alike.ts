import { numberIn } from '../lookups/unsaid.ts'
import type { IsoDate } from '../quantities/dates.ts'

/** A planting as far as its row among those of one cultivar goes. */
export interface BedLaid {
  readonly cultivarId: string
  /** The day it was sown, or planted where it was not sown here. */
  readonly day: string
  readonly garden: string
  readonly bed: string
  readonly areaCm2: number
  readonly clearedOn: IsoDate | null
}

interface Alike<L extends BedLaid> {
  readonly day: string
  readonly plantings: readonly [L, ...L[]]
  readonly gardens: readonly string[]
  /** What most of them share; where one differs, it is told apart. */
  readonly bed: string
  readonly areaCm2: number
  readonly clearedOn: IsoDate | null
  readonly apart: readonly L[]
}

/**
 * Plantings of one cultivar on one day as one line, in the order of days: bed, area and clearing are said once, as most
 * of them have it, and only those that differ are named.
 */
export function plantedAlike<L extends BedLaid>(plantings: readonly L[]): Alike<L>[] {
  const together = new Map<string, [L, ...L[]]>()
  for (const planting of plantings) {
    const key = `${planting.day} ${planting.cultivarId}`
    const own = together.get(key)
    if (own) own.push(planting)
    else together.set(key, [planting])
  }
  return [...together.values()].map(lineOf).sort((a, b) => (a.day < b.day ? -1 : a.day > b.day ? 1 : 0))
}

function lineOf<L extends BedLaid>(plantings: readonly [L, ...L[]]): Alike<L> {
  const [bed, areaCm2, clearedOn] = [
    commonest(plantings, (one) => one.bed),
    commonest(plantings, (one) => one.areaCm2),
    commonest(plantings, (one) => one.clearedOn),
  ]
  return {
    day: plantings[0].day,
    plantings,
    bed,
    areaCm2,
    clearedOn,
    gardens: [...new Set(plantings.map((one) => one.garden))],
    apart: plantings.filter((one) => one.bed !== bed || one.areaCm2 !== areaCm2 || one.clearedOn !== clearedOn),
  }
}

/** Of values that are as common, the one that comes first. */
function commonest<L, V>(list: readonly [L, ...L[]], of: (one: L) => V): V {
  const counts = new Map<V, number>()
  for (const one of list) counts.set(of(one), numberIn(counts, of(one)) + 1)
  const most = Math.max(...counts.values())
  return of(list.find((one) => counts.get(of(one)) === most) ?? list[0])
}
