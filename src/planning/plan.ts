import { powerOfContrast, smallestContrast } from '../statistics/power-of-contrast.ts'

/**
 * Ways to lay two methods out; `n` counts gardens a method, gardens that hold both, blocks of beds, or gardens in
 * turns.
 */
export const planKinds = ['one garden', 'gardens', 'split gardens', 'blocks of beds', 'turns'] as const
export type PlanKind = (typeof planKinds)[number]

/** Standard deviations on the log scale. */
export interface Spreads {
  /** Between gardens of one method; between halves of a garden, or beds of a block. */
  readonly garden: number
  readonly half: number
  /** A garden from season to season, a crop from garden to garden, and the rest between plantings otherwise alike. */
  readonly gardenBySeason: number
  /** A method from season to season, in all of its gardens alike. */
  readonly methodBySeason: number
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
  methodBySeason: 0.06,
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
  /** The part of the squared standard error that the trial itself cannot show: method by season. */
  readonly allowed: number
}

/**
 * What a plan's interval for coming seasons will be made from: what its places show, and beside it what they cannot.
 * That a method does better in one year than in another is the same in all of its gardens, so no number of places shows
 * it: 2 methodBySeason^2 / S is added as a known variance, and the degrees of freedom are Satterthwaite's, with none
 * lost to it. Of the places, gardens: v = garden^2 + gardenBySeason^2 / S + cropByGarden^2 / K +
 * residual^2 / (K S) for each, 2 v / n for the difference, 2 n - 2 degrees of freedom. Halves and beds side by side
 * share their garden, season and crop: 2 (half^2 + residual^2 / (K S)) / n, n - 1. One garden a method: seasons are the
 * only replicates, and what lasts in the ground is not in it. Turns: garden and season are fitted with the method: 4
 * (gardenBySeason^2 + residual^2 / K) / (n S), and over 1 - 1 / S^2 for an odd number of seasons, since no garden then
 * has both for as long.
 */
export function plannedOf(plan: Plan, s: Spreads): Planned {
  const places = ofPlaces(plan, s)
  // With one garden a method seasons are what replicates, and method by season is in their spread.
  const allowed = plan.kind === 'one garden' ? 0 : (2 * s.methodBySeason ** 2) / plan.seasons
  return { about: places.about, allowed, ...withAllowed(places, allowed) }
}

/** A known variance beside one that is estimated with `df` degrees of freedom. */
export function withAllowed({ se, df }: Pick<Planned, 'se' | 'df'>, allowed: number): Pick<Planned, 'se' | 'df'> {
  if (allowed === 0) return { se, df }
  return { se: Math.sqrt(se ** 2 + allowed), df: df * (1 + allowed / se ** 2) ** 2 }
}

/** What the places of a plan show by themselves. */
export function ofPlaces({ kind, n, crops, seasons }: Plan, s: Spreads): Omit<Planned, 'allowed'> {
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
  const own = season + s.methodBySeason ** 2
  return { se: Math.sqrt((2 * own) / seasons), df: seasons - 1, about: 'plots' }
}

/** The smallest ratio that the plan would show four times in five; null where it has no degree of freedom. */
export function smallestRatio(plan: Plan, spreads: Spreads): number | null {
  const found = bothWays(plan, spreads).map((one) => smallestContrast(one))
  const told = found.flatMap((one) => (one.kind === 'answer' ? [one.difference] : []))
  return told.length < found.length ? null : Math.exp(Math.max(...told))
}

/** The chance, 0..1, that the plan shows a true ratio; null where it has no degree of freedom. */
export function chanceToSee(ratio: number, plan: Plan, spreads: Spreads): number | null {
  const found = bothWays(plan, spreads).map((one) => powerOfContrast(Math.log(ratio), one))
  const told = found.flatMap((one) => (one.kind === 'answer' ? [one.power] : []))
  return told.length < found.length ? null : Math.min(...told)
}

/** With few places a known variance is worth degrees of freedom: what is added never makes an answer surer. */
const bothWays = (plan: Plan, spreads: Spreads) => [plannedOf(plan, spreads), ofPlaces(plan, spreads)]

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
