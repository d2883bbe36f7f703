import { type Answer, answer, type Refusal, refused } from './answer.ts'
import { allFinite, meanOf, sumOf } from './moments.ts'
import { qt } from './qt.ts'

export interface RatioOfTotals {
  readonly ratio: number
  readonly se: number
  /** On the log scale, t with n - 1 degrees of freedom. */
  readonly low: number
  readonly high: number
  readonly jackknifeSe: number
  /** The ratio less its bias, by the jackknife. */
  readonly biasCorrected: number
}

/**
 * Sum of y over sum of x, for n >= 2 pairs such as hours and kilograms of seasons: never a mean of ratios. The standard error
 * is that of a sample from an endless population. Refuses unlike lengths, fewer than 2 pairs, totals that are not above 0.
 * Cochran 1977, Sampling Techniques, 3rd edition, chapter 6; jackknife section 6.17.
 */
export function ratioOfTotals(
  y: readonly number[],
  x: readonly number[],
  { level = 0.95 }: { readonly level?: number } = {},
): Answer<RatioOfTotals> | Refusal {
  const n = y.length
  if (n !== x.length) return refused('incomplete', `${n} and ${x.length}`)
  if (n < 2) return refused('too few', `${n} pairs`)
  if (!allFinite([...y, ...x])) return refused('not a number', 'a pair')
  const [totalY, totalX] = [sumOf(y), sumOf(x)]
  if (!(totalX > 0 && totalY > 0)) return refused('zero total', `${totalY} / ${totalX}`)
  const ratio = totalY / totalX
  const residuals = y.map((value, i) => (value - ratio * (x[i] ?? 0)) ** 2)
  const se = Math.sqrt(sumOf(residuals) / (n - 1) / n) / (totalX / n)
  const spread = Math.exp((qt((1 + level) / 2, n - 1) * se) / ratio)
  return answer({ ratio, se, low: ratio / spread, high: ratio * spread, ...jackknife(y, x, ratio) })
}

function jackknife(y: readonly number[], x: readonly number[], ratio: number) {
  const n = y.length
  const [totalY, totalX] = [sumOf(y), sumOf(x)]
  const without = y.map((value, i) => (totalY - value) / (totalX - (x[i] ?? 0)))
  const mean = meanOf(without)
  const squares = sumOf(without.map((value) => (value - mean) ** 2))
  return { jackknifeSe: Math.sqrt(((n - 1) / n) * squares), biasCorrected: n * ratio - (n - 1) * mean }
}
