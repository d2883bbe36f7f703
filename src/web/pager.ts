import type { InPages } from '../lookups/in-pages.ts'
import { formatNumber } from '../quantities/formatting.ts'
import type { Words } from '../words/catalogue.ts'

interface Turn {
  readonly label: string
  readonly address: string
}

/** What `parts/pager` shows below a long list. */
interface Pager {
  readonly label: string
  readonly said: string
  /** How many rows the list has. */
  readonly of: string
  readonly before: Turn | null
  readonly after: Turn | null
}

interface Told {
  /** What the list is called. */
  readonly name: string
  readonly words: Words['turning']
  readonly locale: string
  /** The address of a page of it. */
  readonly to: (page: number) => string
}

/** Where a page of a list lies in it, and the ways to those before and after; null where it is the only one. */
export function pagerOf(at: InPages<unknown>, { name, words, locale, to }: Told): Pager | null {
  if (at.last === 1) return null
  const number = (value: number) => formatNumber(value, locale, 0)
  return {
    label: words.pagesOf(name),
    said: words.range(number(at.from), number(at.to), number(at.of)),
    of: number(at.of),
    before: at.page === 1 ? null : { label: words.before, address: to(at.page - 1) },
    after: at.page === at.last ? null : { label: words.after, address: to(at.page + 1) },
  }
}
