import { lastOf } from '../lookups/nth.ts'
import { textIn } from '../lookups/unsaid.ts'
import type { IsoDate } from '../quantities/dates.ts'
import { formatDay } from '../quantities/formatting.ts'
import { type IsoWeek, mondayOf, weekOf, weeksBetween } from '../quantities/iso-week.ts'
import { type Called, plantingNames } from '../seasons/planting-names.ts'

interface Rows {
  readonly today: IsoDate
  readonly season: {
    readonly id: string
    readonly name: string
    readonly startsOn: IsoDate
    readonly endsOn: IsoDate
    readonly version: number
    readonly closedAt: Date | null
  }
  /** In the order of the walk, as their beds are. */
  readonly gardens: readonly { readonly id: string; readonly name: string }[]
  readonly beds: readonly { readonly id: string; readonly gardenId: string; readonly name: string }[]
  readonly standing: readonly { readonly id: string }[]
  readonly closings: readonly { readonly gardenId: string; readonly isoWeek: IsoWeek; readonly what: string }[]
  readonly planted: readonly (Called & { readonly purpose: string; readonly standsOverSeasons: number })[]
  /** Plantings of which anything was weighed. */
  readonly weighed: ReadonlySet<string>
  readonly losses: readonly {
    readonly id: string
    readonly plantingId: string
    readonly cause: string
    readonly lostOn: IsoDate
  }[]
  readonly unsplit: Record<'crates' | 'hours', readonly { readonly id: string; readonly isoWeek: IsoWeek }[]>
  readonly unpriced: readonly { readonly id: string; readonly name: string; readonly deliveredOn: IsoDate | null }[]
  /** Weighings under labels that are not opened yet: closing the season opens them. */
  readonly sealed: number
  readonly changedSince: number
}

interface At {
  readonly base: string
  readonly locale: string
}

/**
 * What is still open before a season closes, in the order of gardens and beds, each thing with the step that settles
 * it: weeks are closed and plantings cleared here, all of a garden at once; a cause is chosen here; what is a row of
 * its own leads to that row.
 */
export function seasonClosePage(rows: Rows, at: At) {
  const names = plantingNames(rows.planted, at.locale)
  const unmarked = unmarkedLosses(rows)
  const gardens = rows.gardens.map((garden) => ({
    id: garden.id,
    name: garden.name,
    weeks: (['hours', 'weights'] as const).flatMap((what) => openWeeks(rows, { gardenId: garden.id, what, at })),
    ...bedsOpen(rows, garden.id, { names, unmarked, at }),
  }))
  return {
    season: { id: rows.season.id, name: rows.season.name, version: rows.season.version },
    closed: rows.season.closedAt !== null,
    changedSince: rows.changedSince,
    sealed: rows.sealed,
    /** Of all gardens together, hours and weights each. */
    weeks: gardens.reduce((sum, one) => sum + one.weeks.reduce((all, { count }) => all + count, 0), 0),
    gardens: gardens.filter(
      ({ weeks, standing, unmarked: lost, unknown }) =>
        weeks.length + standing.length + lost.length + unknown.length > 0,
    ),
    unpriced: rows.unpriced.map((one) => ({
      name: one.name,
      day: one.deliveredOn ? formatDay(one.deliveredOn, at.locale) : '',
      href: `${at.base}/correct/deliveries/${one.id}`,
    })),
    unsplit: [
      ...rows.unsplit.crates.map((one) => ({ what: 'crates', week: one.isoWeek, href: rowOf('harvests', one, at) })),
      ...rows.unsplit.hours.map((one) => ({ what: 'hours', week: one.isoWeek, href: rowOf('labour', one, at) })),
    ],
  }
}

const rowOf = (kind: string, { id }: { readonly id: string }, { base }: At) => `${base}/correct/${kind}/${id}`

interface OfWeeks {
  readonly gardenId: string
  readonly what: 'hours' | 'weights'
}

/** The weeks of a season that have begun and are not closed for a garden, in their order. */
export function weeksOpen(rows: Pick<Rows, 'season' | 'closings' | 'today'>, { gardenId, what }: OfWeeks): IsoWeek[] {
  const closed = new Set(
    rows.closings.filter((one) => one.gardenId === gardenId && one.what === what).map((one) => one.isoWeek),
  )
  const weeks = weeksBetween(rows.season.startsOn, rows.season.endsOn)
  return weeks.filter((week) => !closed.has(week) && mondayOf(week) <= rows.today)
}

function openWeeks(rows: Rows, { at, ...of }: OfWeeks & { readonly at: At }) {
  const weeks = weeksOpen(rows, of)
  const [first] = weeks
  if (first === undefined) return []
  return [{ what: of.what, count: weeks.length, first, last: lastOf(weeks), href: `${at.base}/weeks/${first}` }]
}

interface Naming {
  readonly names: ReadonlyMap<string, string>
  readonly unmarked: readonly { readonly id: string; readonly clearedOn: IsoDate }[]
  readonly at: At
}

/** Of one garden, bed by bed: what still stands, what was cleared with nothing weighed, losses of unknown cause. */
function bedsOpen({ beds, planted, standing, losses }: Rows, gardenId: string, { names, unmarked, at }: Naming) {
  const here = beds.filter((bed) => bed.gardenId === gardenId)
  const inBeds = <T extends { readonly id: string }>(found: readonly T[]) => {
    const byId = new Map(found.map((one) => [one.id, one]))
    return here.flatMap((bed) =>
      planted.flatMap((one) => {
        const open = one.bedId === bed.id ? byId.get(one.id) : undefined
        return open ? [{ ...open, bed: bed.name, name: textIn(names, one.id) }] : []
      }),
    )
  }
  const unknown = losses.filter((loss) => loss.cause === 'unknown')
  return {
    standing: inBeds(standing).map((one) => ({ id: one.id, bed: one.bed, name: one.name })),
    unmarked: inBeds(unmarked).map((one) => ({
      id: one.id,
      bed: one.bed,
      name: one.name,
      day: formatDay(one.clearedOn, at.locale),
      href: `${at.base}/weeks/${weekOf(one.clearedOn)}/ledger?left=losses#losses`,
    })),
    unknown: inBeds(planted).flatMap(({ id, bed, name }) =>
      unknown.flatMap((loss) =>
        loss.plantingId === id
          ? [{ bed, name, day: formatDay(loss.lostOn, at.locale), href: rowOf('losses', loss, at) }]
          : [],
      ),
    ),
  }
}

/** Cleared, nothing weighed, no loss written down: a yield of zero whose cause nobody has said. */
export function unmarkedLosses({
  season,
  planted,
  weighed,
  losses,
}: Pick<Rows, 'season' | 'planted' | 'weighed' | 'losses'>) {
  const standsOn = (one: Rows['planted'][number]) =>
    one.standsOverSeasons === 1 && one.clearedOn !== null && one.clearedOn > season.endsOn
  const lost = new Set(losses.map((loss) => loss.plantingId))
  return planted.flatMap((one) => {
    const { id, purpose, clearedOn } = one
    const isOpen = purpose === 'harvest' && !standsOn(one) && !weighed.has(id) && !lost.has(id)
    return isOpen && clearedOn !== null ? [{ id, clearedOn }] : []
  })
}
