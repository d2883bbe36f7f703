import { type AreaFrom, areaAtLast } from '../gardens/areas-held.ts'
import { asShown, sent } from '../lookups/unsaid.ts'
import { formatArea } from '../quantities/formatting.ts'

type Step = 'gardens' | 'season' | 'week'

/** The next page of the conversation; the last one is the first week. */
export function nextStep(rows: { readonly gardens: readonly unknown[]; readonly plantings: readonly unknown[] }): Step {
  if (rows.gardens.length === 0) return 'gardens'
  return rows.plantings.length === 0 ? 'season' : 'week'
}

type Cells = Readonly<Record<string, string>>

interface Line {
  readonly at: number
  readonly cells: Cells
}

const startLines = 4
const moreLines = 4

/** The lines of a table as they were typed, and blank ones after them; more where more were asked for. */
export function setUpLines(typed: unknown, more: boolean): Line[] {
  const rows = Object.entries({ ...(typed as Record<string, Cells>) })
  const last = rows.reduce((most, [at]) => Math.max(most, Number(at)), -1)
  const count = Math.max(startLines, last + 1) + (more ? moreLines : 0)
  return Array.from({ length: Math.min(count, 40) }, (_, at) => ({ at, cells: { ...(typed as Cells[])?.[at] } }))
}

/** What is wrong, each at its line and column: the list above the table. */
export function wrongAtCells(
  errors: Readonly<Record<string, string>>,
  columns: Readonly<Record<string, string>>,
  say: (line: number, column: string, message: string) => string,
): Record<string, string> {
  return Object.fromEntries(
    Object.entries(errors).map(([name, message]) => {
      const [rows, line, column = ''] = name.split('.')
      if (rows === 'lies') return [`lies[${line}][${column}]`, message]
      return [name, rows === 'rows' ? say(Number(line) + 1, sent(columns[column]), message) : message]
    }),
  )
}

/** What each garden lies under, as a line of the address: the place of its method in the list, and since when. */
export function packedLies(lies: readonly { readonly method: number; readonly since: number | null }[]): string {
  return lies.map((one) => `${one.method}${one.since === null ? '' : `-${one.since}`}`).join('.')
}

export interface Lie {
  readonly methodId: string
  readonly since: string
}

/** By garden what such a line says; null where it does not speak of each of them. */
export function unpackedLies(
  packed: unknown,
  gardens: readonly { readonly id: string }[],
  methods: readonly { readonly id: string }[],
): ReadonlyMap<string, Lie> | null {
  const parts = typeof packed === 'string' ? packed.split('.') : []
  const lies = new Map<string, Lie>()
  for (const [i, garden] of gardens.entries()) {
    const found = /^(\d{1,2})(?:-(\d{1,4}))?$/.exec(sent(parts[i]))
    const method = methods[Number(found?.[1] ?? Number.NaN)]
    if (!found || !method) return null
    lies.set(garden.id, { methodId: method.id, since: asShown(found[2]) })
  }
  return parts.length === gardens.length ? lies : null
}

interface ShownRows {
  readonly seasonId: string | undefined
  readonly methods: readonly { readonly id: string; readonly name: string }[]
  readonly gardens: readonly { readonly id: string; readonly siteId: string }[]
  readonly beds: readonly { readonly areas: readonly AreaFrom[] }[]
  readonly assignments: readonly { readonly seasonId: string; readonly gardenId: string; readonly methodId: string }[]
  readonly plantings: readonly { readonly seasonId: string; readonly matchedSetId: string | null }[]
}

/**
 * What the layout can show, before any number of statistics: how many gardens each method has, and on how many grounds.
 */
export function shownByLayout(rows: ShownRows, locale: string) {
  const here = rows.assignments.filter((one) => one.seasonId === rows.seasonId)
  const gardensOf = (id: string) => new Set(here.filter((one) => one.methodId === id).map((one) => one.gardenId)).size
  const methods = rows.methods.map((one) => ({ name: one.name, gardens: gardensOf(one.id) }))
  const used = methods.filter((one) => one.gardens > 0)
  const planted = rows.plantings.filter((one) => one.seasonId === rows.seasonId)
  const sets = new Set(planted.flatMap((one) => one.matchedSetId ?? []))
  return {
    kind:
      used.length < 2 ? ('one method' as const) : used.every((one) => one.gardens > 1) ? 'several each' : 'one each',
    alone: used.filter((one) => one.gardens === 1).map((one) => one.name),
    oneGround: new Set(rows.gardens.map((one) => one.siteId)).size === 1,
    sets: sets.size,
    beds: formatArea(
      rows.beds.reduce((sum, one) => sum + areaAtLast(one.areas), 0),
      locale,
    ),
  }
}
