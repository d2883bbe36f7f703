import { gramsOf, type LoadMeasure } from '../inputs/measures.ts'
import { type Analysis, nutrientsIn } from '../inputs/nutrients.ts'
import { recordOf } from '../lookups/keys.ts'
import { type Nutrient, nutrientNames } from './nutrients.ts'
import { type PublishedMakeUp, publishedMakeUp } from './published-make-up.ts'

interface InputMade extends Analysis {
  readonly name: string
  readonly kind: string
  readonly unit: string
  readonly densityKgPerM3: number | null
}

export interface MadeUp extends Analysis {
  readonly densityKgPerM3: number | null
  /** Set where its nutrients are published ones, since the group has no analysis of it. */
  readonly published: PublishedMakeUp | null
}

/**
 * What an input is made of: the group's own analysis where there is one, whole, so that no two are mixed; otherwise the
 * published one of its material, in dry matter, with the group's own moisture and density where these are known.
 */
export function madeUpOf(input: InputMade): MadeUp {
  const { moisturePermille, nitrogenMgPerKg, phosphorusMgPerKg, potassiumMgPerKg, densityKgPerM3 } = input
  const own = { moisturePermille, nitrogenMgPerKg, phosphorusMgPerKg, potassiumMgPerKg, densityKgPerM3 }
  const analysed = nitrogenMgPerKg !== null || phosphorusMgPerKg !== null || potassiumMgPerKg !== null
  const found = analysed ? null : publishedMakeUp(input)
  if (found === null) return { ...own, published: null }
  return {
    moisturePermille: moisturePermille ?? found.moisturePermille,
    nitrogenMgPerKg: found.nitrogenMgPerKg,
    phosphorusMgPerKg: found.phosphorusMgPerKg,
    potassiumMgPerKg: found.potassiumMgPerKg,
    densityKgPerM3: densityKgPerM3 ?? found.densityKgPerM3,
    published: found,
  }
}

interface Amount {
  readonly quantityThousandths: number
  readonly unit: string
  readonly measures: readonly LoadMeasure[]
}

/** Whole milligrams of each element in so much of an input; null for each that cannot be known. */
export function milligramsIn(made: MadeUp, { quantityThousandths, unit, measures }: Amount) {
  const freshG = gramsOf(quantityThousandths, { unit, densityKgPerM3: made.densityKgPerM3, measures })
  const { nitrogenG, phosphorusG, potassiumG } = nutrientsIn(freshG, made)
  const grams: Record<Nutrient, number | null> = { nitrogen: nitrogenG, phosphorus: phosphorusG, potassium: potassiumG }
  return recordOf(nutrientNames, (nutrient) => {
    const known = grams[nutrient]
    return known === null ? null : Math.round(1000 * known)
  })
}
