/** What is kept of what reading a file found, for its page. */
export interface FoundKept {
  readonly lines: number
  readonly fresh: number
  readonly there: number
  readonly heading: {
    readonly unread: readonly string[]
    readonly missing: readonly string[]
    readonly twice: readonly string[]
  } | null
  readonly wrong: readonly { readonly line: number; readonly field: string; readonly reason: string }[]
  readonly preview: readonly (readonly string[])[]
  readonly asks: readonly { readonly line: number; readonly ask: string }[]
  readonly unmatched: readonly { readonly line: number; readonly name: string }[]
}

/** Of a file that is being read. */
export const foundSoFar = (lines: number): FoundKept => ({
  lines,
  fresh: 0,
  there: 0,
  heading: null,
  wrong: [],
  preview: [],
  asks: [],
  unmatched: [],
})

/** Without what only the reading needs: the places of the columns, and the sets that a file of plantings brings. */
export function keptOf({ lines, fresh, there, heading, wrong, preview, asks, unmatched }: FoundKept): FoundKept {
  const { unread, missing, twice } = heading ?? { unread: [], missing: [], twice: [] }
  const said = heading === null ? null : { unread, missing, twice }
  return { lines, fresh, there, heading: said, wrong, preview, asks, unmatched }
}
