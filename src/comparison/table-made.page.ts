import { findingsPage, type Question } from './findings/findings.page.ts'
import { otherwisePage } from './findings/otherwise.page.ts'
import { replicatedPage } from './findings/replicated.page.ts'
import { sideBySide } from './findings/side-by-side.ts'
import { summaryOfRecord } from './findings/summary-of-record.ts'
import { firstTable } from './matched/first-table.ts'
import type { CountingRules } from './matched/matched-season.ts'
import type { TrialRecord } from './record/trial-record.ts'
import { untilSeasons } from './record/until-seasons.ts'
import { errorOfMeasuring, readingsOf } from './totals/error-of-measuring.ts'
import type { MeasureRules } from './totals/measures.ts'

interface Given {
  readonly seasonIds: readonly string[]
  /** The season, where it is of one alone. */
  readonly oneSeason: string | null
  readonly question: Question | null
  /** The choices of the address. */
  readonly asked: {
    readonly by: 'method' | 'garden' | 'bed' | 'crop'
    readonly beside: string | undefined
    readonly reference: string | undefined
    readonly measures: MeasureRules
    readonly matched: Partial<CountingRules>
  }
  readonly locale: string
  readonly currency: string
}

/** All sums and findings of a comparison: plain data, so that it can be made in a thread of its own. */
export function tableMade(whole: TrialRecord, { seasonIds, oneSeason, question, asked, locale, currency }: Given) {
  const record = untilSeasons(whole, seasonIds)
  const { by, beside, reference, measures: rules, matched } = asked
  const said = findingsPage(record, seasonIds, { question, matched, referenceAsked: reference, locale, currency })
  const other = said.others.find((one) => one.id === beside) ?? said.others[0]
  const table = firstTable(record, oneSeason)
  return {
    said,
    side: sideBySide(record, table, { ...said, seasonIds }),
    summary: summaryOfRecord(record, seasonIds, { ...said, table }),
    found: said.found,
    measuring: errorOfMeasuring(readingsOf(record, seasonIds)),
    replicated: replicatedPage(record, seasonIds, { ...said, locale }),
    beside: other?.id ?? null,
    otherwise: otherwisePage(record, seasonIds, { by, rules, locale, currency }),
    table,
  }
}
