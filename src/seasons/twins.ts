import { asShown } from '../lookups/unsaid.ts'
import type { IsoDate } from '../quantities/dates.ts'

/** A planting as far as its twins in other gardens go. */
export interface Twin {
  readonly id: string
  readonly seasonId: string
  readonly bedId: string
  readonly cultivarId: string
  readonly matchedSetId: string | null
  readonly purpose: string
  readonly clearedOn: IsoDate | null
}

export interface TwinRows<P extends Twin> {
  readonly seasonId: string
  readonly gardens: readonly { id: string; name: string }[]
  readonly beds: readonly { id: string; gardenId: string }[]
  readonly assignments: readonly { seasonId: string; gardenId: string }[]
  readonly plantings: readonly P[]
}

/** Gardens that take part in a season: a method lies on them, or something is planted in them. */
function gardensTakingPart<P extends Twin>({ seasonId, gardens, beds, assignments, plantings }: TwinRows<P>) {
  const gardenOf = new Map(beds.map((bed) => [bed.id, bed.gardenId]))
  const part = new Set([
    ...assignments.filter((one) => one.seasonId === seasonId).map((one) => one.gardenId),
    ...plantings.filter((one) => one.seasonId === seasonId).map((one) => gardenOf.get(one.bedId)),
  ])
  return gardens.filter((garden) => part.has(garden.id))
}

interface Missing<P extends Twin> {
  readonly planting: P
  readonly there: readonly string[]
  readonly missing: readonly string[]
}

/**
 * Cultivars for harvest that stand in some gardens of the season and not in others: nothing there can be compared with
 * them.
 */
export function twinsMissing<P extends Twin>(rows: TwinRows<P>): Missing<P>[] {
  const gardenOf = new Map(rows.beds.map((bed) => [bed.id, bed.gardenId]))
  const taking = gardensTakingPart(rows)
  const own = rows.plantings.filter((one) => one.seasonId === rows.seasonId && one.purpose === 'harvest')
  return [...new Set(own.map((one) => one.cultivarId))].flatMap((cultivarId) => {
    const ofCultivar = own.filter((one) => one.cultivarId === cultivarId)
    const holding = new Set(ofCultivar.map((one) => gardenOf.get(one.bedId)))
    const [planting] = ofCultivar
    const missing = taking.filter((garden) => !holding.has(garden.id)).map((garden) => garden.name)
    const there = taking.filter((garden) => holding.has(garden.id)).map((garden) => garden.name)
    return planting && missing.length > 0 ? [{ planting, there, missing }] : []
  })
}

/**
 * Gardens of the season in which a cultivar for harvest was planted fewer times than in the garden of one planting of
 * it.
 */
export function gardensBehind<P extends Twin>(rows: TwinRows<P>, { cultivarId, bedId }: P): string[] {
  const gardenOf = new Map(rows.beds.map((bed) => [bed.id, bed.gardenId]))
  const own = rows.plantings.filter((one) => one.seasonId === rows.seasonId && one.purpose === 'harvest')
  const times = (gardenId: string | undefined) =>
    own.filter((one) => one.cultivarId === cultivarId && gardenOf.get(one.bedId) === gardenId).length
  const here = times(gardenOf.get(bedId))
  return gardensTakingPart(rows)
    .filter((garden) => times(garden.id) < here)
    .map((garden) => garden.name)
}

export interface Gone {
  readonly plantingId: string
  readonly lostOn: IsoDate
}

interface StillStanding<P extends Twin> {
  readonly planting: P
  readonly how: 'cleared' | 'lost'
  readonly on: string
  readonly standing: readonly P[]
}

/** Plantings of a season that were cleared or wholly lost while others of their matched set still stand. */
export function twinsStanding<P extends Twin>(
  plantings: readonly P[],
  seasonId: string,
  lost: readonly Gone[],
): StillStanding<P>[] {
  const lostOn = new Map(lost.map((one) => [one.plantingId, one.lostOn]))
  const own = plantings.filter((one) => one.seasonId === seasonId)
  const stands = (one: P) => one.clearedOn === null && !lostOn.has(one.id)
  return own.flatMap((planting) => {
    if (planting.matchedSetId === null || stands(planting)) return []
    const standing = own.filter((one) => one.matchedSetId === planting.matchedSetId && stands(one))
    const gone = lostOn.get(planting.id)
    const [how, on] = gone ? (['lost', gone] as const) : (['cleared', asShown(planting.clearedOn)] as const)
    return standing.length > 0 ? [{ planting, how, on, standing }] : []
  })
}
