import { type Answer, answer, type Refusal, refused } from './answer.ts'
import { pt } from './pt.ts'
import { qt } from './qt.ts'

interface Equivalence {
  /** The larger p of the two one-sided tests. */
  readonly p: number
  readonly equivalent: boolean
  /** The 90 % interval: within the margin on both sides where p is under 0.05. */
  readonly low90: number
  readonly high90: number
}

/**
 * Two one-sided t tests of a difference against a margin fixed beforehand, on the scale of the difference.
 * Refuses a standard error that is not above 0, df under 1, a margin that is not above 0.
 * Schuirmann 1987, Journal of Pharmacokinetics and Biopharmaceutics 15:657-680.
 */
export function equivalence(difference: number, se: number, df: number, margin: number): Answer<Equivalence> | Refusal {
  if (!(Number.isFinite(difference) && se > 0)) return refused('no variation', `standard error ${se}`)
  if (!(df >= 1)) return refused('too few', `${df} degrees of freedom`)
  if (!(margin > 0)) return refused('out of range', `margin ${margin}`)
  const above = pt((difference + margin) / se, df, { upper: true })
  const below = pt((difference - margin) / se, df)
  const p = Math.max(above, below)
  const half = qt(0.95, df) * se
  return answer({ p, equivalent: p < 0.05, low90: difference - half, high90: difference + half })
}
