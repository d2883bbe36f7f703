import { nth } from '../lookups/nth.ts'
import { type Answer, answer, type Refusal, refused } from './answer.ts'
import { sumOf } from './moments.ts'
import { qnorm } from './qnorm.ts'
import { qt } from './qt.ts'
import { rootOf } from './root-of.ts'

interface SeasonEffect {
  readonly estimate: number
  /** Its sampling variance, from true replicates within the season. */
  readonly variance: number
}

interface PoolOptions {
  readonly tau2?: 'REML' | 'DL' | 'PM'
  readonly interval?: 'HK' | 'mHK' | 'z'
  readonly level?: number
}

export interface PooledSeasons {
  readonly estimate: number
  readonly se: number
  readonly low: number
  readonly high: number
  readonly tau2: number
  readonly q: number
  /** Per cent of the variance that lies between seasons, from tau2 and the typical sampling variance. */
  readonly i2: number
  readonly df: number
  readonly prediction: { readonly low: number; readonly high: number } | Refusal
}

/**
 * Random-effects pooling of one effect a season, k >= 2, each with its own sampling variance from true replicates;
 * never for seasons of one garden a method. Between-season variance by DerSimonian & Laird 1986 (Controlled Clinical
 * Trials 7:177-188), Paule & Mandel 1982 or REML; interval by z, by Hartung and Knapp, or by their modified form that
 * never narrows (Roever, Knapp & Friede 2015, BMC Medical Research Methodology 15:99), both t with k - 1; prediction t
 * with k - 2 (Higgins, Thompson & Spiegelhalter 2009, JRSS A 172:137-159), refused under three seasons.
 */
export function poolSeasons(
  effects: readonly SeasonEffect[],
  { tau2: estimator = 'REML', interval = 'mHK', level = 0.95 }: PoolOptions = {},
): Answer<PooledSeasons> | Refusal {
  const k = effects.length
  if (k < 2) return refused('too few', `${k} seasons`)
  if (effects.some(({ estimate, variance }) => !Number.isFinite(estimate) || !(variance > 0))) {
    return refused('no variation', 'a sampling variance')
  }
  const fixed = weighted(effects, 0)
  const tau2 = { DL: derSimonianLaird, PM: pauleMandel, REML: reml }[estimator](effects)
  const { mean: estimate, weight } = weighted(effects, tau2)
  const scale = squaresAround(effects, tau2, estimate) / (k - 1)
  const factor = { z: 1, HK: Math.sqrt(scale), mHK: Math.sqrt(Math.max(1, scale)) }[interval]
  const se = factor / Math.sqrt(weight)
  const reach = se * (interval === 'z' ? qnorm((1 + level) / 2) : qt((1 + level) / 2, k - 1))
  const typical = (k - 1) / spreadOfWeights(effects)
  const ahead = k < 3 ? 0 : qt((1 + level) / 2, k - 2) * Math.sqrt(tau2 + 1 / weight)
  return answer({
    estimate,
    se,
    low: estimate - reach,
    high: estimate + reach,
    tau2,
    q: squaresAround(effects, 0, fixed.mean),
    i2: (100 * tau2) / (tau2 + typical),
    df: k - 1,
    prediction: k < 3 ? refused('too few', `${k} seasons`) : { low: estimate - ahead, high: estimate + ahead },
  })
}

type Effects = readonly SeasonEffect[]

function weighted(effects: Effects, tau2: number) {
  const weights = effects.map(({ variance }) => 1 / (variance + tau2))
  const weight = sumOf(weights)
  return { weight, mean: sumOf(effects.map(({ estimate }, i) => nth(weights, i) * estimate)) / weight }
}

const squaresAround = (effects: Effects, tau2: number, mean: number) =>
  sumOf(effects.map(({ estimate, variance }) => (estimate - mean) ** 2 / (variance + tau2)))

function derSimonianLaird(effects: Effects): number {
  const lacking = squaresAround(effects, 0, weighted(effects, 0).mean) - (effects.length - 1)
  return Math.max(0, lacking / spreadOfWeights(effects))
}

/**
 * The sum of the weights less that of their squares over it, as a sum of products: one weight above all others leaves
 * no rounding.
 */
function spreadOfWeights(effects: Effects): number {
  const weights = effects.map(({ variance }) => 1 / variance)
  const whole = sumOf(weights)
  return sumOf(weights.map((own, i) => (own / whole) * sumOf(weights.filter((_, j) => j !== i))))
}

function pauleMandel(effects: Effects): number {
  const lacking = (tau2: number) => squaresAround(effects, tau2, weighted(effects, tau2).mean) - (effects.length - 1)
  return positiveRoot(lacking, effects)
}

/**
 * The root of the restricted likelihood's slope; the highest of several, where the likelihood has more than one hill.
 */
function reml(effects: Effects): number {
  const slope = (tau2: number) => {
    const { mean, weight } = weighted(effects, tau2)
    const weights = effects.map(({ variance }) => 1 / (variance + tau2))
    const squares = sumOf(weights.map((w) => w * w))
    const fit = sumOf(effects.map(({ estimate }, i) => (nth(weights, i) * (estimate - mean)) ** 2))
    return fit - weight + squares / weight
  }
  const likelihood = (tau2: number) => {
    const { mean, weight } = weighted(effects, tau2)
    const spread = sumOf(effects.map(({ variance }) => Math.log(variance + tau2)))
    return -(spread + Math.log(weight) + squaresAround(effects, tau2, mean)) / 2
  }
  const top = 100 * (sumOf(effects.map(({ variance }) => variance)) + squaresOfRange(effects))
  const grid = [0, ...Array.from({ length: 200 }, (_, i) => top * 10 ** (-10 + (i * 10) / 199))]
  const best = grid.reduce((found, tau2) => (likelihood(tau2) > likelihood(found) ? tau2 : found), 0)
  const at = grid.indexOf(best)
  const [from, to] = [nth(grid, Math.max(0, at - 1)), grid[Math.min(grid.length - 1, at + 1)] ?? top]
  if (!(slope(from) > 0 && slope(to) < 0)) return best === 0 ? 0 : best
  return rootOf(slope, from, to)
}

function squaresOfRange(effects: Effects): number {
  const values = effects.map(({ estimate }) => estimate)
  return (Math.max(...values) - Math.min(...values)) ** 2
}

function positiveRoot(f: (tau2: number) => number, effects: Effects): number {
  if (f(0) <= 0) return 0
  let high = squaresOfRange(effects) + 1e-12
  while (f(high) > 0) high *= 2
  return rootOf(f, 0, high)
}
