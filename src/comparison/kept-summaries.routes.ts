import { changesCounted } from '../accounts/saved.queries.ts'
import { type Asking, tableAsked } from './compare.routes.ts'
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

const mostKept = 50

/**
 * The first sentence and the table of a group, worked out anew where anything of the group was written since: the count of its
 * changes is read before its rows, so that what is kept may be newer than its count and never older.
 */
export function keptSummaries(): (asking: Asking) => Promise<FirstSaid> {
  const kept = new Map<string, { readonly key: string; readonly first: FirstSaid }>()
  return async (asking) => {
    const { id, name, locale, currency, timeZone } = asking.member.group
    const count = await asking.read((tx) => changesCounted(tx, id))
    const key = JSON.stringify([count, name, locale, currency, timeZone])
    const before = kept.get(id)
    if (before?.key === key) return before.first
    const first = await firstSaid(asking)
    if (kept.size >= mostKept) kept.clear()
    kept.set(id, { key, first })
    return first
  }
}

async function firstSaid(asking: Asking): Promise<FirstSaid> {
  const { side, summary } = await tableAsked({ ...asking, query: {} }, 'all')
  const { locale, currency } = asking.member.group
  if (side.rows.length < 2 || summary.measures.length === 0)
    return { sentence: null, side: null, sure: [], settle: null }
  const told = summaryTold(summary, locale, currency)
  return {
    sentence: told.sentences[0] ?? null,
    side: sideBySideShown(side, { locale, currency }),
    sure: told.sure.flatMap((one) => one.said),
    settle: told.settle,
  }
}
