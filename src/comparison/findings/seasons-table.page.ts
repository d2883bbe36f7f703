import { linkOf, nameIfAny } from '../../lookups/unsaid.ts'
import { formatNumber } from '../../quantities/formatting.ts'
import { wordsFor } from '../../words/locales.ts'
import { replicates } from '../matched/laid-out.ts'
import type { CountingRules } from '../matched/matched-season.ts'
import { overSeasons } from '../matched/over-seasons.ts'
import type { TrialRecord } from '../record/trial-record.ts'
import { widest } from './summary.ts'

interface Writing {
  readonly locale: string
  readonly rules: CountingRules
}

/** Season by method beside the reference: ratios, their mean and its interval where seasons are what replicates. */
export function seasonsTable(
  record: TrialRecord,
  seasonIds: readonly string[],
  referenceId: string,
  others: readonly { id: string; name: string; comparisons: number }[],
  { locale, rules }: Writing,
) {
  const number = (log: number) => formatNumber(Math.exp(log), locale, 2)
  const columns = others.map((other) =>
    overSeasons(
      record,
      seasonIds,
      { methodA: referenceId, methodB: other.id },
      { rules, comparisons: other.comparisons },
    ),
  )
  const cell = (column: (typeof columns)[number], seasonId: string) => {
    if (column.kind === 'refused') return null
    const season = column.seasons.find((one) => one.seasonId === seasonId)
    if (season) return number(season.logRatio)
    const failed = column.failed.find((one) => one.seasonId === seasonId)
    return failed && failed.rateA > 0 ? formatNumber(0, locale, 2) : null
  }
  // Where several places stand for each method, seasons are no replicates of it: the interval is that of the places.
  const contrast = columns.map((column, i) => {
    const ofPlaces = replicates(record, seasonIds, [referenceId, linkOf(others[i]?.id)])
    return !ofPlaces && column.kind === 'answer' && column.contrast.kind === 'answer' ? column.contrast : null
  })
  const between = (range: { low: number; high: number }) => `${number(range.low)}–${number(range.high)}`
  const saysNothing = (range: { low: number; high: number } | undefined, seasons: number) =>
    range !== undefined && range.high - range.low > Math.log(widest)
      ? wordsFor(locale).findings.cannotTell(seasons)
      : null
  const seasonsOf = (column: (typeof columns)[number] | undefined) =>
    column?.kind === 'answer' ? column.seasons.length : 0
  return {
    methods: others.map((other) => other.name),
    level: levelsOf(others, locale),
    rows: seasonIds.map((id) => ({
      season: nameIfAny(record.seasons.find((season) => season.id === id)),
      cells: columns.map((column) => cell(column, id)),
    })),
    /** Why a column has no mean. */
    none: columns.map((column, i) =>
      replicates(record, seasonIds, [referenceId, linkOf(others[i]?.id)])
        ? ('of places' as const)
        : column.kind === 'answer' && column.failed.length > 0
          ? ('failed season' as const)
          : ('one season' as const),
    ),
    means: contrast.map((one) => (one ? number(one.estimate) : null)),
    intervals: contrast.map((one) => (one ? between(one) : null)),
    next: contrast.map((one) => (one ? between(one.prediction) : null)),
    /** In place of an interval, or of the next season, that is wider than ten times. */
    wide: contrast.map((one, i) => ({
      interval: saysNothing(one ?? undefined, seasonsOf(columns[i])),
      next: saysNothing(one?.prediction, seasonsOf(columns[i])),
    })),
  }
}

/** The level of the intervals; of several ones each, the pairs that the question names first. */
function levelsOf(others: readonly { readonly comparisons: number }[], locale: string): string {
  const counts = [...new Set(others.map((one) => one.comparisons))].sort((a, b) => a - b)
  return counts.map((count) => formatNumber(100 - 5 / count, locale, count > 1 ? 1 : 0)).join(' / ')
}
