import { firstOf, lastOf } from '../lookups/nth.ts'
import { formatDay } from '../quantities/formatting.ts'
import { daysOf, type IsoWeek } from '../quantities/iso-week.ts'
import { type Called, plantingNames } from '../seasons/planting-names.ts'

interface LabelRows {
  readonly week: IsoWeek
  readonly locale: string
  readonly gardens: readonly { id: string; name: string }[]
  readonly beds: readonly { id: string; gardenId: string; name: string }[]
  readonly plantings: readonly Called[]
  readonly labels: readonly { id: string; plantingId: string; label: string; sealed: boolean }[]
  readonly closed: ReadonlySet<string>
  /** Cleared plantings whose counting weight is still to come. */
  readonly stillToWeigh: ReadonlySet<string>
  /** Plantings that were weighed or read in this week: by their name, where they have no label. */
  readonly weighed: ReadonlySet<string>
}

/** Which crate gets which label, garden by garden as they are walked; and what stands and has none. */
export function labelsPage(rows: LabelRows) {
  const { week, locale, gardens, beds, plantings, labels, closed, weighed, stillToWeigh } = rows
  const days = daysOf(week)
  const [monday, sunday] = [firstOf(days), lastOf(days)]
  const names = plantingNames(plantings, locale)
  const walked = gardens.flatMap((garden) =>
    beds
      .filter((bed) => bed.gardenId === garden.id)
      .flatMap((bed) =>
        plantings
          .filter((one) => one.bedId === bed.id)
          .map((one) => ({ ...one, garden, name: `${garden.name}, ${bed.name}: ${names.get(one.id)}` })),
      ),
  )
  const of = new Map(labels.map((one) => [one.plantingId, one]))
  const stands = (one: (typeof walked)[number]) =>
    (one.sownOn ?? one.plantedOn ?? sunday) <= sunday &&
    (one.clearedOn === null || one.clearedOn >= monday || stillToWeigh.has(one.id))
  return {
    week,
    from: formatDay(monday, locale),
    to: formatDay(sunday, locale),
    labels: walked.flatMap(({ id, name }) => {
      const own = of.get(id)
      return own ? [{ planting: name, label: own.label, sealed: own.sealed }] : []
    }),
    /** To cut out: in the order of the letters, which tells nothing. */
    slips: labels.filter((one) => one.sealed).map((one) => one.label),
    standing: labels.map(({ id, label }) => ({ value: id, label })),
    choices: walked
      .filter((one) => stands(one) && !of.has(one.id) && !closed.has(one.garden.id) && !weighed.has(one.id))
      .map(({ id, name }) => ({ value: id, label: name })),
  }
}
