import { powerOfContrast, smallestContrast } from '../statistics/power-of-contrast.ts'

/**
 * Ways to lay methods out; `n` counts gardens a method, gardens that hold all of them, blocks of beds, or gardens in
 * turns, which are so many times the methods.
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
  readonly methods: number
  /** Pairs of methods that are asked of: the interval of each is widened for all of them (Bonferroni). */
  readonly pairs: number
}

export const levelOfPlan = ({ pairs }: Pick<Plan, 'pairs'>): number => 1 - 0.05 / pairs

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
   * Standard error of the log ratio of two of the methods, and its degrees of freedom; null where the plan has no error
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
 * only replicates, and what lasts in the ground is not in it. Turns: garden and season are fitted with the method, see
 * `varianceOfTurns`. Of more than two methods each pair is looked at by itself, as its finding is.
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
export function ofPlaces(plan: Plan, s: Spreads): Omit<Planned, 'allowed'> {
  const { kind, n, crops, seasons, methods } = plan
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
    const df = (n - 1) * (seasons - 1) - (methods - 1)
    return { se: Math.sqrt(season * varianceOfTurns(plan)), df, about: 'methods' }
  }
  const own = season + s.methodBySeason ** 2
  return { se: Math.sqrt((2 * own) / seasons), df: seasons - 1, about: 'plots' }
}

/**
 * Of k methods that go round n gardens for S seasons, one after another: the variance of a pair's difference for a
 * variance of 1 in each garden and season, of the pair that is told least well. The information on the methods is a
 * circulant matrix with n S / k - (n / (k S)) (sin(pi j r / k) / sin(pi j / k))^2 as its eigenvalues, j from 1 to
 * k - 1 and r the seasons beyond whole rounds, as the methods follow each other in a circle; its test holds it beside
 * least squares in R. Two methods: 4 / (n S), and over 1 - 1 / S^2 for an odd number of seasons.
 */
function varianceOfTurns({ n, seasons, methods: k }: Plan): number {
  const own = informationOfTurns({ n, seasons, methods: k })
  const ofLag = (lag: number) =>
    own.reduce((sum, value, i) => sum + (2 - 2 * Math.cos((2 * Math.PI * (i + 1) * lag) / k)) / value, 0) / k
  return Math.max(...Array.from({ length: Math.floor(k / 2) }, (_, i) => ofLag(i + 1)))
}

/** The eigenvalues of the information on the methods of turns, the one of their common level left out. */
export function informationOfTurns({ n, seasons, methods: k }: Pick<Plan, 'n' | 'seasons' | 'methods'>): number[] {
  const beyond = seasons % k
  return Array.from({ length: k - 1 }, (_, i) => {
    const wave = Math.sin((Math.PI * (i + 1) * beyond) / k) / Math.sin((Math.PI * (i + 1)) / k)
    return (n * seasons) / k - (n / (k * seasons)) * wave ** 2
  })
}

/** Five times is one method failing: what only shows beyond it shows nothing that a grower asks about. */
const largestTold = 5

/** The smallest ratio worth saying: beyond five times it is said that it could not be seen. */
export function ratioSeen(plan: Plan, spreads: Spreads): number | null {
  const found = smallestRatio(plan, spreads)
  return found !== null && found <= largestTold ? found : null
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
const bothWays = (plan: Plan, spreads: Spreads) =>
  [plannedOf(plan, spreads), ofPlaces(plan, spreads)].map(({ se, df }) => ({ se, df, level: levelOfPlan(plan) }))

/** What one more of each would buy, and the other ways to lay out the same ground. */
export function variantsOf(
  plan: Plan,
): readonly { readonly change: 'as planned' | 'place' | 'crop' | 'season' | PlanKind; readonly plan: Plan }[] {
  const more = [
    { change: 'as planned' as const, plan },
    ...(plan.kind === 'one garden'
      ? []
      : [{ change: 'place' as const, plan: { ...plan, n: plan.n + (plan.kind === 'turns' ? plan.methods : 1) } }]),
    { change: 'crop' as const, plan: { ...plan, crops: plan.crops + 1 } },
    { change: 'season' as const, plan: { ...plan, seasons: plan.seasons + 1 } },
  ]
  return [...more, ...otherWays(plan)]
}

/** The same gardens laid out otherwise: all methods in each, or the gardens dealt among them. */
function otherWays(plan: Plan) {
  const { methods } = plan
  const gardens = plan.kind === 'one garden' ? methods : plan.kind === 'gardens' ? methods * plan.n : plan.n
  const others: Plan[] = [
    { ...plan, kind: 'split gardens', n: gardens },
    ...(gardens >= 2 * methods ? [{ ...plan, kind: 'gardens' as const, n: Math.floor(gardens / methods) }] : []),
    ...(gardens % methods === 0 ? [{ ...plan, kind: 'turns' as const, n: gardens }] : []),
  ]
  return others.filter((one) => one.kind !== plan.kind).map((one) => ({ change: one.kind, plan: one }))
}
