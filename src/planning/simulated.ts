import { nth } from '../lookups/nth.ts'
import type { Chance } from '../statistics/chance-from.ts'
import { qt } from '../statistics/qt.ts'
import { ofPlaces, type Plan, plannedOf, type Spreads, withAllowed } from './plan.ts'

interface Simulated {
  readonly trials: number
  /** Shares of the trials, 0..1: the true ratio was told from 1; the interval held what it is about. */
  readonly seen: number
  readonly held: number
  /** It held the methods' ratio of coming seasons without allowing for method by season, or for the ground. */
  readonly heldWithout: number
}

/**
 * A plan tried out with made-up gardens, halves, seasons, crops and plantings of the given spreads: each trial is
 * analysed as the layout asks for (one value a place, Student's t). What is only looked at as a mean, over crops or
 * over the seasons of a garden, is drawn as one: a mean of independent normal numbers is a normal number. `mix` weighs
 * the crops; alike where it is left out. Null for a plan without a degree of freedom. What an interval is about are the
 * methods in coming seasons, or, with one garden a method, these two plots.
 */
export function simulated(
  plan: Plan,
  spreads: Spreads,
  { ratio, trials, chance, mix }: { ratio: number; trials: number; chance: Chance; mix?: readonly number[] },
): Simulated | null {
  const { df } = ofPlaces(plan, spreads)
  if (df < 1) return null
  const { allowed } = plannedOf(plan, spreads)
  const t = qt(0.975, df)
  const effect = Math.log(ratio)
  const weights = mix ?? Array.from({ length: plan.crops }, () => 1 / plan.crops)
  const ofMean = Math.hypot(...weights)
  let [seen, held, heldWithout] = [0, 0, 0]
  for (let trial = 0; trial < trials; trial++) {
    const { estimate, se, about = effect } = once(plan, spreads, { effect, chance, ofMean })
    const whole = withAllowed({ se, df }, allowed)
    const reach = allowed === 0 ? t * se : Math.max(t * se, qt(0.975, whole.df) * whole.se)
    if (Math.abs(estimate) > reach) seen += 1
    if (Math.abs(estimate - about) <= reach) held += 1
    if (Math.abs(estimate - effect) <= t * se) heldWithout += 1
  }
  return { trials, seen: seen / trials, held: held / trials, heldWithout: heldWithout / trials }
}

/** How many normal numbers one trial of a plan draws. */
export function drawsOf({ kind, n, seasons }: Plan): number {
  if (kind === 'gardens') return 2 * n * 4 + 1
  if (kind === 'turns') return n + 2 * n * seasons + seasons
  return kind === 'one garden' ? 4 + 4 * seasons : n * 4 + 1
}

interface Drawing {
  readonly effect: number
  readonly chance: Chance
  /**
   * The root of the sum of the squared weights: that many times one crop's spread is the spread of their weighed mean.
   */
  readonly ofMean: number
}

interface Tried {
  readonly estimate: number
  readonly se: number
  /** The true ratio that it is about, where that is not the methods'. */
  readonly about?: number
}

/** How the methods' seasons differ in the mean of so many: the same in every garden. */
const ofSeasons = ({ seasons }: Plan, s: Spreads, { chance }: Drawing) =>
  s.methodBySeason * Math.sqrt(2 / seasons) * chance.normal()

function once(plan: Plan, s: Spreads, drawing: Drawing): Tried {
  if (plan.kind === 'turns') return turns(plan, s, drawing)
  if (plan.kind === 'one garden') return seasonsOfPlots(plan, s, drawing)
  if (plan.kind === 'gardens') return gardens(plan, s, drawing)
  const years = ofSeasons(plan, s, drawing)
  const differences = Array.from({ length: plan.n }, () => {
    const side = () => s.half * drawing.chance.normal() + meanOfRest(plan, s, drawing)
    return drawing.effect + years + side() - side()
  })
  return oneSample(differences)
}

