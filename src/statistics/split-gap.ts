import { held } from '../lookups/held.ts'
import { type Answer, answer, type Refusal, refused } from './answer.ts'
import { sumOf } from './moments.ts'

export interface GroundUsed {
  readonly bedArea: number
  readonly crops: readonly { readonly key: string; readonly plantedArea: number; readonly kg: number }[]
}

export interface SplitGap {
  /** kg per area of bed, all crops. */
  readonly crudeA: number
  readonly crudeB: number
  /** How fully the ground was used, what was grown on it, how well it grew: over the crops that both grew. */
  readonly intensity: number
  readonly mix: number
  readonly growth: number
  /** kg per area of bed of the crops that only one of them grew. */
  readonly onlyA: number
  readonly onlyB: number
  readonly byKey: readonly {
    readonly key: string
    readonly intensity: number
    readonly mix: number
    readonly growth: number
  }[]
}

/**
 * The gap in kilograms per area of bed between two gardens, crudeB - crudeA = intensity + mix + growth + onlyB - onlyA,
 * exactly. Over the common crops kg per bed area is intensity x share of planted area x kg per planted area, and each
 * factor's part is its symmetric three-factor form (Das Gupta 1993, Standardization and Decomposition of Rates, US
 * Bureau of the Census P23-186, chapter 2). Refuses a bed area that is not above 0. Without a common crop the first
 * three are 0.
 */
export function splitGap(a: GroundUsed, b: GroundUsed): Answer<SplitGap> | Refusal {
  if (!(a.bedArea > 0 && b.bedArea > 0)) return refused('zero total', 'the area of bed')
  const planted = (one: GroundUsed) =>
    new Map(one.crops.filter((crop) => crop.plantedArea > 0).map((crop) => [crop.key, crop]))
  const [cropsA, cropsB] = [planted(a), planted(b)]
  const keys = [...cropsA.keys()].filter((key) => cropsB.has(key))
  const [commonA, commonB] = [areaOf(keys, cropsA), areaOf(keys, cropsB)]
  const byKey = keys.map((key) => {
    const [one, other] = [held(cropsA, key), held(cropsB, key)]
    return {
      key,
      ...threeFactors(
        { i: commonA / a.bedArea, s: one.plantedArea / commonA, r: one.kg / one.plantedArea },
        { i: commonB / b.bedArea, s: other.plantedArea / commonB, r: other.kg / other.plantedArea },
      ),
    }
  })
  const only = (ground: GroundUsed) =>
    sumOf(ground.crops.filter((crop) => !keys.includes(crop.key)).map((crop) => crop.kg)) / ground.bedArea
  return answer({
    crudeA: sumOf(a.crops.map((crop) => crop.kg)) / a.bedArea,
    crudeB: sumOf(b.crops.map((crop) => crop.kg)) / b.bedArea,
    intensity: sumOf(byKey.map((one) => one.intensity)),
    mix: sumOf(byKey.map((one) => one.mix)),
    growth: sumOf(byKey.map((one) => one.growth)),
    onlyA: only(a),
    onlyB: only(b),
    byKey,
  })
}

type Crops = ReadonlyMap<string, { readonly plantedArea: number }>

const areaOf = (keys: readonly string[], crops: Crops) => sumOf(keys.map((key) => held(crops, key).plantedArea))

interface Factors {
  readonly i: number
  readonly s: number
  readonly r: number
}

function threeFactors(a: Factors, b: Factors) {
  const part = (change: number, [p, q]: [number, number], [u, v]: [number, number]) =>
    change * ((p * u + q * v) / 3 + (p * v + q * u) / 6)
  return {
    intensity: part(b.i - a.i, [a.s, b.s], [a.r, b.r]),
    mix: part(b.s - a.s, [a.i, b.i], [a.r, b.r]),
    growth: part(b.r - a.r, [a.i, b.i], [a.s, b.s]),
  }
}
