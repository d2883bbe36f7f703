import { gramsOf, type LoadMeasure } from '../inputs/measures.ts'
import { type Analysis, nutrientsIn } from '../inputs/nutrients.ts'

/** Nitrogen, phosphorus and potassium as elements, in milligrams; null where it is not known. Unknown is not zero. */
interface Nutrients {
  readonly nitrogen: number | null
  readonly phosphorus: number | null
  readonly potassium: number | null
}

export const nutrientNames = ['nitrogen', 'phosphorus', 'potassium'] as const
export type Nutrient = (typeof nutrientNames)[number]

export interface NutrientsSpread extends Analysis {
  readonly quantityThousandths: number
  readonly unit: string
  readonly densityKgPerM3: number | null
  /** The group's own, such as a barrow. */
  readonly measures: readonly LoadMeasure[]
}

const inSpread = (spread: NutrientsSpread) => nutrientsIn(gramsOf(spread.quantityThousandths, spread), spread)

/** Grams of dry matter; null where the unit or the density tells no weight, or the moisture is not known. */
export const dryGramsOf = (spread: NutrientsSpread): number | null => inSpread(spread).dryG

export interface Composition {
  readonly proteinMgPer100g: number | null
  readonly phosphorusMgPer100g: number | null
  readonly potassiumMgPer100g: number | null
}

/** Grams of protein that hold one gram of nitrogen: the factor by which food tables turn the one into the other. */
const proteinPerNitrogen = 6.25

/**
 * What a harvest took away, to the whole milligram: fresh weight times the composition of the crop as food tables give
 * it.
 */
export function takenBy(grams: number, crop: Composition): Nutrients {
  const of = (mgPer100g: number | null) => (mgPer100g === null ? null : Math.round((grams * mgPer100g) / 100))
  const protein = crop.proteinMgPer100g
  return {
    nitrogen: of(protein === null ? null : protein / proteinPerNitrogen),
    phosphorus: of(crop.phosphorusMgPer100g),
    potassium: of(crop.potassiumMgPer100g),
  }
}
