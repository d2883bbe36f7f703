import { formatDay } from '../quantities/formatting.ts'
import { type Gone, type Twin, type TwinRows, twinsMissing, twinsStanding } from './twins.ts'

interface Named extends Twin {
  readonly crop: string
  readonly cultivar: string
}

interface Rows extends TwinRows<Named> {
  readonly beds: readonly { id: string; gardenId: string; name: string }[]
}

const named = ({ crop, cultivar }: Named) => `${crop}, ${cultivar}`

/** What stands in some gardens only. */
export const missingSaid = (rows: Rows) =>
  twinsMissing(rows).map(({ planting, there, missing }) => ({
    name: named(planting),
    cultivarId: planting.cultivarId,
    there,
    missing,
  }))

/** What is gone in one garden and stands in another. */
export function standingSaid(rows: Rows, lost: readonly Gone[], locale: string) {
  const bed = new Map(rows.beds.map((one) => [one.id, one]))
  const garden = new Map(rows.gardens.map((one) => [one.id, one.name]))
  const place = ({ bedId }: Named) =>
    `${garden.get(bed.get(bedId)?.gardenId ?? '') ?? ''}, ${bed.get(bedId)?.name ?? ''}`
  return twinsStanding(rows.plantings, rows.seasonId, lost).map(({ planting, how, on, standing }) => ({
    ...{ name: named(planting), how, on: formatDay(on, locale), place: place(planting) },
    standing: standing.map(place),
  }))
}
