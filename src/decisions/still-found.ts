import { type AreaFrom, areaAtLast } from '../gardens/areas-held.ts'
import type { SpreadingRow } from '../inputs/load.ts'
import type { LoadMeasure } from '../inputs/measures.ts'
import { type Place, placeOfRow } from '../inputs/place.ts'
import { numberIn } from '../lookups/unsaid.ts'
import type { IsoDate } from '../quantities/dates.ts'
import { foundAfter } from '../soil/ledger.ts'
import { madeUpOf, milligramsIn } from '../soil/made-up-of.ts'
import { foundOfNitrogen } from '../soil/published-make-up.ts'

interface SpreadSoFar {
  readonly seasons: readonly { readonly id: string; readonly startsOn: IsoDate }[]
  readonly beds: readonly { readonly id: string; readonly areas: readonly AreaFrom[] }[]
  readonly spreadings: readonly SpreadingRow[]
  readonly places: readonly Place[]
  readonly measures: readonly LoadMeasure[]
}

/**
 * Of all that lies on some beds already, the nitrogen that crops will find in the season to come, in grams on a m2. A
 * load over more ground counts by its share of the area; what has no weight or no analysis is not in it.
 */
export function nitrogenStillFound(rows: SpreadSoFar, bedIds: ReadonlySet<string>, today: IsoDate): number {
  const upcoming = rows.seasons.findIndex(({ startsOn }) => startsOn > today)
  const next = upcoming < 0 ? rows.seasons.length : upcoming
  const at = new Map(rows.seasons.map(({ id }, i) => [id, i]))
  const area = new Map(rows.beds.map(({ id, areas }) => [id, areaAtLast(areas)]))
  const over = (ids: Iterable<string>) => [...ids].reduce((sum, id) => sum + numberIn(area, id), 0)
  const own = over(bedIds)
  if (own === 0) return 0
  const milligrams = rows.spreadings.flatMap((one) => {
    const [place, season, shares] = [placeOfRow(rows.places, one), at.get(one.seasonId), foundOfNitrogen(one.input)]
    const amount = { quantityThousandths: one.quantityThousandths, unit: one.input.unit, measures: rows.measures }
    const mg = milligramsIn(madeUpOf(one.input), amount).nitrogen
    if (place === null || season === undefined || season >= next || shares === null || mg === null) return []
    const all = over(place.bedIds)
    const here = over(place.bedIds.filter((id) => bedIds.has(id)))
    return all === 0 ? [] : [(foundAfter(mg, shares, next - season) * here) / all]
  })
  return (10 * milligrams.reduce((sum, one) => sum + one, 0)) / own
}
