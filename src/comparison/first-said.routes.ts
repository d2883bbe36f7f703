import { type Asking, plainly, tableAsked } from './compare.routes.ts'
import { type SideBySideShown, sideBySideShown } from './findings/side-by-side.page.ts'
import { summaryTold } from './findings/summary-told.page.ts'

/** What a comparison of all seasons says first, and its table. */
export interface FirstSaid {
  readonly sentence: string | null
  readonly side: SideBySideShown | null
  /** How sure it is, and what would settle what it leaves open. */
  readonly sure: readonly string[]
  readonly settle: string | null
}

const nothing: FirstSaid = { sentence: null, side: null, sure: [], settle: null }

/** Of the record as it stands: never older than what is written. */
export async function firstSaid(asking: Asking): Promise<FirstSaid> {
  const { side, summary } = await tableAsked(plainly(asking), 'all')
  const { locale, currency } = asking.member.group
  if (side.rows.length < 2 || summary.measures.length === 0) return nothing
  const told = summaryTold(summary, locale, currency)
  return {
    sentence: told.sentences[0] ?? null,
    side: sideBySideShown(side, { locale, currency }),
    sure: told.sure.flatMap((one) => one.said),
    settle: told.settle,
  }
}
