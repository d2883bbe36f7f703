import type { Pair } from '../matched/matched-season.ts'

/** How a pair stands to the question: whether it was asked beforehand, and for how many its interval is widened. */
export interface PairAsked {
  readonly asked: boolean
  /** Bonferroni: the pairs that the question names, or those beside the reference where it names none. */
  readonly comparisons: number
}

interface Question {
  readonly questionLocked: boolean
  /** Pairs that the question names; none: every other method beside its reference. */
  readonly pairsNamed: readonly Pair[]
  /** How many methods stand beside the reference. */
  readonly others: number
}

/**
 * A question that names a few pairs widens for those alone. A pair that it does not name is a look around, widened for
 * all that are looked at beside it, so that it is never told at an easier level than without a question.
 */
export function pairAsked(pair: Pair, { questionLocked, pairsNamed, others }: Question): PairAsked {
  const all = Math.max(1, others)
  if (!questionLocked) return { asked: false, comparisons: all }
  if (pairsNamed.length === 0) return { asked: true, comparisons: all }
  const asked = isNamed(pair, pairsNamed)
  return { asked, comparisons: asked ? pairsNamed.length : Math.max(all, pairsNamed.length) }
}

/** Whichever of the two stands first. */
export const isNamed = ({ methodA, methodB }: Pair, named: readonly Pair[]): boolean =>
  named.some(
    (one) =>
      (one.methodA === methodA && one.methodB === methodB) || (one.methodA === methodB && one.methodB === methodA),
  )

/** The level of the intervals beside each other; of those not asked of apart, where the question asks of others. */
export function levelsBeside(pairs: readonly PairAsked[]): { readonly level: number; readonly levelUnasked?: number } {
  const of = (asked: boolean) => pairs.find((one) => one.asked === asked)
  const [own, unasked] = [of(true), of(false)]
  const level = 1 - 0.05 / ((own ?? unasked)?.comparisons ?? 1)
  return own && unasked ? { level, levelUnasked: 1 - 0.05 / unasked.comparisons } : { level }
}
