import { inBedFrom } from './bed-course.ts'
import type { PlanPlanting, PlanRows } from './plan.page.ts'
import { cropAndCultivar } from './planting-names.ts'

interface CarriedRows extends PlanRows {
  /** Of plantings that were carried over, the ones they came from. */
  readonly carriedFrom: ReadonlyMap<string, string>
}

interface Offered {
  readonly planting: PlanPlanting
  readonly beds: readonly { readonly id: string }[]
  readonly day: string
  readonly turn: readonly { readonly id: string }[]
}

/**
 * What of this season is a line carried before, by the planting it came from. One that was carried is known by its id,
 * whatever was corrected since; one that was planted by hand by its cultivar and area in that garden, first on that day
 * and then on any. Each is one line's only.
 */
export function carriedAlready(rows: CarriedRows, offered: readonly Offered[]): ReadonlyMap<string, PlanPlanting> {
  const left = new Set(rows.plantings.filter((one) => one.seasonId === rows.seasonId))
  const there = new Map<string, PlanPlanting>()
  const take = (line: Offered, fits: (one: PlanPlanting) => boolean) => {
    if (there.has(line.planting.id)) return
    const found = [...left].find(fits)
    if (!found) return
    left.delete(found)
    there.set(line.planting.id, found)
  }
  const alike = ({ planting }: Offered, one: PlanPlanting) =>
    cropAndCultivar(one) === cropAndCultivar(planting) && one.areaCm2 === planting.areaCm2
  for (const line of offered) take(line, (one) => rows.carriedFrom.get(one.id) === line.planting.id)
  const isInGarden = (line: Offered, one: PlanPlanting) => line.beds.some((bed) => bed.id === one.bedId)
  for (const line of offered) {
    take(line, (one) => alike(line, one) && inBedFrom(one) === line.day && isInGarden(line, one))
  }
  for (const line of offered) take(line, (one) => alike(line, one) && isInGarden(line, one))
  return there
}
