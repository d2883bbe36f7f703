import { type Answer, answer, type Refusal, refused } from './answer.ts'
import { allFinite, meanOf, sdOf } from './moments.ts'
import { qt } from './qt.ts'

export interface SeasonContrast {
  readonly estimate: number
  readonly se: number
  readonly df: number
  readonly low: number
  readonly high: number
  /** Where one more season would be expected. */
  readonly prediction: { readonly low: number; readonly high: number }
}

/**
 * The mean of one effect a season, with Student's t interval on S - 1 degrees of freedom and the interval for one
 * season more. Effects on one scale (log ratios here); `comparisons` widens the interval for that many pairs
 * (Bonferroni). Refuses fewer than two seasons: one is described. "Student" 1908, Biometrika 6:1-25; prediction Hahn &
 * Meeker 1991, Statistical Intervals, section 4.
 */
export function seasonContrast(
  effects: readonly number[],
  { level = 0.95, comparisons = 1 }: { readonly level?: number; readonly comparisons?: number } = {},
): Answer<SeasonContrast> | Refusal {
  const seasons = effects.length
  if (seasons < 2) return refused('too few', `${seasons} seasons`)
  if (!allFinite(effects)) return refused('not a number', 'an effect')
  const df = seasons - 1
  const t = qt(1 - (1 - level) / 2 / comparisons, df)
  const [estimate, sd] = [meanOf(effects), sdOf(effects)]
  const se = sd / Math.sqrt(seasons)
  const reach = t * sd * Math.sqrt(1 + 1 / seasons)
  return answer({
    estimate,
    se,
    df,
    low: estimate - t * se,
    high: estimate + t * se,
    prediction: { low: estimate - reach, high: estimate + reach },
  })
}
