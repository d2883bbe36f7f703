import { dryGramsOf, type NutrientsSpread } from './nutrients.ts'

export interface Brought {
  /** Dry matter a season, g per m2 of bed; null where one input is not known. */
  readonly dryGPerM2: number | null
  /** What has no weight of dry matter, by name. */
  readonly unknown: readonly string[]
}

/**
 * Dry matter that inputs brought to a garden, a season in the mean over those that ended or run; unknown is not zero.
 */
export function broughtTo(
  spreadings: readonly (NutrientsSpread & { readonly name: string })[],
  { bedAreaCm2, seasons }: { readonly bedAreaCm2: number; readonly seasons: number },
): Brought {
  const unknown = [...new Set(spreadings.filter((one) => dryGramsOf(one) === null).map((one) => one.name))]
  if (unknown.length > 0 || seasons === 0 || bedAreaCm2 === 0) return { dryGPerM2: null, unknown }
  // What cannot be weighed dry is counted and named apart.
  const grams = spreadings.reduce((sum, one) => sum + (dryGramsOf(one) ?? 0), 0)
  return { dryGPerM2: (grams * 10_000) / bedAreaCm2 / seasons, unknown }
}
