import { nth } from '../../lookups/nth.ts'
import { type Answer, answer, type Refusal, refused } from '../../statistics/answer.ts'
import { fiellerInterval } from '../../statistics/fieller-interval.ts'
import { meanOf } from '../../statistics/moments.ts'
import { dividedBetween, mostDivided } from '../matched/divided-between.ts'
import { wholeSeasons } from '../matched/labour-and-cost.ts'
import { replicates } from '../matched/laid-out.ts'
import type { Pair } from '../matched/matched-season.ts'
import type { TrialRecord } from '../record/trial-record.ts'

export interface PriceOfAnHour {
  /** Minor units an hour: what inputs cost more, for each hour of work less. Below 0 where less was spent as well. */
  readonly price: number
  readonly low: number
  readonly high: number
  readonly seasons: number
}

/**
 * What an hour saved cost in inputs: the mean of what B spent more on a m2 of bed over the mean of what it worked less
 * there, without harvest work, with seasons as the replicates; harvests are not in it. Only seasons in which hours and
 * prices are whole. Refused where the hours saved cannot be told from none, by Fieller's theorem (1954, J. R. Stat.
 * Soc. B 16:175-185); where the layout replicates the methods, since seasons are no replicates of them; and where hours
 * or inputs were only divided.
 */
export function priceOfAnHour(
  record: TrialRecord,
  seasonIds: readonly string[],
  pair: Pair,
  { level = 0.95 }: { readonly level?: number } = {},
): Answer<PriceOfAnHour> | Refusal {
  const methodIds = [pair.methodA, pair.methodB]
  if (replicates(record, seasonIds, methodIds)) return refused('no error term', 'seasons of several places')
  const seasons = wholeSeasons(record, seasonIds, pair, 'hoursPerBed').filter(
    ({ a, b }) => a.unpricedCash === 0 && b.unpricedCash === 0 && a.bedAreaCm2 > 0 && b.bedAreaCm2 > 0,
  )
  const count = seasons.length
  const wholeIds = seasons.map((one) => one.seasonId)
  const divided = (['hoursPerBed', 'costPerKg'] as const).map((burden) =>
    dividedBetween(record, wholeIds, methodIds, { burden, unit: 'method' }),
  )
  if (Math.max(...divided) > mostDivided) return refused('only divided', String(Math.max(...divided)))
  if (count < 2) return refused('too few', `${count} seasons`)
  const perM2 = (sum: number, area: number) => (sum / area) * 10_000
  const spent = seasons.map(({ a, b }) => perM2(b.cashMinor, b.bedAreaCm2) - perM2(a.cashMinor, a.bedAreaCm2))
  const saved = seasons.map(
    ({ a, b }) => (perM2(a.minutesWithoutHarvest, a.bedAreaCm2) - perM2(b.minutesWithoutHarvest, b.bedAreaCm2)) / 60,
  )
  const [a, b] = [meanOf(spent), meanOf(saved)]
  if (b <= 0) return refused('out of range', 'no hours saved')
  const covariance = (x: readonly number[], y: readonly number[]) =>
    x.reduce((sum, one, i) => sum + (one - meanOf(x)) * (nth(y, i) - meanOf(y)), 0) / (count - 1) / count
  const found = fiellerInterval({
    a,
    b,
    varA: covariance(spent, spent),
    varB: covariance(saved, saved),
    cov: covariance(spent, saved),
    df: count - 1,
    level,
  })
  if (found.kind === 'refused') return found
  return answer({ price: found.ratio, low: found.low, high: found.high, seasons: count })
}
