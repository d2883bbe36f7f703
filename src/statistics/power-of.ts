import { type Answer, answer, type Refusal, refused } from './answer.ts'
import { pnct } from './pnct.ts'
import { qt } from './qt.ts'

export interface PowerInput {
  /** Units an arm, or pairs where `paired`; need not be whole. */
  readonly n: number
  readonly difference: number
  /** SD of the units, or of the differences where `paired`. */
  readonly sd: number
  readonly level?: number
  readonly paired?: boolean
}

/**
 * Power of a two-sided t test, exact by the noncentral t, both tails: the chance to find a true difference of that
 * size. Refuses n that leaves no degree of freedom and an SD that is not above 0. Noncentral t: Lenth 1989, AS 243.
 */
export function powerOf({
  n,
  difference,
  sd,
  level = 0.95,
  paired = false,
}: PowerInput): Answer<{ power: number }> | Refusal {
  const df = paired ? n - 1 : 2 * n - 2
  if (!(df > 0)) return refused('too few', `n ${n}`)
  if (!(sd > 0)) return refused('no variation', `sd ${sd}`)
  if (!Number.isFinite(difference)) return refused('not a number', 'the difference')
  const ncp = difference / (sd * Math.sqrt((paired ? 1 : 2) / n))
  if (Math.abs(ncp) > 36) return answer({ power: 1 })
  const t = qt((1 + level) / 2, df)
  return answer({ power: pnct(t, df, ncp, { upper: true }) + pnct(-t, df, ncp) })
}
