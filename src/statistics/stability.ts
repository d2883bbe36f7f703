import { firstOf, nth } from '../lookups/nth.ts'
import { type Answer, answer, type Refusal, refused } from './answer.ts'
import { leastOf, meanOf, percentOf, squaresAbout, sumOf, varianceOf } from './moments.ts'

export interface MethodStability {
  readonly mean: number
  /** Variance over environments, and coefficient of variation in per cent; null where the mean is nothing. */
  readonly variance: number
  readonly cv: number | null
  /** Regression on the environment means, and the mean square of what it leaves. */
  readonly slope: number
  readonly deviation: number
  readonly ecovalence: number
  /** Shukla's unbiased interaction variance; negative where chance has it so; null for fewer than three methods. */
  readonly shukla: number | null
  /** Lin and Binns' mean squared distance from the best of each environment. */
  readonly superiority: number
}

/**
 * Measures of stability of methods (rows) over environments such as seasons or farms (columns); every cell filled, two
 * methods and three environments at least. Finlay & Wilkinson 1963, Australian Journal of Agricultural Research
 * 14:742-754; Wricke 1962, Zeitschrift fuer Pflanzenzuechtung 47:92-96; Shukla 1972, Heredity 29:237-245; Lin & Binns
 * 1988, Canadian Journal of Plant Science 68:193-198; formulas as in FAO document y4391e, chapter 7.
 */
export function stability(
  table: readonly (readonly number[])[],
): Answer<{ methods: readonly MethodStability[] }> | Refusal {
  const g = table.length
  const e = g === 0 ? 0 : firstOf(table).length
  if (g < 2 || e < 3) return refused('too few', `${g} methods, ${e} environments`)
  if (table.some((row) => row.length !== e || !row.every(Number.isFinite))) return refused('incomplete', 'a cell')
  const environments = Array.from({ length: e }, (_, j) => meanOf(table.map((row) => nth(row, j))))
  const grand = meanOf(environments)
  const index = environments.map((mean) => mean - grand)
  const spread = sumOf(index.map((value) => value * value))
  if (spread <= leastOf(table.flat())) return refused('no variation', 'the environments')
  const best = Array.from({ length: e }, (_, j) => Math.max(...table.map((row) => nth(row, j))))
  const ecovalences = table.map((row) => {
    const mean = meanOf(row)
    return sumOf(row.map((value, j) => (value - mean - nth(index, j)) ** 2))
  })
  const all = sumOf(ecovalences)
  const methods = table.map((row, i): MethodStability => {
    const [mean, variance, ecovalence] = [meanOf(row), varianceOf(row), nth(ecovalences, i)]
    const slope = sumOf(row.map((value, j) => (value - mean) * nth(index, j))) / spread
    const deviation = (squaresAbout(row) - slope * slope * spread) / (e - 2)
    const shukla = g < 3 ? null : (g * (g - 1) * ecovalence - all) / ((e - 1) * (g - 1) * (g - 2))
    const superiority = sumOf(row.map((value, j) => (value - nth(best, j)) ** 2)) / (2 * e)
    return {
      mean,
      variance,
      cv: percentOf(Math.sqrt(variance), row),
      slope,
      deviation,
      ecovalence,
      shukla,
      superiority,
    }
  })
  return answer({ methods })
}
