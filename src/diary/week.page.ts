import type { IsoDate } from '../quantities/dates.ts'
import { formatArea, formatDay, formatHours, formatKilograms } from '../quantities/formatting.ts'
import { daysOf, type IsoWeek, weekAfter } from '../quantities/iso-week.ts'

export interface WeekRows {
  readonly week: IsoWeek
  readonly locale: string
  readonly gardens: readonly { id: string; name: string }[]
  readonly beds: readonly { id: string; gardenId: string; name: string }[]
  readonly plantings: readonly PlantingOfWeek[]
  readonly containers: readonly { id: string; name: string; tareG: number }[]
  readonly closings: readonly { gardenId: string; what: string }[]
  readonly labour: readonly {
    id: string
    gardenId: string | null
    task: string
    personMinutes: number
    people: number
    workedOn: string | null
  }[]
  readonly harvests: readonly {
    id: string
    plantingId: string | null
    harvestedOn: string
    marketableG: number
    unmarketableG: number
    unmarketableReason: string | null
  }[]
  readonly losses: readonly { id: string; plantingId: string; lostOn: string; sharePermille: number; cause: string }[]
}

export interface PlantingOfWeek {
  readonly id: string
  readonly bedId: string
  readonly crop: string
  readonly cultivar: string
  readonly areaCm2: number
  readonly sownOn: string | null
  readonly plantedOn: string | null
  readonly clearedOn: string | null
}

/** One week as it is read and written: what stands now comes first. */
export function weekPage(rows: WeekRows) {
  const { week, locale } = rows
  const days = daysOf(week)
  const [monday, sunday] = [days[0] ?? '', days[6] ?? '']
  const gardenName = new Map(rows.gardens.map((garden) => [garden.id, garden.name]))
  const names = new Map(rows.plantings.map((planting) => [planting.id, nameOf(planting, rows, gardenName)]))
  const day = (date: string) => formatDay(date, locale)
  return {
    week,
    from: day(monday),
    to: day(sunday),
    before: weekAfter(week, -1),
    after: weekAfter(week, 1),
    labour: rows.labour.map((entry) => ({
      key: `labour:${entry.id}`,
      garden: gardenName.get(entry.gardenId ?? '') ?? null,
      task: entry.task,
      time: formatHours(entry.personMinutes, locale),
      people: String(entry.people),
      day: entry.workedOn ? day(entry.workedOn) : '',
    })),
    harvests: rows.harvests.map((harvest) => ({
      key: `harvests:${harvest.id}`,
      planting: names.get(harvest.plantingId ?? '') ?? null,
      good: formatKilograms(harvest.marketableG, locale),
      bad: formatKilograms(harvest.unmarketableG, locale),
      why: harvest.unmarketableReason ?? '',
      day: day(harvest.harvestedOn),
    })),
    losses: rows.losses.map((loss) => ({
      key: `losses:${loss.id}`,
      planting: names.get(loss.plantingId) ?? '',
      share: `${loss.sharePermille / 10} %`,
      cause: loss.cause,
      day: day(loss.lostOn),
    })),
    gardens: rows.gardens.map((garden) => ({
      id: garden.id,
      name: garden.name,
      hoursClosed: isClosed(rows, garden.id, 'hours'),
      weightsClosed: isClosed(rows, garden.id, 'weights'),
    })),
    gardenChoices: rows.gardens.map(({ id, name }) => ({ value: id, label: name })),
    plantingChoices: standingIn(rows, monday, sunday).map((planting) => ({
      value: planting.id,
      label: `${names.get(planting.id)}, ${formatArea(planting.areaCm2, locale)}`,
    })),
    containerChoices: rows.containers.map(({ id, name, tareG }) => ({
      value: id,
      label: `${name} (${formatKilograms(tareG, locale)})`,
    })),
    days: days.map((date: IsoDate) => ({ value: date, label: day(date) })),
  }
}

const isClosed = (rows: WeekRows, gardenId: string, what: string) =>
  rows.closings.some((closing) => closing.gardenId === gardenId && closing.what === what)

function standingIn(rows: WeekRows, monday: string, sunday: string): PlantingOfWeek[] {
  return rows.plantings.filter(
    (planting) =>
      (planting.sownOn ?? planting.plantedOn ?? sunday) <= sunday &&
      (planting.clearedOn === null || planting.clearedOn >= monday),
  )
}

function nameOf(planting: PlantingOfWeek, rows: WeekRows, gardenName: Map<string, string>): string {
  const bed = rows.beds.find((one) => one.id === planting.bedId)
  return `${planting.crop}, ${planting.cultivar} · ${gardenName.get(bed?.gardenId ?? '') ?? ''}, ${bed?.name ?? ''}`
}
