import { type Answer, answer, type Refusal, refused } from './answer.ts'
import { columnsOf, type Fixed } from './design-columns.ts'
import { kenwardRoger } from './kenward-roger.ts'
import type { Coefficient } from './linear-model.ts'
import { meanOf, squaresAbout } from './moments.ts'
import { lowestOf } from './nelder-mead.ts'
import { pt } from './pt.ts'
import { qrOf } from './qr.ts'
import { type CrossProducts, criterionOf, crossProducts, profileAt } from './reml.ts'
import { satterthwaiteDf } from './satterthwaite.ts'

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

export interface MixedModel {
  readonly coefficients: readonly (Coefficient & { readonly df: number })[]
  readonly varianceComponents: Readonly<Record<string, number>>
  readonly remlCriterion: number
  /** A variance lies at its bound of zero. */
  readonly singular: boolean
  /** Random factors that the fixed ones already carry: dropped before fitting. */
  readonly aliased: readonly string[]
}

const mostRowsForKenwardRoger = 500

/**
 * A linear mixed model by REML with crossed or nested random intercepts, unbalanced data allowed. A random factor that lies
 * within the fixed ones (one garden a method) is found before fitting, dropped and named: nothing about it can be told.
 * Refuses unlike lengths, no residual degree of freedom, values without variation, and Kenward-Roger for over 500 rows.
 * Patterson & Thompson 1971, Biometrika 58:545-554; Bates et al. 2015, Journal of Statistical Software 67(1).
 */
export function fitMixedModel(input: MixedModelInput): Answer<MixedModel> | Refusal {
  const { y, fixed, random, df: wanted = 'satterthwaite', reference = {} } = input
  const n = y.length
  if ([...Object.values(fixed), ...Object.values(random)].some((column) => column.length !== n))
    return refused('incomplete', 'unlike lengths')
  if (!y.every(Number.isFinite)) return refused('not a number', 'y')
  if (n === 0 || squaresAbout(y, meanOf(y)) === 0) return refused('no variation', 'y')
  if (wanted === 'kenward-roger' && n > mostRowsForKenwardRoger) return refused('out of range', `${n} rows`)
  const all = [{ term: '', name: 'intercept', values: y.map(() => 1) }, ...columnsOf(fixed, [], reference)]
  const independent = qrOf(
    all.map((column) => column.values),
    y,
  )
  const columns = independent.kept.map((at) => all[at] as (typeof all)[number])
  const values = columns.map((column) => column.values)
  const aliased = Object.keys(random).filter((name) => liesWithin(values, random[name] ?? [], y))
  const names = Object.keys(random).filter((name) => !aliased.includes(name))
  const factors = names.map((name) => levelsOf(random[name] ?? []))
  if (n - columns.length < 1) return refused('too few', `${n} values`)
  const data = crossProducts(
    y,
    values,
    factors.map((one) => one.at),
    factors.map((one) => one.count),
  )
  const theta =
    names.length === 0
      ? []
      : lowestOf(
          (x) => criterionOf(data, x),
          names.map(() => 1),
        ).map(Math.abs)
  return fitted(data, { theta, names, aliased, columns, factors: factors.map((one) => one.at), wanted })
}

interface Found {
  readonly theta: readonly number[]
  readonly names: readonly string[]
  readonly aliased: readonly string[]
  readonly columns: readonly { readonly name: string; readonly values: readonly number[] }[]
  readonly factors: readonly (readonly number[])[]
  readonly wanted: 'satterthwaite' | 'kenward-roger'
}

function fitted(
  data: CrossProducts,
  { theta, names, aliased, columns, factors, wanted }: Found,
): Answer<MixedModel> | Refusal {
  const bounded = theta.map((one) => (one < 1e-5 ? 0 : one))
  const profile = profileAt(data, bounded)
  if (!profile || !(profile.squares > 0)) return refused('no variation', 'the residual')
  const residual = profile.squares / (data.n - data.p)
  const variances = [...bounded.map((one) => one * one * residual), residual]
  const adjusted =
    wanted === 'kenward-roger'
      ? kenwardRoger(
          columns.map((one) => one.values),
          factors,
          variances,
        )
      : null
  if (wanted === 'kenward-roger' && !adjusted) return refused('did not converge', 'Kenward-Roger')
  const dfs = adjusted ? adjusted.map((one) => one.df) : satterthwaiteDf(data, variances.map(Math.sqrt))
  const coefficients = profile.beta.map((estimate, i) => {
    const se = adjusted?.[i]?.se ?? Math.sqrt(residual * ((profile.unscaled[i] as Float64Array)[i] as number))
    const [df, t] = [dfs[i] ?? 1, estimate / se]
    return { name: columns[i]?.name ?? '', estimate, se, df, t, p: 2 * pt(-Math.abs(t), df) }
  })
  return answer({
    coefficients,
    varianceComponents: Object.fromEntries([...names, 'residual'].map((name, i) => [name, variances[i] ?? 0])),
    remlCriterion: criterionOf(data, bounded),
    singular: bounded.some((one) => one === 0),
    aliased,
  })
}

function levelsOf(labels: readonly string[]) {
  const levels = [...new Set(labels)]
  const place = new Map(levels.map((level, i) => [level, i]))
  return { count: levels.length, at: labels.map((label) => place.get(label) ?? 0) }
}

/** Whether each indicator of a random factor is a sum of the fixed columns: then its variance changes no likelihood. */
function liesWithin(columns: readonly (readonly number[])[], labels: readonly string[], y: readonly number[]): boolean {
  const levels = [...new Set(labels)]
  const indicators = levels.map((level) => labels.map((label) => Number(label === level)))
  return qrOf([...columns, ...indicators], y).rank === columns.length
}
