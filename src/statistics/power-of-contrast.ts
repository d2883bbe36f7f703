import { type Answer, answer, type Refusal, refused } from './answer.ts'
import { pnct } from './pnct.ts'
import { qt } from './qt.ts'
import { rootOf } from './root-of.ts'

interface Contrast {
  /** Standard error of the contrast, and the degrees of freedom of the variance that it is made from. */
  readonly se: number
  readonly df: number
  readonly level?: number
}

/**
 * Power of a two-sided t test of a contrast, both tails, by the noncentral t (Lenth 1989, AS 243): the chance to find a
 * true difference of that size. Refuses a standard error that is not above 0 and df under 1.
 */
export function powerOfContrast(
  difference: number,
  { se, df, level = 0.95 }: Contrast,
): Answer<{ power: number }> | Refusal {
  if (!(df >= 1)) return refused('too few', `${df} degrees of freedom`)
  if (!(se > 0)) return refused('no variation', `standard error ${se}`)
  if (!Number.isFinite(difference)) return refused('not a number', 'the difference')
  const ncp = difference / se
  if (Math.abs(ncp) > 36) return answer({ power: 1 })
  const t = qt((1 + level) / 2, df)
  return answer({ power: pnct(t, df, ncp, { upper: true }) + pnct(-t, df, ncp) })
}

/** The smallest true difference that is found with the given power; refusals as above. */
export function smallestContrast(contrast: Contrast, { power = 0.8 } = {}): Answer<{ difference: number }> | Refusal {
  const tried = powerOfContrast(0, contrast)
  if (tried.kind === 'refused') return tried
  const lacking = (difference: number) => {
    const found = powerOfContrast(difference, contrast)
    return found.kind === 'answer' ? found.power - power : 0
  }
  let high = contrast.se
  while (lacking(high) < 0 && high < contrast.se * 1e6) high *= 2
  return answer({ difference: rootOf(lacking, 0, high) })
}
