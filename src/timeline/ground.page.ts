import { type AreaFrom, lyingOn } from '../gardens/areas-held.ts'
import type { IsoDate } from '../quantities/dates.ts'
import { formatArea, formatDay } from '../quantities/formatting.ts'

/** What of a garden's ground the page needs: its beds with their areas, and the rows that say when they changed. */
interface GroundRows {
  readonly garden: { readonly id: string; readonly name: string; readonly areas: readonly AreaFrom[] }
  readonly beds: readonly { readonly id: string; readonly name: string; readonly areas: readonly AreaFrom[] }[]
  readonly ofBeds: readonly { readonly id: string; readonly bedId: string; readonly fromDay: IsoDate }[]
  readonly ofGarden: readonly { readonly id: string; readonly fromDay: IsoDate; readonly grossAreaCm2: number }[]
}

type GroundEvent = 'began' | 'grew' | 'shrank' | 'gave up' | 'garden'

interface Line {
  readonly fromDay: IsoDate
  readonly day: string
  readonly what: GroundEvent
  readonly bed: string
  readonly before: string
  readonly area: string
  /** Where the row that says so is corrected. */
  readonly kind: 'beds' | 'bed-areas' | 'garden-areas'
  readonly id: string
}

/** What the ground of a garden was from which day on, the latest first, and the beds that are there on a day. */
export function groundPage(rows: GroundRows, { locale, today }: { readonly locale: string; readonly today: IsoDate }) {
  const area = (cm2: number) => formatArea(cm2, locale)
  const line = (fromDay: IsoDate, more: Omit<Line, 'fromDay' | 'day'>): Line => ({
    fromDay,
    day: formatDay(fromDay, locale),
    ...more,
  })
  const ofBeds = rows.beds.flatMap((bed) =>
    bed.areas.flatMap(({ from, areaCm2 }, i): Line[] => {
      if (from === null) return []
      const before = bed.areas[i - 1]?.areaCm2
      const said = { bed: bed.name, before: before === undefined ? '' : area(before), area: area(areaCm2) }
      if (before === undefined) return [line(from, { ...said, what: 'began', kind: 'beds', id: bed.id })]
      const row = rows.ofBeds.find((one) => one.bedId === bed.id && one.fromDay === from)
      const what = areaCm2 === 0 ? 'gave up' : areaCm2 > before ? 'grew' : 'shrank'
      return row ? [line(from, { ...said, what, kind: 'bed-areas', id: row.id })] : []
    }),
  )
  const ofGarden = rows.ofGarden.flatMap(({ id, fromDay, grossAreaCm2 }, i) => {
    const before = rows.garden.areas[i]
    if (!before) return []
    const said = { bed: rows.garden.name, before: area(before.areaCm2), area: area(grossAreaCm2) }
    return [line(fromDay, { ...said, what: 'garden', kind: 'garden-areas', id })]
  })
  return {
    garden: { id: rows.garden.id, name: rows.garden.name },
    lines: [...ofBeds, ...ofGarden].sort((a, b) => (a.fromDay < b.fromDay ? 1 : a.fromDay > b.fromDay ? -1 : 0)),
    beds: lyingOn(rows.beds, today).map(({ id, name, areaCm2 }) => ({ value: id, label: `${name}, ${area(areaCm2)}` })),
  }
}
