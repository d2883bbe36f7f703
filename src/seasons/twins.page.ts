import { linkOf, nameIfAny, textIn } from '../lookups/unsaid.ts'
import { formatDay } from '../quantities/formatting.ts'
import { catalogue } from '../words/catalogue.ts'
import { type Called, cropAndCultivar, plantingNames } from './planting-names.ts'
import { type Gone, gardensBehind, type Twin, type TwinRows, twinsMissing, twinsStanding } from './twins.ts'

type Named = Twin & Called

interface Rows extends TwinRows<Named> {
  readonly beds: readonly { id: string; gardenId: string; name: string }[]
}

/** What stands in some gardens only. */
export const missingSaid = (rows: Rows) =>
  twinsMissing(rows).map(({ planting, there, missing }) => ({
    name: cropAndCultivar(planting),
    cultivarId: planting.cultivarId,
    there,
    missing,
  }))

/**
 * Asks for the twin of what was just planted: where the cultivar is not at all, or was sown fewer times. Blank where
 * nothing lacks.
 */
export function twinAsked(rows: Rows, plantingId: string): string {
  const planting = rows.plantings.find((one) => one.id === plantingId)
  if (planting?.purpose !== 'harvest') return ''
  const alone = twinsMissing(rows).find((one) => one.planting.cultivarId === planting.cultivarId)
  if (alone) return catalogue.plan.notEverywhere(alone.missing)
  const behind = gardensBehind(rows, planting)
  return behind.length > 0 ? catalogue.plan.fewerTimes(behind) : ''
}

/** What is gone in one garden and stands in another. */
export function standingSaid(rows: Rows, lost: readonly Gone[], locale: string) {
  const bed = new Map(rows.beds.map((one) => [one.id, one]))
  const garden = new Map(rows.gardens.map((one) => [one.id, one.name]))
  const names = plantingNames(rows.plantings, locale)
  const place = ({ bedId }: Named) =>
    `${textIn(garden, linkOf(bed.get(bedId)?.gardenId))}, ${nameIfAny(bed.get(bedId))}`
  return twinsStanding(rows.plantings, rows.seasonId, lost).map(({ planting, how, on, standing }) => ({
    name: textIn(names, planting.id),
    how,
    on: formatDay(on, locale),
    place: place(planting),
    standing: standing.map(place),
  }))
}
