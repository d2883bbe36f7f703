import { type Answer, answer, type Refusal, refused } from './answer.ts'
import { qt } from './qt.ts'

interface FiellerInput {
  readonly a: number
  readonly b: number
  readonly varA: number
  readonly varB: number
  readonly cov: number
  readonly df: number
  readonly level: number
}

interface FiellerInterval {
  readonly ratio: number
  readonly low: number
  readonly high: number
  /** Squared relative half-width of the denominator's interval: from 1 on the ratio has no bounds. */
  readonly g: number
}

/**
 * Interval for a ratio of two estimates a / b, by Fieller's theorem. Refused as "unbounded" where the denominator
 * cannot be told from zero (g >= 1). Fieller 1954, Journal of the Royal Statistical Society B 16:175-185.
 */
export function fiellerInterval({ a, b, varA, varB, cov, df, level }: FiellerInput): Answer<FiellerInterval> | Refusal {
  if (![a, b, varA, varB, cov, df, level].every(Number.isFinite)) return refused('not a number', 'an estimate')
  if (b === 0) return refused('zero mean', 'the denominator')
  const t = qt((1 + level) / 2, df)
  const ratio = a / b
  const g = (t * t * varB) / (b * b)
  if (g >= 1) return refused('unbounded', `g ${g}`)
  const middle = varB === 0 ? ratio : ratio - (g * cov) / varB
  const inner = varA - 2 * ratio * cov + ratio * ratio * varB - g * (varA - (varB === 0 ? 0 : (cov * cov) / varB))
  const half = (t / Math.abs(b)) * Math.sqrt(Math.max(0, inner))
  return answer({ ratio, low: (middle - half) / (1 - g), high: (middle + half) / (1 - g), g })
}
