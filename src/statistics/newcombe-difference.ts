import { type Answer, answer, type Refusal, refused } from './answer.ts'
import { type Events, wilsonInterval } from './wilson-interval.ts'

export interface Difference {
  readonly difference: number
  readonly low: number
  readonly high: number
}

/**
 * Interval for the difference of two independent proportions, a - b, from the Wilson score interval of each (method 10
 * of Newcombe 1998, Statistics in Medicine 17:873-890). Events are units that failed on their own; n >= 1 each.
 */
export function newcombeDifference(
  a: Events,
  b: Events,
  { level = 0.95 }: { readonly level?: number } = {},
): Answer<Difference> | Refusal {
  if (!(a.n >= 1 && b.n >= 1)) return refused('too few', `n ${Math.min(a.n, b.n)}`)
  if ([a, b].some(({ events, n }) => !(events >= 0 && events <= n))) return refused('out of range', 'events')
  const [one, other] = [wilsonInterval(a, { level }), wilsonInterval(b, { level })]
  const difference = one.share - other.share
  return answer({
    difference,
    low: difference - Math.hypot(one.share - one.low, other.high - other.share),
    high: difference + Math.hypot(one.high - one.share, other.share - other.low),
  })
}
