import { asShown, linkOf } from '../../lookups/unsaid.ts'
import type { LayoutKind } from '../../seasons/layout.ts'
import { type Answer, answer, type Refusal, refused } from '../../statistics/answer.ts'
import { type AnovaRow, blockedAnova } from '../../statistics/blocked-anova.ts'
import { meanOf, sdOf } from '../../statistics/moments.ts'
import { tukeyHsd } from '../../statistics/tukey-hsd.ts'
import { layoutValues, onePerUnit } from '../matched/layout-values.ts'
import { onceForRecord } from '../record/once-for-record.ts'
import type { TrialRecord } from '../record/trial-record.ts'
import { type Holder, holderOf } from './seasons-together.ts'

interface MethodsTogether {
  readonly layout: LayoutKind
  readonly table: readonly AnovaRow[]
  readonly methods: readonly {
    readonly methodId: string
    readonly units: number
    /** kg per planted m2 on the common mix: the geometric mean over the units, since the analysis is of logarithms. */
    readonly kgPerM2: number
    /** Methods that share a letter were not shown to differ; it does not say that they are alike. */
    readonly letters: string
  }[]
  /**
   * As ratios: a difference of two methods beyond the second is more than chance gives once in twenty. Null where units
   * differ.
   */
  readonly standardErrorRatio: number | null
  readonly leastDifferenceRatio: number | null
  /** What holds places of several methods, and is taken out of all spreads. */
  readonly after: Holder | null
  /** Spread of units of one method, per cent of their mean: the standard deviation of the logarithms. */
  readonly cv: number
  readonly df: number
  /**
   * Largest over smallest spread of the units between methods, as weighed and in logarithms: why logarithms are taken.
   */
  readonly spreads: { readonly asWeighed: number; readonly logs: number } | null
  readonly failed: number
}

/**
 * All methods of a replicated layout in one analysis of variance of the logarithms, one value a unit: completely
 * randomised, or with its blocks (gardens that hold every method, sites, blocks of beds); all pairs by Tukey's honest
 * significant difference (Tukey-Kramer where units differ). Refused for layouts without an error term, and for fewer
 * than two methods. Fisher 1925; Kramer 1956, Biometrics 12:307-310.
 */
export const methodsTogether = onceForRecord(makeMethodsTogether)

function makeMethodsTogether(
  record: TrialRecord,
  seasonIds: readonly string[],
  methodIds: readonly string[],
): Answer<MethodsTogether> | Refusal {
  const found = layoutValues(record, seasonIds, methodIds)
  if (found.kind === 'refused') return found
  if (found.turned || found.layout.alone.length > 0) return refused('no error term', found.layout.kind)
  const all = onePerUnit(found.values)
  const units = all.flatMap((one) => (one.value === null ? [] : [{ ...one, value: one.value }]))
  const blocked = units.every((one) => one.blockId !== null)
  const anova = blockedAnova(
    units.map(({ value, methodId, blockId }) => ({
      value,
      treatment: methodId,
      ...(blocked ? { block: linkOf(blockId) } : {}),
    })),
  )
  if (anova.kind === 'refused') return anova
  const error = anova.table.at(-1)
  if (!error) return refused('no error term', found.layout.kind)
  const own = (methodId: string) => units.filter((one) => one.methodId === methodId).map((one) => one.value)
  // The analysis has a mean for each method it was given.
  const groups = methodIds.map((name) => ({ name, mean: anova.means[name] ?? 0, n: own(name).length }))
  const tukey = tukeyHsd(groups, { mse: error.ms, df: error.df })
  if (tukey.kind === 'refused') return tukey
  const ratio = (log: number | null) => (log === null ? null : Math.exp(log))
  return answer({
    after: blocked ? (holderOf[found.layout.kind] ?? null) : null,
    layout: found.layout.kind,
    table: anova.table,
    df: error.df,
    failed: all.length - units.length,
    methods: groups.map(({ name, mean, n }) => ({
      methodId: name,
      units: n,
      kgPerM2: Math.exp(mean),
      letters: asShown(tukey.letters[name]),
    })),
    standardErrorRatio: ratio(anova.sed),
    leastDifferenceRatio: ratio(anova.lsd),
    cv: 100 * Math.sqrt(error.ms),
    spreads: spreadsOf(units, methodIds, blocked),
  })
}

interface Unit {
  readonly methodId: string
  readonly blockId: string | null
  readonly value: number
}

/**
 * Blocks taken out first. Null where a method has fewer than three units or no spread at all, and for two methods in
 * blocks: what is left of one is then what is left of the other.
 */
function spreadsOf(units: readonly Unit[], methodIds: readonly string[], blocked: boolean): MethodsTogether['spreads'] {
  if (blocked && methodIds.length < 3) return null
  const apart = (scale: (value: number) => number) => {
    const left = units.map((unit) => {
      const own = units.filter((one) => !blocked || one.blockId === unit.blockId)
      return { ...unit, value: scale(unit.value) - meanOf(own.map((one) => scale(one.value))) }
    })
    const groups = methodIds.map((id) => left.filter((one) => one.methodId === id).map((one) => one.value))
    const spreads = groups.map((own) => (own.length < 3 ? 0 : sdOf(own)))
    return Math.min(...spreads) > 0 ? Math.max(...spreads) / Math.min(...spreads) : null
  }
  const [logs, asWeighed] = [apart((value) => value), apart(Math.exp)]
  return logs === null || asWeighed === null ? null : { asWeighed, logs }
}