/** One garden: its ground, its crops and its seasons; the mean over them on the mix. */
function garden(plan: Plan, s: Spreads, drawing: Drawing): number {
  const { chance, ofMean } = drawing
  const crops = s.cropByGarden * ofMean * chance.normal()
  const seasons = (s.gardenBySeason / Math.sqrt(plan.seasons)) * chance.normal()
  return s.garden * chance.normal() + crops + seasons + meanOfRest(plan, s, drawing)
}

const meanOfRest = ({ seasons }: Plan, s: Spreads, { chance, ofMean }: Drawing) =>
  ((s.residual * ofMean) / Math.sqrt(seasons)) * chance.normal()

function gardens(plan: Plan, s: Spreads, drawing: Drawing) {
  const a = Array.from({ length: plan.n }, () => garden(plan, s, drawing))
  const years = ofSeasons(plan, s, drawing)
  const b = Array.from({ length: plan.n }, () => drawing.effect + years + garden(plan, s, drawing))
  const variance = (squaresOf(a) + squaresOf(b)) / (2 * plan.n - 2)
  return { estimate: mean(b) - mean(a), se: Math.sqrt((2 * variance) / plan.n) }
}

/** Two gardens with what lasts in them; seasons are the only replicates. */
function seasonsOfPlots(plan: Plan, s: Spreads, { effect, chance, ofMean }: Drawing) {
  const lasting = () => s.garden * chance.normal() + s.cropByGarden * ofMean * chance.normal()
  const ground = effect + lasting() - lasting()
  const ofSeason = Math.hypot(s.gardenBySeason, s.methodBySeason)
  const season = () => ofSeason * chance.normal() + s.residual * ofMean * chance.normal()
  return { ...oneSample(Array.from({ length: plan.seasons }, () => ground + season() - season())), about: ground }
}

/**
 * Half of the gardens under each method, exchanged every season; garden and season taken out by least squares,
 * balanced.
 */
function turns(plan: Plan, s: Spreads, { effect, chance, ofMean }: Drawing) {
  const sign = (g: number, season: number) => ((g + season) % 2 === 0 ? 0.5 : -0.5)
  const ground = Array.from({ length: plan.n }, () => s.garden * chance.normal())
  const years = Array.from({ length: plan.seasons }, () => s.methodBySeason * Math.SQRT2 * chance.normal())
  const cells = ground.map((own, g) =>
    Array.from({ length: plan.seasons }, (_, season) => {
      const rest = s.residual * ofMean * chance.normal()
      return own + (effect + nth(years, season)) * sign(g, season) + s.gardenBySeason * chance.normal() + rest
    }),
  )
  const centred = centre(cells)
  const codes = centre(cells.map((own, g) => own.map((_, season) => sign(g, season))))
  const dot = (x: readonly (readonly number[])[], y: readonly (readonly number[])[]) =>
    x.reduce((sum, own, g) => sum + own.reduce((all, value, j) => all + value * nth(nth(y, g), j), 0), 0)
  const spread = dot(codes, codes)
  const estimate = dot(codes, centred) / spread
  const left = centred.map((own, g) => own.map((value, j) => value - estimate * nth(nth(codes, g), j)))
  const { df } = ofPlaces(plan, s)
  return { estimate, se: Math.sqrt(dot(left, left) / df / spread) }
}

/** Row and column means taken out. */
function centre(cells: readonly (readonly number[])[]): number[][] {
  const rows = cells.map(mean)
  const columns = (cells[0] ?? []).map((_, j) => mean(cells.map((own) => nth(own, j))))
  const grand = mean(rows)
  return cells.map((own, g) => own.map((value, j) => value - nth(rows, g) - nth(columns, j) + grand))
}

const mean = (values: readonly number[]) => values.reduce((sum, one) => sum + one, 0) / values.length
const squaresOf = (values: readonly number[]) => values.reduce((sum, one) => sum + (one - mean(values)) ** 2, 0)

function oneSample(values: readonly number[]) {
  return { estimate: mean(values), se: Math.sqrt(squaresOf(values) / (values.length - 1) / values.length) }
}
