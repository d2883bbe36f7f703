import type { IsoDate } from '../quantities/dates.ts'
import { formatDay } from '../quantities/formatting.ts'
import { dueForALook } from './due.ts'

interface DecisionRow {
  readonly id: string
  readonly seasonId: string
  readonly decidedOn: IsoDate
  readonly decision: string
  readonly finding: string
  readonly expected: string
  readonly lookAgainOn: IsoDate | null
  readonly happened: string | null
}

interface Rows {
  readonly decisions: readonly DecisionRow[]
  /** In the order of their days. */
  readonly seasons: readonly { id: string; name: string }[]
  readonly today: IsoDate
}

/** The log of decisions, the latest season first; within it as they were decided. */
export function decisionsPage({ decisions, seasons, today }: Rows, locale: string) {
  const due = new Set(dueForALook(decisions, today).map((one) => one.id))
  return {
    seasons: [...seasons].reverse().flatMap((season) => {
      const own = decisions.filter((one) => one.seasonId === season.id)
      if (own.length === 0) return []
      return [
        {
          name: season.name,
          decisions: own.map(({ id, decision, finding, expected, happened, decidedOn, lookAgainOn }) => ({
            id,
            decision,
            finding,
            expected,
            happened,
            due: due.has(id),
            day: formatDay(decidedOn, locale),
            lookAgain: lookAgainOn === null ? null : formatDay(lookAgainOn, locale),
          })),
        },
      ]
    }),
    awaiting: decisions.flatMap(({ id, decision, happened, decidedOn }) =>
      happened === null ? [{ value: id, label: `${formatDay(decidedOn, locale)}: ${decision}` }] : [],
    ),
    seasonChoices: seasons.map(({ id, name }) => ({ value: id, label: name })).reverse(),
  }
}
