import { nth } from '../lookups/nth.ts'
import type { Chance } from '../statistics/chance-from.ts'
import { qt } from '../statistics/qt.ts'
import { informationOfTurns, levelOfPlan, ofPlaces, type Plan, plannedOf, type Spreads, withAllowed } from './plan.ts'

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
  const upper = (1 + levelOfPlan(plan)) / 2
  const t = qt(upper, df)
  const effect = Math.log(ratio)
  const weights = mix ?? Array.from({ length: plan.crops }, () => 1 / plan.crops)
  const ofMean = Math.hypot(...weights)
  let [seen, held, heldWithout] = [0, 0, 0]
  for (let trial = 0; trial < trials; trial++) {
    const { estimate, se, about = effect } = once(plan, spreads, { effect, chance, ofMean })
    const whole = withAllowed({ se, df }, allowed)
    const reach = allowed === 0 ? t * se : Math.max(t * se, qt(upper, whole.df) * whole.se)
    if (Math.abs(estimate) > reach) seen += 1
    if (Math.abs(estimate - about) <= reach) held += 1
    if (Math.abs(estimate - effect) <= t * se) heldWithout += 1
  }
  return { trials, seen: seen / trials, held: held / trials, heldWithout: heldWithout / trials }
}

/** How many normal numbers one trial of a plan draws. */
export function drawsOf({ kind, n, seasons, methods }: Plan): number {
  if (kind === 'gardens') return 2 * n * 4 + 1
  if (kind === 'turns') return n + 2 * n * seasons + methods * seasons
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
 * The methods go round the gardens, season by season; garden and season are taken out by least squares, balanced. The
 * second method is the one with the effect, and the pair is it beside the first.
 */
function turns(plan: Plan, s: Spreads, { effect, chance, ofMean }: Drawing) {
  const { n, seasons, methods: k } = plan
  const at = (g: number, season: number) => (g + season) % k
  const ground = Array.from({ length: n }, () => s.garden * chance.normal())
  const years = Array.from({ length: seasons }, () =>
    Array.from({ length: k }, () => s.methodBySeason * chance.normal()),
  )
  const cells = ground.map((own, g) =>
    Array.from({ length: seasons }, (_, season) => {
      const method = at(g, season)
      const rest = s.residual * ofMean * chance.normal() + s.gardenBySeason * chance.normal()
      return own + (method === 1 ? effect : 0) + nth(nth(years, season), method) + rest
    }),
  )
  const centred = centre(cells)
  const totals = Array.from({ length: k }, (_, method) =>
    centred.reduce((sum, own, g) => sum + own.reduce((all, y, j) => all + (at(g, j) === method ? y : 0), 0), 0),
  )
  const inverse = inverseOfTurns(plan)
  const effects = totals.map((_, m) => totals.reduce((sum, total, i) => sum + nth(inverse, Math.abs(m - i)) * total, 0))
  const explained = effects.reduce((sum, one, m) => sum + one * nth(totals, m), 0)
  const left = centred.flat().reduce((sum, y) => sum + y * y, 0) - explained
  const { df } = ofPlaces(plan, s)
  const variance = 2 * (nth(inverse, 0) - nth(inverse, 1))
  return { estimate: nth(effects, 1) - nth(effects, 0), se: Math.sqrt((left / df) * variance) }
}

/** By the lag of two methods: the circulant inverse of the information on them, on differences. */
function inverseOfTurns(plan: Plan): number[] {
  const own = informationOfTurns(plan)
  const k = plan.methods
  return Array.from({ length: k }, (_, lag) =>
    own.reduce((sum, value, i) => sum + Math.cos((2 * Math.PI * (i + 1) * lag) / k) / value / k, 0),
  )
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
