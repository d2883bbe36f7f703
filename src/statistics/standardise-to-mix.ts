import { type Answer, answer, type Refusal, refused } from './answer.ts'
import { sumOf } from './moments.ts'

export interface KeyedRate {
  readonly key: string
  readonly rate: number
}

/**
 * Each group's rate as if all had one common mix: sum of weight x rate over sum of weights (direct standardisation; Kitagawa
 * 1955, JASA 50:1168-1194). `mix` gives a weight by key; a group that lacks a key with weight is refused as "incomplete".
 */
export function standardiseToMix(
  groups: readonly (readonly KeyedRate[])[],
  mix: readonly { readonly key: string; readonly weight: number }[] | Readonly<Record<string, number>>,
): Answer<{ readonly rates: readonly number[] }> | Refusal {
  const weights = Array.isArray(mix)
    ? (mix as readonly { key: string; weight: number }[])
    : Object.entries(mix as Record<string, number>).map(([key, weight]) => ({ key, weight }))
  const counted = weights.filter((one) => one.weight > 0)
  const whole = sumOf(counted.map((one) => one.weight))
  if (!(whole > 0)) return refused('zero total', 'the mix')
  const rates: number[] = []
  for (const group of groups) {
    const own = new Map(group.map((one) => [one.key, one.rate]))
    const missing = counted.find((one) => !own.has(one.key))
    if (missing) return refused('incomplete', missing.key)
    rates.push(sumOf(counted.map((one) => (one.weight / whole) * (own.get(one.key) ?? 0))))
  }
  return answer({ rates })
}
