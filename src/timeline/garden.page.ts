import { type AreaFrom, areaOn, lyingOn, sumOfAreas } from '../gardens/areas-held.ts'
import { linkOf, nameIfAny, sent, textIn } from '../lookups/unsaid.ts'
import { daysBetween, type IsoDate } from '../quantities/dates.ts'
import { formatArea, formatAsWritten, formatDay, formatKilograms, formatNumber } from '../quantities/formatting.ts'
import { inBedFrom } from '../seasons/bed-course.ts'
import { catalogue } from '../words/catalogue.ts'
import { monthShown, monthsOf } from './by-month.ts'
import { askedOf, type GardenGround, type Happened, happenedOn, type YearAsked } from './happened.ts'

interface GardenRows extends GardenGround {
  readonly garden: { readonly id: string; readonly name: string; readonly areas: readonly AreaFrom[] }
  readonly site: string
  readonly beds: readonly { id: string; name: string; areas: readonly AreaFrom[]; blockId: string | null }[]
  readonly blocks: readonly { id: string; name: string }[]
  readonly methods: readonly { id: string; name: string }[]
  readonly seasons: readonly { id: string; name: string }[]
  readonly assignments: readonly { seasonId: string; bedId: string | null; methodId: string; phase: string }[]
}

interface AskedMonth extends YearAsked {
  readonly season: (NonNullable<YearAsked['season']> & { readonly id: string }) | null
  /** "2026-02", "all" or blank. */
  readonly month: string
}

/** A garden's beds with what stands in each, and what happened there as dated events with the days that lie between. */
export function gardenPage(rows: GardenRows, asked: AskedMonth, locale: string, today: IsoDate) {
  const beds = lyingOn(rows.beds, today)
  const bedName = new Map(rows.beds.map((bed) => [bed.id, bed.name]))
  const named = <T extends { id: string; name: string }>(list: readonly T[], id: string | null) =>
    nameIfAny(list.find((one) => one.id === id))
  const happened = happenedOn(rows, today)
  const ofAsked = askedOf(happened, asked)
  const month = monthShown(ofAsked, { month: asked.month, today })
  const events = month === null ? ofAsked : ofAsked.filter((one) => one.date.startsWith(month))
  return {
    garden: { id: rows.garden.id, name: rows.garden.name, site: rows.site },
    gross: formatArea(areaOn(rows.garden.areas, today), locale),
    bedArea: formatArea(sumOfAreas(beds), locale),
    beds: beds.map((bed) => ({
      id: bed.id,
      name: bed.name,
      area: formatArea(bed.areaCm2, locale),
      block: named(rows.blocks, bed.blockId),
      standing: rows.plantings
        .filter((one) => one.bedId === bed.id && inBedFrom(one) <= today && (one.clearedOn ?? today) >= today)
        .map((one) => `${rows.names.get(one.id)}, ${formatArea(one.areaCm2, locale)}`),
    })),
    assignments: rows.assignments.map((one) => ({
      season: named(rows.seasons, one.seasonId),
      bed: one.bedId === null ? null : textIn(bedName, one.bedId),
      method: named(rows.methods, one.methodId),
      phase: one.phase,
    })),
    months: monthLinks(monthsOf(ofAsked), { asked, month, locale }),
    nothingYet: happened.length === 0,
    shown: formatNumber(events.length, locale, 0),
    inAll: formatNumber(happened.length, locale, 0),
    events: events.map((event, i) => ({
      what: event.what,
      day: formatDay(event.date, locale),
      after: i === 0 ? null : daysBetween(events[i - 1]?.date ?? event.date, event.date),
      told: {
        bed: textIn(bedName, linkOf(event.bedId)),
        subject: event.subject,
        planned: event.planned,
        ...figuresOf(event, locale),
      },
    })),
  }
}

/** A choice only where there is more than one month; the last link shows all of them. */
function monthLinks(
  months: readonly string[],
  { asked, month, locale }: { asked: AskedMonth; month: string | null; locale: string },
) {
  if (months.length < 2) return []
  const name = new Intl.DateTimeFormat(locale, { month: 'short', year: 'numeric', timeZone: 'UTC' })
  const query = `kind=${sent(asked.kind)}&season=${asked.season?.id ?? 'all'}`
  return [...months, 'all'].map((one) => ({
    label: one === 'all' ? catalogue.timeline.allMonths : name.format(new Date(`${one}-01T00:00:00Z`)),
    address: `?${query}&month=${one}#year`,
    current: one === (month ?? 'all'),
  }))
}

/** What its sentence tells beside the bed and the subject. */
function figuresOf(event: Happened, locale: string): Record<string, string | number | boolean | null> {
  const number = (value: number, decimals: number) => formatNumber(value, locale, decimals)
  switch (event.what) {
    case 'sown':
    case 'planted':
      return { amount: formatArea(event.areaCm2, locale) }
    case 'picked':
      return {
        week: event.isoWeek,
        good: formatKilograms(event.marketableG, locale),
        bad: event.unmarketableG > 0 ? formatKilograms(event.unmarketableG, locale) : null,
      }
    case 'lost':
      return { amount: `${number(event.sharePermille / 10, 0)} %`, cause: event.cause }
    case 'covered':
      return { material: event.material }
    case 'spread':
      return { amount: `${number(event.quantityThousandths / 1000, 1)} ${event.unit}` }
    case 'sownAfter':
      return { days: event.days, after: event.after }
    case 'noted':
      return { noteKind: event.noteKind, severity: event.severity }
    case 'counted':
      return {
        method: event.method,
        unit: event.unit,
        value: formatAsWritten(event.value, locale),
        outOf: event.outOf === null ? null : formatAsWritten(event.outOf, locale),
        planting: event.planting,
      }
    case 'patch':
      return {
        amount: event.areaCm2 === null ? null : formatArea(event.areaCm2, locale),
        cover: event.coverPermille === null ? null : number(event.coverPermille / 10, event.coverPermille % 10 ? 1 : 0),
        shoots: event.shootsPerM2 === null ? null : number(event.shootsPerM2, 0),
      }
    case 'tested':
      return {
        value: formatAsWritten(event.value, locale),
        unit: event.unit,
        extractant: event.extractant,
        laboratory: event.laboratory,
        wholeSite: event.wholeSite,
        depth: event.depthMm === null ? null : number(event.depthMm / 10, event.depthMm % 10 ? 1 : 0),
      }
    default:
      return {}
  }
}
