import { type Answer, answer, type Refusal, refused } from './answer.ts'
import { sumOf } from './moments.ts'

interface WeightedRate {
  readonly key: string
  /** A share of the denominator, or any number in proportion to it: m2 for kg/m2, kg for h/kg and cost/kg. */
  readonly weight: number
  readonly rate: number
}

export interface GapParts {
  readonly crudeA: number
  readonly crudeB: number
  /** How differently they did crop by crop, and how differently they mixed the crops: together crudeB - crudeA. */
  readonly rateEffect: number
  readonly mixEffect: number
  readonly byKey: readonly { readonly key: string; readonly rateEffect: number; readonly mixEffect: number }[]
  /** Shares of the weight of A and of B that the other has not: left out of everything above. */
  readonly uncoveredA: number
  readonly uncoveredB: number
}

/**
 * The difference of two weighted means split into the difference of their rates and of their mix, without a rest, over
 * the keys that both have. Refuses where none is common or the common weight is zero.
 * Kitagawa 1955, Journal of the American Statistical Association 50:1168-1194.
 */
export function decomposeGap(a: readonly WeightedRate[], b: readonly WeightedRate[]): Answer<GapParts> | Refusal {
  const other = new Map(b.map((one) => [one.key, one]))
  const pairs = a.flatMap((one) => {
    const twin = other.get(one.key)
    return twin ? [{ key: one.key, a: one, b: twin }] : []
  })
  if (pairs.length === 0) return refused('nothing in common', 'no key')
  const [weightA, weightB] = [sumOf(pairs.map((pair) => pair.a.weight)), sumOf(pairs.map((pair) => pair.b.weight))]
  if (!(weightA > 0 && weightB > 0)) return refused('zero total', 'the common weight')
  const byKey = pairs.map((pair) => {
    const [shareA, shareB] = [pair.a.weight / weightA, pair.b.weight / weightB]
    const rateEffect = ((shareA + shareB) / 2) * (pair.b.rate - pair.a.rate)
    const mixEffect = ((pair.a.rate + pair.b.rate) / 2) * (shareB - shareA)
    return { key: pair.key, rateEffect, mixEffect, ofA: shareA * pair.a.rate, ofB: shareB * pair.b.rate }
  })
  return answer({
    crudeA: sumOf(byKey.map((one) => one.ofA)),
    crudeB: sumOf(byKey.map((one) => one.ofB)),
    rateEffect: sumOf(byKey.map((one) => one.rateEffect)),
    mixEffect: sumOf(byKey.map((one) => one.mixEffect)),
    byKey: byKey.map(({ key, rateEffect, mixEffect }) => ({ key, rateEffect, mixEffect })),
    uncoveredA: uncovered(a, weightA),
    uncoveredB: uncovered(b, weightB),
  })
}

const uncovered = (all: readonly WeightedRate[], common: number) => 1 - common / sumOf(all.map((one) => one.weight))
