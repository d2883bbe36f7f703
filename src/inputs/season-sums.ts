import { costOf, type SpreadingRow } from './load.ts'
import { type CountedIn, gramsOf, type LoadMeasure, millilitresOf } from './measures.ts'
import { nutrientsIn } from './nutrients.ts'

export const countedIn = (input: SpreadingRow['input'], measures: readonly LoadMeasure[]): CountedIn => ({
  unit: input.unit,
  densityKgPerM3: input.densityKgPerM3,
  measures,
})

/** What one spreading cost, took in volume and weight, and carried; null for each that cannot be known. */
export function spreadingFigures(one: SpreadingRow, measures: readonly LoadMeasure[]) {
  const counted = countedIn(one.input, measures)
  const massG = gramsOf(one.quantityThousandths, counted)
  return {
    costMinor: costOf(one),
    volumeMl: millilitresOf(one.quantityThousandths, counted),
    massG,
    ...nutrientsIn(massG, one.input),
  }
}

type SeasonSum = {
  readonly seasonId: string
  readonly season: string
  /** Of what was spread in it, before it is divided over the seasons that it lasts. */
  readonly costMinor: number
  readonly unpriced: number
  readonly spreadings: number
  /** Of the spreadings of which it is known, and of how many it is; null where of none. */
  readonly nitrogenG: number | null
  readonly nitrogenKnown: number
  readonly phosphorusG: number | null
  readonly phosphorusKnown: number
  readonly potassiumG: number | null
  readonly potassiumKnown: number
}

/** Costs and nutrients by the season that they count toward; seasons without a spreading are left out. */
export function seasonSums(
  seasons: readonly { id: string; name: string }[],
  spreadings: readonly SpreadingRow[],
  measures: readonly LoadMeasure[],
): SeasonSum[] {
  return seasons.flatMap((season) => {
    const own = spreadings.filter((one) => one.seasonId === season.id).map((one) => spreadingFigures(one, measures))
    if (own.length === 0) return []
    const known = (of: 'nitrogenG' | 'phosphorusG' | 'potassiumG') => own.flatMap((one) => one[of] ?? [])
    const sum = (grams: readonly number[]) => (grams.length === 0 ? null : grams.reduce((total, one) => total + one, 0))
    const [nitrogen, phosphorus, potassium] = [known('nitrogenG'), known('phosphorusG'), known('potassiumG')]
    return [
      {
        seasonId: season.id,
        season: season.name,
        spreadings: own.length,
        // What has no price is counted beside the sum.
        costMinor: own.reduce((sum, one) => sum + (one.costMinor ?? 0), 0),
        unpriced: own.filter((one) => one.costMinor === null).length,
        nitrogenG: sum(nitrogen),
        nitrogenKnown: nitrogen.length,
        phosphorusG: sum(phosphorus),
        phosphorusKnown: phosphorus.length,
        potassiumG: sum(potassium),
        potassiumKnown: potassium.length,
      },
    ]
  })
}
