import { held } from '../lookups/held.ts'
import { asShown, textIn } from '../lookups/unsaid.ts'
import { daysBetween, type IsoDate } from '../quantities/dates.ts'
import { endOf, inBedFrom } from './bed-course.ts'

/** Common practice, without a source: how many years a bed rests from a family. */
export const usualYears = 3

export interface Rotated {
  readonly id: string
  readonly bedId: string
  readonly cropId: string
  readonly seasonId: string
  readonly how: string
  readonly sownOn: IsoDate | null
  readonly plantedOn: IsoDate | null
  readonly clearedOn: IsoDate | null
  readonly standsUntil?: IsoDate | null
}

export interface FamilyReturn {
  readonly plantingId: string
  /** The latest planting of that family in the bed before it. */
  readonly earlierId: string
  readonly family: string
  /** From season to season; 0 within one season. */
  readonly years: number
}

/**
 * Where a family comes back to a bed sooner than `years` years after it stood there, counted from the start of one
 * season to the start of the other in whole years: in a rotation over three years it comes back in the fourth season.
 * Within one season it comes back where the one was cleared, or is meant to be, before the other came; what stands
 * together is no return. Crops without a family are not looked at.
 */
export function familyReturns(
  plantings: readonly Rotated[],
  crops: readonly { id: string; family: string | null }[],
  seasons: readonly { id: string; startsOn: IsoDate }[],
  years = usualYears,
): FamilyReturn[] {
  const familyOf = new Map(crops.map((crop) => [crop.id, asShown(crop.family?.trim().toLowerCase())]))
  const startOf = new Map(seasons.map((season) => [season.id, season.startsOn]))
  const known = plantings.filter((one) => familyOf.get(one.cropId) && startOf.has(one.seasonId))
  return known.flatMap((later) => {
    const earlier = known.filter(
      (one) => one.bedId === later.bedId && familyOf.get(one.cropId) === familyOf.get(later.cropId),
    )
    const [last] = earlier
      .filter((one) => cameBefore(one, later, startOf))
      .sort((a, b) => (inBedFrom(a) < inBedFrom(b) ? 1 : inBedFrom(a) > inBedFrom(b) ? -1 : a.id < b.id ? -1 : 1))
    if (!last) return []
    const between = yearsBetween(held(startOf, last.seasonId), held(startOf, later.seasonId))
    const family = asShown(crops.find((crop) => crop.id === later.cropId)?.family?.trim())
    return between < years ? [{ plantingId: later.id, earlierId: last.id, family, years: between }] : []
  })
}

function cameBefore(one: Rotated, later: Rotated, startOf: ReadonlyMap<string, string>): boolean {
  if (one.id === later.id) return false
  const end = endOf(one)
  if (one.seasonId === later.seasonId) return end !== null && end <= inBedFrom(later)
  return textIn(startOf, one.seasonId) < textIn(startOf, later.seasonId)
}

const yearsBetween = (from: IsoDate, to: IsoDate) => Math.round(daysBetween(from, to) / 365.25)
