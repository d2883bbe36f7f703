import { nth } from '../../lookups/nth.ts'
import { type Answer, answer, type Refusal } from '../../statistics/answer.ts'
import { meanOf } from '../../statistics/moments.ts'
import type { Burden } from '../matched/burdens.ts'
import type { AtTheEnds } from '../matched/labour-and-cost.ts'
import { burdenValues, burdenValuesAtAnEnd, type LayoutValues, layoutValues } from '../matched/layout-values.ts'
import type { Pair } from '../matched/matched-season.ts'
import type { TrialRecord } from '../record/trial-record.ts'
import { type LayoutContrast, layoutContrast } from './layout-contrast.ts'

export interface AboutMethods extends LayoutContrast {
  readonly crops: number
  /** Mean rate of B over mean rate of A with failures counted as zero; beside the ratio where any failed. */
  readonly allIn: number
  readonly seasonIds: readonly string[]
}

interface Counted {
  readonly comparisons?: number
  /** The seasons whose crops and mix it takes, where not its own. */
  readonly mixOf?: readonly string[]
}

/** What the layout says about the weights of two methods on matched crops; refused for one garden a method. */
export function aboutMethods(
  record: TrialRecord,
  seasonIds: readonly string[],
  pair: Pair,
  { comparisons = 1, mixOf = seasonIds }: Counted = {},
): Answer<AboutMethods> | Refusal {
  const found = layoutValues(record, seasonIds, [pair.methodA, pair.methodB], mixOf)
  if (found.kind === 'refused') return found
  const contrast = layoutContrast(found, pair, { comparisons })
  if (contrast.kind === 'refused') return contrast
  const rates = (methodId: string) => found.values.filter((one) => one.methodId === methodId).map((one) => one.rate)
  const allIn = meanOf(rates(pair.methodB)) / meanOf(rates(pair.methodA))
  return answer({ ...contrast, crops: found.crops.length, allIn, seasonIds: found.seasonIds })
}

interface BurdenOfMethods extends LayoutContrast {
  readonly seasonIds: readonly string[]
  /** What it was reckoned from. */
  readonly values: LayoutValues
}

/** What it says about hours or costs, all crops: gardens first as for the weights. */
export function burdenOfMethods(
  record: TrialRecord,
  seasonIds: readonly string[],
  pair: Pair,
  burden: Burden,
  { comparisons = 1 }: { readonly comparisons?: number } = {},
): Answer<BurdenOfMethods> | Refusal {
  const found = burdenValues(record, seasonIds, [pair.methodA, pair.methodB], burden)
  if (found.kind === 'refused') return found
  const contrast = layoutContrast(found, pair, { comparisons })
  return contrast.kind === 'refused' ? contrast : answer({ ...contrast, seasonIds: found.seasonIds, values: found })
}

/** The same at the two ends of what open weeks may hold; null where no week is open. */
export function burdenOfMethodsAtTheEnds(
  { values: found }: BurdenOfMethods,
  pair: Pair,
  burden: Burden,
  { comparisons = 1 }: { readonly comparisons?: number } = {},
): Answer<AtTheEnds<LayoutContrast>> | Refusal | null {
  const ends: LayoutContrast[] = []
  for (const least of [pair.methodB, pair.methodA]) {
    const values = burdenValuesAtAnEnd(found, burden, least)
    if (values.kind === 'refused') return values
    if (values.openWeeks === 0) return null
    const contrast = layoutContrast(values, pair, { comparisons })
    if (contrast.kind === 'refused') return contrast
    ends.push(contrast)
  }
  const [low, high] = [nth(ends, 0), nth(ends, 1)]
  return answer({ low, high })
}
