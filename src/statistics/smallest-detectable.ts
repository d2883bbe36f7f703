import { type Answer, answer, type Refusal } from './answer.ts'
import { type PowerInput, powerOf } from './power-of.ts'
import { rootOf } from './root-of.ts'

/**
 * The smallest true difference that a two-sided t test with these units would find with the given power: the inverse of
 * `powerOf`, with its refusals. `smallestDetectable({ n: 6, sd: 0.25, power: 0.8 })` is 0.44888675.
 */
export function smallestDetectable({
  power = 0.8,
  ...design
}: Omit<PowerInput, 'difference'> & { readonly power?: number }): Answer<{ difference: number }> | Refusal {
  const tried = powerOf({ ...design, difference: 0 })
  if (tried.kind === 'refused') return tried
  const lacking = (difference: number) => {
    const found = powerOf({ ...design, difference })
    return found.kind === 'answer' ? found.power - power : 0
  }
  let high = design.sd
  while (lacking(high) < 0 && high < design.sd * 1e6) high *= 2
  return answer({ difference: rootOf(lacking, 0, high) })
}
