import type { How, LayoutKind, Scope } from '../../seasons/layout.ts'
import { type Answer, answer, type Refusal, refused } from '../../statistics/answer.ts'
import { linearModel } from '../../statistics/linear-model.ts'
import { qt } from '../../statistics/qt.ts'
import { type LayoutValues, onePerUnit } from '../matched/layout-values.ts'
import type { Pair } from '../matched/matched-season.ts'
import type { Level } from './certainty.ts'

/** What a layout with replicates says about two methods: B over A, with the error term that the layout carries. */
export interface LayoutContrast {
  readonly layout: LayoutKind | 'ground that took turns'
  readonly scope: Scope
  readonly how: How
  readonly ratio: number
  readonly low: number
  readonly high: number
  readonly level: number
  readonly df: number
  readonly unitsA: number
  readonly unitsB: number
  readonly seasons: number
  /** Units off which nothing came: they have no logarithm and are left out of the ratio above. */
  readonly failed: number
  readonly certainty: Level
  /** Why it is no surer: what it can be at most, then each step down. */
  readonly steps: readonly MethodStep[]
}

/**
 * Gardens first, then seasons: one value a garden (or one difference within each garden that holds both), Student's t
 * with the degrees of freedom that the units leave. Seasons, crops, and beds within a garden are never added to them.
 * Where ground took turns, garden and season are fitted with the method. Refused where one of the two stands on one
 * place alone ("no error term"); Hurlbert 1984, Ecological Monographs 54:187-211.
 */
export function layoutContrast(
  found: LayoutValues,
  pair: Pair,
  { comparisons = 1 }: { readonly comparisons?: number } = {},
): Answer<LayoutContrast> | Refusal {
  if (!found.turned && found.layout.alone.length > 0) return refused('no error term', 'a method with one place')
  const fit = found.turned ? turnedFit(found, pair) : unitsFit(found, pair)
  if (fit.kind === 'refused') return fit
  const level = 1 - 0.05 / comparisons
  const reach = qt((1 + level) / 2, fit.df) * fit.se
  const { unitsA, unitsB, failed } = fit
  const { how } = found.layout
  const scope = found.turned ? 'methodAtSite' : found.layout.scope
  return answer({
    scope,
    how,
    level,
    df: fit.df,
    unitsA,
    unitsB,
    failed,
    seasons: found.seasonIds.length,
    ratio: Math.exp(fit.estimate),
    low: Math.exp(fit.estimate - reach),
    high: Math.exp(fit.estimate + reach),
    ...methodCertainty({
      scope,
      how,
      unit: found.unit,
      fewest: Math.min(unitsA, unitsB),
      halfWidth: reach,
      failed,
      turned: found.turned,
      whole: found.layout.kind.startsWith('gardens'),
      seasons: found.seasonIds.length,
    }),
    layout: found.turned ? ('ground that took turns' as const) : found.layout.kind,
  })
}

interface Fit {
  readonly estimate: number
  readonly se: number
  readonly df: number
  readonly failed: number
  /** Places that the figures rest on. */
  readonly unitsA: number
  readonly unitsB: number
}

/** One value a unit; blocks (gardens, sites, blocks of beds) are taken out where the layout has them. */
function unitsFit(found: LayoutValues, { methodA, methodB }: Pair): Answer<Fit> | Refusal {
  const all = onePerUnit(found.values)
  const units = all.flatMap((one) => (one.value === null ? [] : [{ ...one, value: one.value }]))
  const rows = [...units].sort((a, b) => Number(b.methodId === methodA) - Number(a.methodId === methodA))
  const blocked = rows.length > 0 && rows.every((one) => one.blockId !== null)
  const fixed = {
    ...(blocked ? { block: rows.map((one) => `block ${one.blockId}`) } : {}),
    method: rows.map((one) => one.methodId),
  }
  const of = (id: string) => rows.filter((one) => one.methodId === id).length
  const [unitsA, unitsB] = [of(methodA), of(methodB)]
  if (unitsA < 2 || unitsB < 2) return refused('too few', `${Math.min(unitsA, unitsB)} places off which something came`)
  const failed = all.length - units.length
  return contrastOf(
    rows.map((one) => one.value),
    fixed,
    { methodA, methodB, failed, unitsA, unitsB },
  )
}

