import { amongThem } from '../lookups/unsaid.ts'

interface Standing {
  readonly id: string
  readonly matchedSetId: string | null
}

interface Weighed {
  readonly harvests: readonly { readonly plantingId: string | null }[]
  /** What stands under a label that is not opened yet. */
  readonly sealed: ReadonlyMap<string, string>
}

/** Plantings of the matched sets that were picked this week, themselves not weighed yet in it. */
export function twinsOf<T extends Standing>({ harvests, sealed }: Weighed, standing: readonly T[]): T[] {
  // What was weighed under a sealed label is told by nothing, not by its twins either.
  const told = harvests.filter((harvest) => !amongThem(sealed, harvest.plantingId))
  const picked = new Set(told.map((harvest) => harvest.plantingId))
  return othersOfSets(standing, picked).filter((one) => !sealed.has(one.id))
}

interface Lost {
  readonly losses: readonly { readonly plantingId: string }[]
  readonly gone: readonly { readonly plantingId: string }[]
}

/** Plantings of the matched sets of which something was lost this week, that still stand and have no loss in it. */
export function lostTwinsOf<T extends Standing>(rows: Lost, standing: readonly T[]): T[] {
  const gone = new Set(rows.gone.map((one) => one.plantingId))
  return othersOfSets(standing, new Set(rows.losses.map((loss) => loss.plantingId))).filter((one) => !gone.has(one.id))
}

function othersOfSets<T extends Standing>(standing: readonly T[], some: ReadonlySet<string | null>): T[] {
  const sets = new Set(standing.filter((one) => some.has(one.id)).map((one) => one.matchedSetId))
  return standing.filter((one) => one.matchedSetId !== null && sets.has(one.matchedSetId) && !some.has(one.id))
}
