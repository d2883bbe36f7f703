import { under } from '../lookups/held.ts'
import { firstOf, nth } from '../lookups/nth.ts'
import { type Answer, answer, type Refusal, refused } from './answer.ts'
import { sumOf } from './moments.ts'

/** A factor of one population: a number, or one number a category (in the same order in every population). */
type Factor = number | readonly number[]

export interface StandardisedMany {
  /** The product of the factors, summed over categories, by population. */
  readonly crude: readonly number[]
  /**
   * By factor and population: the rate if only that factor differed. Differences over all factors add up to the crude
   * ones.
   */
  readonly standardised: Readonly<Record<string, readonly number[]>>
}

/**
 * Consistent standardisation of a rate that is a product of factors, over two or more populations. Between two
 * populations each factor's rate is the symmetric average over what the other factors are; over more, Das Gupta's
 * formula makes the pairs agree. Refuses fewer than two populations and factors that do not match.
 * Das Gupta 1993, Standardization and Decomposition of Rates: A User's Manual, US Bureau of the Census, P23-186,
 * chapters 2-6.
 */
export function standardiseMany(
  populations: readonly Readonly<Record<string, Factor>>[],
): Answer<StandardisedMany> | Refusal {
  const count = populations.length
  if (count < 2) return refused('too few', `${count} populations`)
  const names = Object.keys(firstOf(populations))
  for (const one of populations) {
    const missing =
      names.find((name) => !(name in one)) ?? (Object.keys(one).length !== names.length ? 'a factor' : undefined)
    if (missing) return refused('incomplete', missing)
  }
  const lengths = new Set(populations.flatMap((one) => names.flatMap((name) => sizeOf(under(one, name)))))
  if (lengths.size > 1) return refused('incomplete', 'unlike numbers of categories')
  const standardised = Object.fromEntries(names.map((name) => [name, overAll(populations, names, name)]))
  return answer({ crude: populations.map((one) => rateOf(names.map((name) => under(one, name)))), standardised })
}

const sizeOf = (factor: Factor): number[] => (typeof factor === 'number' ? [] : [factor.length])

function rateOf(factors: readonly Factor[]): number {
  const categories = factors.flatMap(sizeOf)[0] ?? 1
  return sumOf(
    Array.from({ length: categories }, (_, i) =>
      factors.reduce<number>((product, factor) => product * (typeof factor === 'number' ? factor : nth(factor, i)), 1),
    ),
  )
}

type Population = Readonly<Record<string, Factor>>

/** The rate with the factor from `own` and each other factor from both populations in turn, by symmetric weights. */
function pairwise(names: readonly string[], name: string, own: Population, other: Population): number {
  const rest = names.filter((one) => one !== name)
  const k = names.length
  let sum = 0
  for (let chosen = 0; chosen < 2 ** rest.length; chosen++) {
    const fromOther = rest.filter((_, i) => chosen & (1 << i))
    const factors = names.map((one) => under(fromOther.includes(one) ? other : own, one))
    sum += rateOf(factors) / (k * binomial(k - 1, fromOther.length))
  }
  return sum
}

function overAll(populations: readonly Population[], names: readonly string[], name: string): number[] {
  const n = populations.length
  const alpha = (i: number, j: number) => pairwise(names, name, nth(populations, i), nth(populations, j))
  const others = (...left: number[]) => populations.map((_, i) => i).filter((i) => !left.includes(i))
  return populations.map((_, i) => {
    const first = sumOf(others(i).map((j) => alpha(i, j))) / (n - 1)
    const second = others(i).map((j) => sumOf(others(i, j).map((k) => alpha(j, k))) - (n - 2) * alpha(j, i))
    return first + sumOf(second) / (n * (n - 1))
  })
}

function binomial(n: number, k: number): number {
  let value = 1
  for (let i = 1; i <= k; i++) value = (value * (n - k + i)) / i
  return value
}