/** Ground that had both methods: garden and season are fitted with the method, and what is left is the error. */
function turnedFit(found: LayoutValues, { methodA, methodB }: Pair): Answer<Fit> | Refusal {
  const rows = found.values
    .filter((one) => one.rate > 0)
    .sort((a, b) => Number(b.methodId === methodA) - Number(a.methodId === methodA))
  const fixed = {
    garden: rows.map((one) => `garden ${one.gardenId}`),
    season: rows.map((one) => `season ${one.seasonId}`),
    method: rows.map((one) => one.methodId),
  }
  const failed = found.values.length - rows.length
  return contrastOf(
    rows.map((one) => Math.log(one.rate)),
    fixed,
    { methodA, methodB, failed, unitsA: gardensUnder(rows, methodA), unitsB: gardensUnder(rows, methodB) },
  )
}

function contrastOf(
  y: readonly number[],
  fixed: Readonly<Record<string, readonly string[]>>,
  { methodA, methodB, ...counted }: Pair & Pick<Fit, 'failed' | 'unitsA' | 'unitsB'>,
): Answer<Fit> | Refusal {
  const methods = new Set(fixed.method ?? [])
  if (!methods.has(methodA) || !methods.has(methodB)) return refused('zero total', 'nothing came off one of the two')
  const model = linearModel({ y, fixed })
  if (model.kind === 'refused') return refused('no error term', model.detail)
  const own = model.coefficients.find((one) => one.name === `method=${methodB}`)
  if (!own) return refused('aliased', 'method and ground')
  if (!(own.se > 0)) return refused('no variation', 'the units')
  return answer({ estimate: own.estimate, se: own.se, df: model.residual.df, ...counted })
}

const gardensUnder = (rows: readonly { methodId: string; gardenId: string }[], methodId: string) =>
  new Set(rows.filter((one) => one.methodId === methodId).map((one) => one.gardenId)).size

type MethodStep =
  | 'one site'
  | 'by choice'
  | 'by turns'
  | 'whole gardens by choice'
  | 'soil remembers'
  | 'one season'
  | 'few gardens'
  | 'wide interval'
  | 'places without weight'

interface Grounds {
  readonly scope: Scope
  readonly how: How
  readonly unit: 'garden' | 'bed'
  readonly fewest: number
  readonly halfWidth: number
  readonly turned: boolean
  /** Places off which nothing came, and which are not in the interval. */
  readonly failed: number
  /** Each place holds one method alone: chosen ground goes to it whole. */
  readonly whole: boolean
  readonly seasons: number
}

const levels: readonly Level[] = ['very low', 'low', 'moderate', 'high']

/**
 * At most high for gardens at random, moderate by choice, by turns and on one site, low for whole gardens by choice,
 * where the 95 % intervals held the truth of the methods less often the more gardens there were
 * (layout-calibration.ts), and low for ground that changed its method, whose soil carries the former one. A step lower
 * each for two or three gardens a method, an interval wider than a factor of 1.5 to either side, and places that gave
 * nothing. One season is low at most: it is about that season alone.
 */
export function methodCertainty(grounds: Grounds): {
  readonly certainty: Level
  readonly steps: readonly MethodStep[]
} {
  const { scope, how, unit, fewest, halfWidth, turned, whole, failed, seasons } = grounds
  const chosen = how === 'choice' && whole && !turned
  const atMost: (readonly [MethodStep, number, boolean])[] = [
    ['soil remembers', 1, turned],
    ['whole gardens by choice', 1, chosen],
    ['by choice', 2, how === 'choice' && !chosen],
    ['by turns', 2, how === 'rotation' && !turned],
    ['one site', 2, scope === 'methodAtSite' && !turned],
  ]
  const caps = atMost.filter(([, , holds]) => holds)
  const steps: MethodStep[] = [
    ...(unit === 'garden' && fewest < 4 ? (['few gardens'] as const) : []),
    ...(halfWidth > Math.log(1.5) ? (['wide interval'] as const) : []),
    ...(failed > 0 ? (['places without weight'] as const) : []),
  ]
  const level = Math.max(0, Math.min(3, ...caps.map(([, most]) => most)) - steps.length)
  return {
    certainty: levels[seasons === 1 ? Math.min(1, level) : level] ?? 'very low',
    steps: [...caps.map(([step]) => step), ...(seasons === 1 ? (['one season'] as const) : []), ...steps],
  }
}

/** One step less sure. */
export const lowered = (level: Level): Level => levels[Math.max(0, levels.indexOf(level) - 1)] ?? 'very low'
