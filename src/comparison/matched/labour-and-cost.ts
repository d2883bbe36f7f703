import type { Answer, Refusal } from '../../statistics/answer.ts'
import { answer, refused } from '../../statistics/answer.ts'
import { type SeasonContrast, seasonContrast } from '../../statistics/season-contrast.ts'
import type { TrialRecord } from '../record/trial-record.ts'
import { methodTotals } from '../totals/method-totals.ts'
import { hoursBounds } from '../totals/missing-hours.ts'
import { type Burden, burdenOf, isWhole } from './burdens.ts'
import { leastClosed } from './closed-seasons.ts'
import { dividedBetween, mostDivided } from './divided-between.ts'
import type { Pair } from './matched-season.ts'

/**
 * Hours or costs of method B over method A as one log ratio a season, with plain t over the seasons; all crops. Weeks are no
 * units. Only whole seasons are counted; refused where fewer than two remain, where one side has nothing, and where more than a
 * tenth of a side was only divided between methods or gardens ("only divided").
 */
export function burdenOverSeasons(
  record: TrialRecord,
  seasonIds: readonly string[],
  { methodA, methodB }: Pair,
  burden: Burden,
  { comparisons = 1 }: { readonly comparisons?: number } = {},
): Answer<SeasonContrast & { readonly seasons: number }> | Refusal {
  const whole = wholeSeasons(record, seasonIds, { methodA, methodB }, burden)
  const wholeIds = whole.map((one) => one.seasonId)
  const divided = dividedBetween(record, wholeIds, [methodA, methodB], { burden, unit: 'method' })
  if (divided > mostDivided) return refused('only divided', String(divided))
  const effects = whole.map(({ a, b }) => Math.log(burdenOf(burden, b) / burdenOf(burden, a)))
  // A season without a kilogram, an hour or a cost on one side has no logarithm, and is not left out as if it had not been.
  if (!effects.every(Number.isFinite)) return refused('zero total', 'a season with nothing on one side')
  if (effects.length === 0) return refused('too few', 'no whole season')
  const found = seasonContrast(effects, { comparisons })
  return found.kind === 'refused' ? found : { ...found, seasons: effects.length }
}

/**
 * The seasons that are whole under both methods; of hours for ground, those with nine tenths of their weeks closed, since what
 * the others may hold can be bounded.
 */
export function wholeSeasons(
  record: TrialRecord,
  seasonIds: readonly string[],
  { methodA, methodB }: Pair,
  burden: Burden,
) {
  return seasonIds.flatMap((seasonId) => {
    const totals = methodTotals(record, seasonId)
    const [a, b] = [totals.get(methodA), totals.get(methodB)]
    const least = burden === 'hoursPerBed' ? leastClosed : 1
    return a && b && isWhole(a, burden, least) && isWhole(b, burden, least) ? [{ seasonId, a, b }] : []
  })
}

/**
 * Hours per m2 of bed without harvest work, B over A, over the seasons that are compared, when the open weeks of each side hold as little as is
 * entered or as much as closed weeks near them: the two ends, each with its own interval. Null where no week is open.
 */
export function hoursAtTheEnds(
  record: TrialRecord,
  seasonIds: readonly string[],
  { methodA, methodB }: Pair,
  { comparisons = 1 }: { readonly comparisons?: number } = {},
): Answer<{ readonly low: Answer<SeasonContrast>; readonly high: Answer<SeasonContrast> }> | Refusal | null {
  const effects: { low: number; high: number }[] = []
  let open = 0
  for (const { seasonId: id, a, b } of wholeSeasons(record, seasonIds, { methodA, methodB }, 'hoursPerBed')) {
    const [ofA, ofB] = [hoursBounds(record, id, methodA), hoursBounds(record, id, methodB)]
    if (ofA.kind === 'refused') return ofA
    if (ofB.kind === 'refused') return ofB
    open += ofA.openWeeks + ofB.openWeeks
    const log = (x: number, y: number) => Math.log(x / b.bedAreaCm2 / (y / a.bedAreaCm2))
    effects.push({ low: log(ofB.low, ofA.high), high: log(ofB.high, ofA.low) })
  }
  if (open === 0) return null
  const low = seasonContrast(
    effects.map((one) => one.low),
    { comparisons },
  )
  const high = seasonContrast(
    effects.map((one) => one.high),
    { comparisons },
  )
  if (low.kind === 'refused') return low
  return high.kind === 'refused' ? high : answer({ low, high })
}
