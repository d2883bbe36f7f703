/** Nitrogen, phosphorus and potassium as elements, in milligrams; null where it is not known. Unknown is not zero. */
export interface Nutrients {
  readonly nitrogen: number | null
  readonly phosphorus: number | null
  readonly potassium: number | null
}

export const nutrientNames = ['nitrogen', 'phosphorus', 'potassium'] as const
export type Nutrient = (typeof nutrientNames)[number]

export interface Spread {
  readonly quantityThousandths: number
  readonly unit: string
  readonly densityKgPerM3: number | null
  readonly moisturePermille: number | null
  readonly nitrogenMgPerKg: number | null
  readonly phosphorusMgPerKg: number | null
  readonly potassiumMgPerKg: number | null
}

const kgPer: Record<string, number> = { kg: 1, g: 0.001, t: 1000, lb: 0.45359237 }
const m3Per: Record<string, number> = { m3: 1, l: 0.001, litre: 0.001, litres: 0.001 }

/** Kilograms of what was spread: by its unit, or by volume and bulk density; null where neither tells. */
export function freshKg(spread: Pick<Spread, 'quantityThousandths' | 'unit' | 'densityKgPerM3'>): number | null {
  const unit = spread.unit.trim().toLowerCase().replace('³', '3')
  const amount = spread.quantityThousandths / 1000
  const perUnit = kgPer[unit]
  if (perUnit !== undefined) return amount * perUnit
  const volume = m3Per[unit]
  return volume === undefined || spread.densityKgPerM3 === null ? null : amount * volume * spread.densityKgPerM3
}

/** Kilograms of dry matter; null where the moisture is not known. */
export function dryKg(spread: Spread): number | null {
  const fresh = freshKg(spread)
  return fresh === null || spread.moisturePermille === null ? null : (fresh * (1000 - spread.moisturePermille)) / 1000
}

/** What a spreading carried: dry matter times the share of each nutrient in it, to the whole milligram. */
export function carriedBy(spread: Spread): Nutrients {
  const dry = dryKg(spread)
  const of = (mgPerKg: number | null) => (dry === null || mgPerKg === null ? null : Math.round(dry * mgPerKg))
  return {
    nitrogen: of(spread.nitrogenMgPerKg),
    phosphorus: of(spread.phosphorusMgPerKg),
    potassium: of(spread.potassiumMgPerKg),
  }
}

export interface Composition {
  readonly proteinMgPer100g: number | null
  readonly phosphorusMgPer100g: number | null
  readonly potassiumMgPer100g: number | null
}

/** Grams of protein that hold one gram of nitrogen: the factor by which food tables turn the one into the other. */
const proteinPerNitrogen = 6.25

/** What a harvest took away, to the whole milligram: fresh weight times the composition of the crop as food tables give it. */
export function takenBy(grams: number, crop: Composition): Nutrients {
  const of = (mgPer100g: number | null) => (mgPer100g === null ? null : Math.round((grams * mgPer100g) / 100))
  const protein = crop.proteinMgPer100g
  return {
    nitrogen: of(protein === null ? null : protein / proteinPerNitrogen),
    phosphorus: of(crop.phosphorusMgPer100g),
    potassium: of(crop.potassiumMgPer100g),
  }
}
