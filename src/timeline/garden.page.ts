import { daysBetween, type IsoDate } from '../quantities/dates.ts'
import { formatArea, formatDay, formatNumber } from '../quantities/formatting.ts'

interface Planting {
  readonly id: string
  readonly bedId: string
  readonly crop: string
  readonly cultivar: string
  readonly areaCm2: number
  readonly how: string
  readonly sownOn: string | null
  readonly plantedOn: string | null
  readonly clearedOn: string | null
}

export interface GardenRows {
  readonly garden: { readonly id: string; readonly name: string; readonly grossAreaCm2: number }
  readonly site: string
  readonly beds: readonly { id: string; name: string; areaCm2: number; blockId: string | null }[]
  readonly blocks: readonly { id: string; name: string }[]
  readonly methods: readonly { id: string; name: string }[]
  readonly seasons: readonly { id: string; name: string }[]
  readonly assignments: readonly { seasonId: string; bedId: string | null; methodId: string; phase: string }[]
  readonly plantings: readonly Planting[]
  readonly losses: readonly { plantingId: string; lostOn: string; sharePermille: number; cause: string }[]
  readonly closures: readonly { bedId: string; fromDay: string; toDay: string | null; why: string }[]
  readonly spreadings: readonly {
    bedId: string | null
    day: string
    quantityThousandths: number
    input: string
    unit: string
  }[]
}

/** What happened, as a code with its figures: the sentence for it stands in the catalogue. */
export interface Event {
  readonly date: string
  readonly what: 'sown' | 'planted' | 'cleared' | 'lost' | 'spread' | 'covered' | 'uncovered'
  readonly bed: string
  readonly subject: string
  readonly amount: string
}

/** A garden's beds with what stands in each, and its year as dated events with the days that lie between. */
export function gardenPage(rows: GardenRows, locale: string, today: string) {
  const bedName = new Map(rows.beds.map((bed) => [bed.id, bed.name]))
  const name = (one: { crop: string; cultivar: string }) => `${one.crop}, ${one.cultivar}`
  const named = <T extends { id: string; name: string }>(list: readonly T[], id: string | null) =>
    list.find((one) => one.id === id)?.name ?? ''
  const events = eventsOf(rows, bedName, locale).sort((a, b) => (a.date < b.date ? -1 : a.date > b.date ? 1 : 0))
  return {
    garden: { id: rows.garden.id, name: rows.garden.name, site: rows.site },
    gross: formatArea(rows.garden.grossAreaCm2, locale),
    bedArea: formatArea(
      rows.beds.reduce((sum, bed) => sum + bed.areaCm2, 0),
      locale,
    ),
    beds: rows.beds.map((bed) => ({
      id: bed.id,
      name: bed.name,
      area: formatArea(bed.areaCm2, locale),
      block: named(rows.blocks, bed.blockId),
      standing: rows.plantings
        .filter((one) => one.bedId === bed.id && inBedFrom(one) <= today && (one.clearedOn ?? today) >= today)
        .map((one) => `${name(one)}, ${formatArea(one.areaCm2, locale)}`),
    })),
    assignments: rows.assignments.map((one) => ({
      season: named(rows.seasons, one.seasonId),
      bed: one.bedId === null ? null : (bedName.get(one.bedId) ?? ''),
      method: named(rows.methods, one.methodId),
      phase: one.phase,
    })),
    events: events.map((event, i) => ({
      ...event,
      day: formatDay(event.date, locale),
      after: i === 0 ? null : daysBetween((events[i - 1]?.date ?? event.date) as IsoDate, event.date as IsoDate),
    })),
  }
}

/** The day from which a planting takes room in its bed: what was raised elsewhere comes in when it is planted out. */
export const inBedFrom = (one: { how: string; sownOn: string | null; plantedOn: string | null }): string =>
  (one.how === 'transplanted' ? (one.plantedOn ?? one.sownOn) : (one.sownOn ?? one.plantedOn)) ?? ''

function eventsOf(rows: GardenRows, bedName: Map<string, string>, locale: string): Event[] {
  const plantings = new Map(rows.plantings.map((one) => [one.id, one]))
  const bed = (id: string | null | undefined) => bedName.get(id ?? '') ?? ''
  const subject = (one: Planting | undefined) => (one ? `${one.crop}, ${one.cultivar}` : '')
  return [
    ...rows.plantings.flatMap((one): Event[] => {
      const at = { bed: bed(one.bedId), subject: subject(one), amount: formatArea(one.areaCm2, locale) }
      const [sown, planted, cleared] = [one.sownOn, one.plantedOn, one.clearedOn]
      return [
        ...(sown ? [{ ...at, date: sown, what: 'sown' as const }] : []),
        ...(planted ? [{ ...at, date: planted, what: 'planted' as const }] : []),
        ...(cleared ? [{ ...at, date: cleared, what: 'cleared' as const }] : []),
      ]
    }),
    ...rows.losses.map((loss): Event => {
      const one = plantings.get(loss.plantingId)
      const amount = `${formatNumber(loss.sharePermille / 10, locale, 0)} %`
      return { date: loss.lostOn, what: 'lost', bed: bed(one?.bedId), subject: subject(one), amount }
    }),
    ...rows.spreadings.map((one): Event => {
      const amount = `${formatNumber(one.quantityThousandths / 1000, locale, 1)} ${one.unit}`
      return { date: one.day, what: 'spread', bed: bed(one.bedId), subject: one.input, amount }
    }),
    ...rows.closures.flatMap((one): Event[] => [
      { date: one.fromDay, what: 'covered', bed: bed(one.bedId), subject: one.why, amount: '' },
      ...(one.toDay
        ? [{ date: one.toDay, what: 'uncovered' as const, bed: bed(one.bedId), subject: '', amount: '' }]
        : []),
    ]),
  ]
}
