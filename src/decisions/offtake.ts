interface Composition {
  readonly name: string
  readonly proteinMgPer100g: number | null
  readonly phosphorusMgPer100g: number | null
  readonly potassiumMgPer100g: number | null
}

interface Harvested {
  readonly crop: string
  readonly marketableG: number
  readonly unmarketableG: number
}

export interface Offtake {
  readonly nitrogenG: number
  readonly phosphorusG: number
  readonly potassiumG: number
  /** Harvested, of crops whose composition is not known: carried off and not counted. */
  readonly unknownG: number
}

/**
 * Nutrients that a harvest carried off the ground: weight x composition of the raw food, all that was weighed, good or
 * not. Nitrogen is protein / 6.25. Peel and trimmings are taken as made like the edible part.
 * Example: 100 kg of carrots at 930 mg protein, 35 mg P, 320 mg K in 100 g carry off 149 g N, 35 g P, 320 g K.
 */
export function offtakeOf(harvested: readonly Harvested[], crops: readonly Composition[]): Offtake {
  const byName = new Map(crops.map((crop) => [crop.name, crop]))
  const sum = { nitrogenG: 0, phosphorusG: 0, potassiumG: 0, unknownG: 0 }
  for (const { crop, marketableG, unmarketableG } of harvested) {
    const grams = marketableG + unmarketableG
    const { proteinMgPer100g, phosphorusMgPer100g, potassiumMgPer100g } = byName.get(crop) ?? nothingKnown
    if (proteinMgPer100g === null || phosphorusMgPer100g === null || potassiumMgPer100g === null) {
      sum.unknownG += grams
      continue
    }
    sum.nitrogenG += (grams * proteinMgPer100g) / 100_000 / 6.25
    sum.phosphorusG += (grams * phosphorusMgPer100g) / 100_000
    sum.potassiumG += (grams * potassiumMgPer100g) / 100_000
  }
  return sum
}

const nothingKnown = { proteinMgPer100g: null, phosphorusMgPer100g: null, potassiumMgPer100g: null }
