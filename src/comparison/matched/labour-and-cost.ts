import type { Answer, Refusal } from '../../statistics/answer.ts'
import { answer, refused } from '../../statistics/answer.ts'
import { type SeasonContrast, seasonContrast } from '../../statistics/season-contrast.ts'
import type { TrialRecord } from '../record/trial-record.ts'
import { methodTotals } from '../totals/method-totals.ts'
import { burdenBounds } from './burden-bounds.ts'
import { type Burden, burdenOf, isWhole } from './burdens.ts'
import { dividedBetween, mostDivided } from './divided-between.ts'
import type { Pair } from './matched-season.ts'

/**
 * Hours or costs of method B over method A as one log ratio a season, with plain t over the seasons; all crops. Weeks
 * are no units. Only whole seasons are counted; refused where fewer than two remain, where one side has nothing, and
 * where more than a tenth of a side was only divided between methods or gardens ("only divided").
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
  // A season without a kilogram, an hour or a cost on one side has no logarithm, and is not left out as if it had not
  // been.
  if (!effects.every(Number.isFinite)) return refused('zero total', 'a season with nothing on one side')
  if (effects.length === 0) return refused('too few', 'no whole season')
  const found = seasonContrast(effects, { comparisons })
  return found.kind === 'refused' ? found : { ...found, seasons: effects.length }
}

/** The seasons in which enough is known of both methods. */
export function wholeSeasons(
  record: TrialRecord,
  seasonIds: readonly string[],
  { methodA, methodB }: Pair,
  burden: Burden,
) {
  return seasonsWithBoth(record, seasonIds, { methodA, methodB }).filter(
    ({ a, b }) => isWhole(a, burden) && isWhole(b, burden),
  )
}

/** The seasons in which both methods lie, with what each has. */
export function seasonsWithBoth(record: TrialRecord, seasonIds: readonly string[], { methodA, methodB }: Pair) {
  return seasonIds.flatMap((seasonId) => {
    const totals = methodTotals(record, seasonId)
    const [a, b] = [totals.get(methodA), totals.get(methodB)]
    return a && b ? [{ seasonId, a, b }] : []
  })
}

/**
 * Figures at the two ends of what open weeks may hold: of B as little and of A as much as can be, and the other way
 * round.
 */
export interface AtTheEnds<T> {
  readonly low: T
  readonly high: T
}

/**
 * B over A, over the seasons that are compared, when the open weeks of each side hold as little as is entered or as
 * much as closed weeks near them: the two ends, each with its own interval. Null where no week is open.
 */
export function burdenAtTheEnds(
  record: TrialRecord,
  seasonIds: readonly string[],
  pair: Pair,
  burden: Burden,
  { comparisons = 1 }: { readonly comparisons?: number } = {},
): Answer<AtTheEnds<Answer<SeasonContrast>>> | Refusal | null {
  const effects: AtTheEnds<number>[] = []
  let open = 0
  for (const { seasonId: id } of wholeSeasons(record, seasonIds, pair, burden)) {
    const ofA = burdenBounds(record, id, pair.methodA, burden)
    const ofB = burdenBounds(record, id, pair.methodB, burden)
    if (ofA.kind === 'refused') return ofA
    if (ofB.kind === 'refused') return ofB
    open += ofA.openWeeks + ofB.openWeeks
    effects.push({ low: Math.log(ofB.low / ofA.high), high: Math.log(ofB.high / ofA.low) })
  }
  if (open === 0) return null
  const [low, high] = (['low', 'high'] as const).map((end) =>
    seasonContrast(
      effects.map((one) => one[end]),
      { comparisons },
    ),
  )
  if (low === undefined || low.kind === 'refused') return low ?? null
  return high === undefined || high.kind === 'refused' ? (high ?? null) : answer({ low, high })
}
