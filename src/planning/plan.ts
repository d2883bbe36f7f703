import { powerOfContrast, smallestContrast } from '../statistics/power-of-contrast.ts'

/**
 * Ways to lay two methods out; `n` counts gardens a method, gardens that hold both, blocks of beds, or gardens in
 * turns.
 */
export const planKinds = ['one garden', 'gardens', 'split gardens', 'blocks of beds', 'turns'] as const
type PlanKind = (typeof planKinds)[number]

/** Standard deviations on the log scale. */
export interface Spreads {
  /** Between gardens of one method; between halves of a garden, or beds of a block. */
  readonly garden: number
  readonly half: number
  /** A garden from season to season, a crop from garden to garden, and the rest between plantings otherwise alike. */
  readonly gardenBySeason: number
  readonly cropByGarden: number
  readonly residual: number
}

export interface Plan {
  readonly kind: PlanKind
  readonly n: number
  readonly crops: number
  readonly seasons: number
}

/** Common to such trials, from memory, without a source: to be replaced by a group's own. */
export const assumedSpreads: Spreads = {
  garden: 0.2,
  half: 0.1,
  gardenBySeason: 0.12,
  cropByGarden: 0.25,
  residual: 0.25,
}

interface Planned {
  /**
   * Standard error of the log ratio of the two methods, and its degrees of freedom; null where the plan has no error
   * term.
   */
  readonly se: number
  readonly df: number
  /** About the methods, or about two plots only. */
  readonly about: 'methods' | 'plots'
}

/**
 * What a plan's interval will be made from. Gardens: v = garden^2 + gardenBySeason^2 / S + cropByGarden^2 / K +
 * residual^2 / (K S) for each, 2 v / n for the difference, 2 n - 2 degrees of freedom. Halves and beds side by side
 * share their garden, season and crop: 2 (half^2 + residual^2 / (K S)) / n, n - 1. One garden a method: seasons are the
 * only replicates, and what lasts in the ground is not in it. Turns: garden and season are fitted with the method: 4
 * (gardenBySeason^2 + residual^2 / K) / (n S), and over 1 - 1 / S^2 for an odd number of seasons, since no garden then
 * has both for as long.
 */
export function plannedOf({ kind, n, crops, seasons }: Plan, s: Spreads): Planned {
  const rest = s.residual ** 2 / (crops * seasons)
  if (kind === 'gardens') {
    const own = s.garden ** 2 + s.gardenBySeason ** 2 / seasons + s.cropByGarden ** 2 / crops + rest
    return { se: Math.sqrt((2 * own) / n), df: 2 * n - 2, about: 'methods' }
  }
  if (kind === 'split gardens' || kind === 'blocks of beds') {
    return { se: Math.sqrt((2 * (s.half ** 2 + rest)) / n), df: n - 1, about: 'methods' }
  }
  const season = s.gardenBySeason ** 2 + s.residual ** 2 / crops
  if (kind === 'turns') {
    const even = seasons % 2 === 0 ? 1 : 1 - 1 / seasons ** 2
    return { se: Math.sqrt((4 * season) / (n * seasons * even)), df: (n - 1) * (seasons - 1) - 1, about: 'methods' }
  }
  return { se: Math.sqrt((2 * season) / seasons), df: seasons - 1, about: 'plots' }
}

/** The smallest ratio that the plan would show four times in five; null where it has no degree of freedom. */
export function smallestRatio(plan: Plan, spreads: Spreads): number | null {
  const found = smallestContrast(plannedOf(plan, spreads))
  return found.kind === 'answer' ? Math.exp(found.difference) : null
}

/** The chance, 0..1, that the plan shows a true ratio; null where it has no degree of freedom. */
export function chanceToSee(ratio: number, plan: Plan, spreads: Spreads): number | null {
  const found = powerOfContrast(Math.log(ratio), plannedOf(plan, spreads))
  return found.kind === 'answer' ? found.power : null
}

/** What one more of each would buy, and the other ways to lay out the same ground. */
export function variantsOf(
  plan: Plan,
): readonly { readonly change: 'as planned' | 'place' | 'crop' | 'season' | PlanKind; readonly plan: Plan }[] {
  const more = [
    { change: 'as planned' as const, plan },
    ...(plan.kind === 'one garden'
      ? []
      : [{ change: 'place' as const, plan: { ...plan, n: plan.n + (plan.kind === 'turns' ? 2 : 1) } }]),
    { change: 'crop' as const, plan: { ...plan, crops: plan.crops + 1 } },
    { change: 'season' as const, plan: { ...plan, seasons: plan.seasons + 1 } },
  ]
  return [...more, ...otherWays(plan)]
}

/** The same gardens laid out otherwise: twice as many gardens hold both as stand under each alone. */
function otherWays(plan: Plan) {
  const gardens = plan.kind === 'one garden' ? 2 : plan.kind === 'gardens' ? 2 * plan.n : plan.n
  const others: Plan[] = [
    { ...plan, kind: 'split gardens', n: gardens },
    ...(gardens >= 4 ? [{ ...plan, kind: 'gardens' as const, n: Math.floor(gardens / 2) }] : []),
    ...(gardens % 2 === 0 ? [{ ...plan, kind: 'turns' as const, n: gardens }] : []),
  ]
  return others.filter((one) => one.kind !== plan.kind).map((one) => ({ change: one.kind, plan: one }))
}
