import { type Composition, carriedBy, type Nutrient, type NutrientsSpread, takenBy } from './nutrients.ts'

export interface Sum {
  readonly knownMg: number
  /** What has no figure, by name, each once. */
  readonly unknown: readonly string[]
}

export interface Balance {
  readonly gardenId: string
  readonly bedAreaCm2: number
  readonly nutrients: Readonly<
    Record<Nutrient, { readonly carried: Sum; readonly taken: Sum; readonly leftMg: number | null }>
  >
}

export interface BalanceRows {
  readonly gardens: readonly { id: string }[]
  readonly beds: readonly { gardenId: string; areaCm2: number }[]
  readonly spreadings: readonly (NutrientsSpread & { gardenId: string; name: string })[]
  readonly picked: readonly (Composition & { gardenId: string; name: string; grams: number })[]
}

/**
 * What inputs carried to each garden less what harvests took away, as elements: surplus = supply - offtake. It is the
 * most that can have stayed: what leached, went into the air or left with weeds is not counted. Where one input or crop
 * has no figure, what is left is unknown (null), whatever the others come to.
 */
export function balanceOf({ gardens, beds, spreadings, picked }: BalanceRows): Balance[] {
  return gardens.map(({ id }) => {
    const carried = spreadings
      .filter((one) => one.gardenId === id)
      .map((one) => ({ name: one.name, ...carriedBy(one) }))
    const taken = picked
      .filter((one) => one.gardenId === id && one.grams > 0)
      .map((one) => ({ name: one.name, ...takenBy(one.grams, one) }))
    const bedAreaCm2 = beds.filter((bed) => bed.gardenId === id).reduce((sum, bed) => sum + bed.areaCm2, 0)
    const of = (nutrient: Nutrient) => {
      const [supply, offtake] = [sumOf(carried, nutrient), sumOf(taken, nutrient)]
      const known = supply.unknown.length + offtake.unknown.length === 0
      return { carried: supply, taken: offtake, leftMg: known ? supply.knownMg - offtake.knownMg : null }
    }
    return {
      gardenId: id,
      bedAreaCm2,
      nutrients: { nitrogen: of('nitrogen'), phosphorus: of('phosphorus'), potassium: of('potassium') },
    }
  })
}

function sumOf(parts: readonly ({ name: string } & Record<Nutrient, number | null>)[], nutrient: Nutrient): Sum {
  const unknown = new Set(parts.filter((one) => one[nutrient] === null).map((one) => one.name))
  return { knownMg: parts.reduce((sum, one) => sum + (one[nutrient] ?? 0), 0), unknown: [...unknown] }
}
