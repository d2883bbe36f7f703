import { type Answer, answer, type Refusal, refused } from './answer.ts'

export interface LastingThing {
  readonly price: number
  /** What it is worth at the end. */
  readonly salvage: number
  readonly years: number
}

/**
 * The yearly cost of a lasting thing with interest: (price - salvage) x r (1 + r)^n / ((1 + r)^n - 1) + salvage x r,
 * with a real yearly `rate`; at 0 it is the straight line. Refuses years under 1 and figures under 0.
 * Iowa State University Extension, Ag Decision Maker A3-29, Estimating Farm Machinery Costs.
 */
export function capitalRecovery({
  price,
  salvage,
  years,
  rate,
}: LastingThing & { readonly rate: number }): Answer<{ yearlyCost: number }> | Refusal {
  const wrong = outOfRange({ price, salvage, years })
  if (wrong) return wrong
  if (!(rate >= 0)) return refused('out of range', `rate ${rate}`)
  if (rate === 0) return answer({ yearlyCost: (price - salvage) / years })
  const factor = rate / -Math.expm1(-years * Math.log1p(rate))
  return answer({ yearlyCost: (price - salvage) * factor + salvage * rate })
}

export function outOfRange({ price, salvage, years }: LastingThing): Refusal | undefined {
  if (!(years >= 1)) return refused('out of range', `${years} years`)
  return price >= 0 && salvage >= 0 ? undefined : refused('out of range', `${price}, ${salvage}`)
}
