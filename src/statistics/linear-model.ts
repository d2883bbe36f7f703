import { nth } from '../lookups/nth.ts'
import { nameIfAny } from '../lookups/unsaid.ts'
import { type Answer, answer, type Refusal, refused } from './answer.ts'
import { columnsOf, type Fixed } from './design-columns.ts'
import { leastOf, meanOf, squaresAbout, sumOf } from './moments.ts'
import { pf } from './pf.ts'
import { pt } from './pt.ts'
import { qrOf } from './qr.ts'

export interface LinearModelInput {
  readonly y: readonly number[]
  /** Columns by name: labels make a factor, numbers a slope. */
  readonly fixed: Fixed
  /** Pairs (or more) of names whose product columns are added after all main effects. */
  readonly interactions?: readonly (readonly string[] | string)[]
}

export interface TermRow {
  readonly source: string
  readonly df: number
  readonly ss: number
  readonly ms: number
  readonly f: number | null
  readonly p: number | null
}

export interface Coefficient {
  readonly name: string
  readonly estimate: number
  readonly se: number
  readonly t: number
  readonly p: number
}

export interface LinearModel {
  /** Sequential sums of squares, in the order given; the last row is the residual. */
  readonly table: readonly TermRow[]
  readonly coefficients: readonly Coefficient[]
  readonly residual: { readonly df: number; readonly ss: number; readonly ms: number }
  /** Columns that others already carry: confounded, and without an effect of their own. */
  readonly aliased: readonly string[]
}

/**
 * Least squares for factors, slopes and their interactions, with a sequential table of analysis of variance. Treatment
 * contrasts, the first level seen being the reference. Refuses unlike lengths, no residual degree of freedom, values
 * without variation, and values that the model explains wholly. Householder QR (Golub & Van Loan, Matrix Computations,
 * chapter 5).
 */
export function linearModel({ y, fixed, interactions = [] }: LinearModelInput): Answer<LinearModel> | Refusal {
  const n = y.length
  if (Object.values(fixed).some((column) => column.length !== n)) return refused('incomplete', 'unlike lengths')
  const terms = columnsOf(
    fixed,
    interactions.map((one) => (typeof one === 'string' ? one.split(':') : one)),
  )
  const columns = [{ term: '', name: 'intercept', values: y.map(() => 1) }, ...terms]
  const broken = [{ name: 'y', values: y }, ...columns].find((one) => !one.values.every(Number.isFinite))
  if (broken) return refused('not a number', broken.name)
  const qr = qrOf(
    columns.map((column) => column.values),
    y,
  )
  const df = n - qr.rank
  if (df < 1) return refused('too few', `${df} residual degrees of freedom`)
  const ss = sumOf(qr.effects.slice(qr.rank).map((effect) => effect * effect))
  if (squaresAbout(y, meanOf(y)) <= leastOf(y)) return refused('no variation', 'y')
  if (ss <= leastOf(y)) return refused('no variation', 'the residual')
  const ms = ss / df
  const kept = qr.kept.map((at) => columns[at] ?? columns[0])
  // A row of the design that fell out names no term.
  const sources = [...new Set(kept.slice(1).map((column) => column?.term ?? ''))]
  const table = sources.map((source): TermRow => {
    const own = kept.flatMap((column, i) => (i > 0 && column?.term === source ? [nth(qr.effects, i)] : []))
    const squares = sumOf(own.map((effect) => effect * effect))
    const f = squares / own.length / ms
    return {
      source,
      df: own.length,
      ss: squares,
      ms: squares / own.length,
      f,
      p: pf(f, own.length, df, { upper: true }),
    }
  })
  const coefficients = qr.solution.map((estimate, i): Coefficient => {
    const se = Math.sqrt(ms * nth(qr.unscaledVariances, i))
    const t = estimate / se
    return { name: nameIfAny(kept[i]), estimate, se, t, p: 2 * pt(-Math.abs(t), df) }
  })
  return answer({
    table: [...table, { source: 'residual', df, ss, ms, f: null, p: null }],
    coefficients,
    residual: { df, ss, ms },
    aliased: columns.flatMap((column, i) => (qr.kept.includes(i) ? [] : [column.name])),
  })
}
