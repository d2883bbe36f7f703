import { entry, nth } from '../lookups/nth.ts'
import { type Answer, answer, type Refusal, refused } from './answer.ts'
import { columnsOf, type Fixed } from './design-columns.ts'
import { kenwardRoger } from './kenward-roger.ts'
import type { Coefficient } from './linear-model.ts'
import { leastOf, meanOf, squaresAbout } from './moments.ts'
import { lowestOf } from './nelder-mead.ts'
import { liesWithin, orthonormalOf } from './orthonormal.ts'
import { pt } from './pt.ts'
import { type CrossProducts, criterionOf, crossProducts, fixedEffects, profileAt } from './reml.ts'
import { satterthwaiteDf } from './satterthwaite.ts'
import { varianceInformation } from './variance-information.ts'

export interface MixedModelInput {
  readonly y: readonly number[]
  /** Main effects by name: labels make a factor, numbers a slope. */
  readonly fixed: Fixed
  /** Labels by name of each random factor, crossed or nested as the labels are. */
  readonly random: Readonly<Record<string, readonly string[]>>
  readonly df?: 'satterthwaite' | 'kenward-roger'
  /** The level of a factor against which the others are set; the first seen where none is named. */
  readonly reference?: Readonly<Record<string, string>>
}

interface MixedModel {
  readonly coefficients: readonly (Coefficient & { readonly df: number })[]
  readonly varianceComponents: Readonly<Record<string, number>>
  readonly remlCriterion: number
  /** A variance lies at its bound of zero. */
  readonly singular: boolean
  /** Random factors, and fixed columns, that what stands before them already carries: dropped before fitting. */
  readonly aliased: readonly string[]
}

/**
 * A linear mixed model by REML with crossed or nested random intercepts, unbalanced data allowed. A random factor that
 * lies within the fixed ones (one garden a method), or that parts the rows as another does, is found before fitting,
 * dropped and named: nothing about it can be told. Refuses unlike lengths, no residual degree of freedom, values
 * without variation, values that the model explains wholly, and a random factor with a level for each row, which is the
 * residual. Patterson & Thompson 1971, Biometrika 58:545-554; Bates et al. 2015, Journal of Statistical Software 67(1).
 */
export function fitMixedModel(input: MixedModelInput): Answer<MixedModel> | Refusal {
  const { y, fixed, random, df: wanted = 'satterthwaite', reference = {} } = input
  const n = y.length
  if ([...Object.values(fixed), ...Object.values(random)].some((column) => column.length !== n))
    return refused('incomplete', 'unlike lengths')
  const all = [{ term: '', name: 'intercept', values: y.map(() => 1) }, ...columnsOf(fixed, [], reference)]
  const broken = [{ name: 'y', values: y }, ...all].find((one) => !one.values.every(Number.isFinite))
  if (broken) return refused('not a number', broken.name)
  const whole = n === 0 ? 0 : squaresAbout(y, meanOf(y))
  if (!(whole > leastOf(y))) return refused('no variation', 'y')
  const { kept, basis } = orthonormalOf(all.map((column) => column.values))
  if (n - kept.length < 1) return refused('too few', `${n} values`)
  const { factors, aliased, single } = factorsOf(random, basis)
  if (single !== undefined) return refused('aliased', `${single} and the residual`)
  const columns = kept.map((at) => nth(all, at))
  const middle = meanOf(y)
  const data = crossProducts(
    y.map((value) => value - middle),
    columns.map((column) => column.values),
    factors.map((one) => one.at),
    factors.map((one) => one.count),
  )
  const lost = all.flatMap((column, i) => (kept.includes(i) ? [] : [column.name]))
  return fitted(data, {
    wanted,
    middle,
    least: Math.max(leastOf(y), 1e-9 * whole),
    columns: columns.map((column) => column.name),
    names: factors.map((one) => one.name),
    aliased: [...aliased, ...lost],
  })
}

interface Found {
  readonly wanted: 'satterthwaite' | 'kenward-roger'
  /** What was taken from y. */
  readonly middle: number
  /** A sum of squares that is rounding only: the model explains the values wholly. */
  readonly least: number
  readonly columns: readonly string[]
  readonly names: readonly string[]
  readonly aliased: readonly string[]
}

function fitted(data: CrossProducts, found: Found): Answer<MixedModel> | Refusal {
  const start = found.names.map(() => 1)
  const best = start.length === 0 ? [] : lowestOf((x) => criterionOf(data, x), start)
  const theta = best.map((one) => (Math.abs(one) < 1e-5 ? 0 : Math.abs(one)))
  const profile = profileAt(data, theta)
  if (!profile || !(profile.squares > found.least)) return refused('no variation', 'the residual')
  const residual = profile.squares / (data.n - data.p)
  const { beta, unscaled } = fixedEffects(data, profile)
  const information = varianceInformation(data, { theta, beta, unscaled, residual })
  const adjusted = information && found.wanted === 'kenward-roger' ? kenwardRoger(information) : null
  const dfs = adjusted?.map((one) => one.df) ?? (information ? satterthwaiteDf(information) : null)
  if (!dfs || (found.wanted === 'kenward-roger' && !adjusted)) return refused('did not converge', 'the variances')
  const coefficients = beta.map((from, i) => {
    const estimate = i === 0 ? from + found.middle : from
    const se = adjusted?.[i]?.se ?? Math.sqrt(residual * entry(nth(unscaled, i), i))
    const [df, t] = [nth(dfs, i), estimate / se]
    return { name: nth(found.columns, i), estimate, se, df, t, p: 2 * pt(-Math.abs(t), df) }
  })
  if (!coefficients.every((one) => Number.isFinite(one.se + one.df + one.t)))
    return refused('did not converge', 'the standard errors')
  const variances = [...theta.map((one) => one * one * residual), residual]
  return answer({
    coefficients,
    varianceComponents: Object.fromEntries([...found.names, 'residual'].map((name, i) => [name, nth(variances, i)])),
    remlCriterion: criterionOf(data, theta),
    singular: theta.some((one) => one === 0),
    aliased: found.aliased,
  })
}

interface Factor {
  readonly name: string
  readonly at: readonly number[]
  readonly count: number
}

/**
 * The random factors that can be fitted, that with the most levels first; those dropped; and one with a level for each
 * row.
 */
function factorsOf(random: Readonly<Record<string, readonly string[]>>, basis: readonly Float64Array[]) {
  const factors: Factor[] = []
  const aliased: string[] = []
  let single: string | undefined
  for (const [name, labels] of Object.entries(random)) {
    const place = new Map<string, number>()
    const at = labels.map((label) => place.get(label) ?? place.set(label, place.size).size - 1)
    const factor = { name, at, count: place.size }
    const twin = factors.some((one) => one.count === factor.count && one.at.every((level, i) => level === at[i]))
    if (twin || liesWithin(basis, factor)) aliased.push(name)
    else if (factor.count === labels.length) single = name
    else factors.push(factor)
  }
  return { factors: factors.sort((a, b) => b.count - a.count), aliased, single }
}
