import type { IsoDate } from '../quantities/dates.ts'
import { type HeldLimit, limitedNutrients, limitOn, type SourceKind, type SpreadingLimit } from '../soil/limits.ts'

/** The limits of a day that a product falls under: those of its own kind of source, and those of all together. */
export const limitsOver = (source: SourceKind, limits: readonly SpreadingLimit[], day: IsoDate): HeldLimit[] =>
  ([source, 'all'] as const).flatMap((one) =>
    limitedNutrients.flatMap((nutrient) => limitOn(limits, { source: one, nutrient }, day) ?? []),
  )

interface Brought {
  readonly nitrogen: number | null
  readonly phosphorus: number | null
}

interface LimitPassed {
  readonly limit: HeldLimit
  readonly gPerM2: number
}

/** Those that a dressing alone is over, with what it brings; what is not known passes none. */
export function limitsPassed(brought: Brought, held: readonly HeldLimit[]): LimitPassed[] {
  return held.flatMap((limit) => {
    const gPerM2 = brought[limit.nutrient]
    return gPerM2 !== null && 1000 * gPerM2 > limit.mostMgPerM2 ? [{ limit, gPerM2 }] : []
  })
}
