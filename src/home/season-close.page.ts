import type { IsoDate } from '../quantities/dates.ts'
import { formatDay } from '../quantities/formatting.ts'
import type { IsoWeek } from '../quantities/iso-week.ts'
import { weekOf, weeksBetween } from '../quantities/iso-week.ts'
import { type Called, plantingNames } from '../seasons/planting-names.ts'

interface Rows {
  readonly season: {
    readonly id: string
    readonly name: string
    readonly startsOn: IsoDate
    readonly endsOn: IsoDate
    readonly version: number
    readonly closedAt: Date | null
  }
  readonly gardens: readonly { id: string; name: string }[]
  readonly standing: readonly { id: string }[]
  readonly closings: readonly { gardenId: string; isoWeek: IsoWeek; what: string }[]
  readonly planted: readonly (Called & { purpose: string; standsOverSeasons: number })[]
  /** Plantings of which anything was weighed. */
  readonly weighed: ReadonlySet<string>
  readonly losses: readonly { id: string; plantingId: string; cause: string; lostOn: IsoDate; isoWeek: IsoWeek }[]
  readonly unsplit: Record<'crates' | 'hours', readonly { id: string; isoWeek: IsoWeek }[]>
  readonly unpriced: readonly { name: string; deliveredOn: IsoDate | null }[]
  /** Weighings under labels that are not opened yet: closing the season opens them. */
  readonly sealed: number
  readonly changedSince: number
}

/** What is still open before a season closes, each thing with the address where it is settled. */
export function seasonClosePage(rows: Rows, base: string, locale: string) {
  const weeks = weeksBetween(rows.season.startsOn, rows.season.endsOn)
  const names = plantingNames(rows.planted, locale)
  const openOf = (what: string) =>
    rows.gardens.flatMap((garden) => {
      const closed = new Set(
        rows.closings.filter((one) => one.gardenId === garden.id && one.what === what).map((one) => one.isoWeek),
      )
      const open = weeks.filter((week) => !closed.has(week))
      return open.length === 0
        ? []
        : [{ garden: garden.name, weeks: open.length, first: open[0] ?? '', href: `${base}/weeks/${open[0]}` }]
    })
  return {
    season: { id: rows.season.id, name: rows.season.name, version: rows.season.version },
    closed: rows.season.closedAt !== null,
    changedSince: rows.changedSince,
    sealed: rows.sealed,
    hours: openOf('hours'),
    weights: openOf('weights'),
    standing: rows.standing.map((one) => ({
      name: names.get(one.id) ?? '',
      href: `${base}/correct/plantings/${one.id}`,
    })),
    unpriced: rows.unpriced.map((one) => ({
      name: one.name,
      day: one.deliveredOn ? formatDay(one.deliveredOn, locale) : '',
    })),
    unmarked: unmarkedLosses(rows).map((one) => ({
      name: names.get(one.id) ?? '',
      href: `${base}/weeks/${weekOf(one.clearedOn)}/ledger?left=losses#losses`,
    })),
    unsplit: (['crates', 'hours'] as const).flatMap((what) =>
      rows.unsplit[what].map((one) => ({ what, week: one.isoWeek, href: `${base}/weeks/${one.isoWeek}` })),
    ),
    losses: rows.losses
      .filter((loss) => loss.cause === 'unknown')
      .map((loss) => ({ day: formatDay(loss.lostOn, locale), href: `${base}/correct/losses/${loss.id}` })),
  }
}

/** Cleared, nothing weighed, no loss written down: a yield of zero whose cause nobody has said. */
function unmarkedLosses({ season, planted, weighed, losses }: Rows) {
  const standsOn = (one: Rows['planted'][number]) =>
    one.standsOverSeasons === 1 && one.clearedOn !== null && one.clearedOn > season.endsOn
  const lost = new Set(losses.map((loss) => loss.plantingId))
  return planted.flatMap((one) => {
    const { id, purpose, clearedOn } = one
    const isOpen = purpose === 'harvest' && !standsOn(one) && !weighed.has(id) && !lost.has(id)
    return isOpen && clearedOn !== null ? [{ id, clearedOn }] : []
  })
}
