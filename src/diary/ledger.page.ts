import type { ManureWait, PickedTooSoon } from '../inputs/manure-interval.ts'
import { rowWith } from '../lookups/rows-with.ts'
import { asShown, linked, linkOf, nameIfAny, numberIn, textIn } from '../lookups/unsaid.ts'
import { addDays, type IsoDate } from '../quantities/dates.ts'
import {
  formatArea,
  formatDay,
  formatHours,
  formatKilograms,
  formatNumber,
  formatWeekday,
} from '../quantities/formatting.ts'
import { daysOf, type IsoWeek, mondayOf, weekAfter } from '../quantities/iso-week.ts'
import { type Called, plantingNames } from '../seasons/planting-names.ts'
import { catalogue } from '../words/catalogue.ts'
import { underLabel } from './crate-label.ts'
import { weeksOfLately } from './lately.ts'
import { asWalked, inSheetOrder } from './sheet-order.ts'
import { lostTwinsOf, twinsOf } from './twins-of-week.ts'
import { type LotWeighed, stateSaid, type WeighedNoted, weighingNotes } from './weighing-notes.page.ts'

interface Labour {
  readonly id: string
  readonly gardenId: string | null
  readonly bedId: string | null
  readonly plantingId: string | null
  readonly shareRule: string | null
  /** The beds that it was done on, where they are several of one garden. */
  readonly overBeds: readonly string[]
  readonly phase: string | null
  readonly task: string
  readonly personMinutes: number
  readonly people: number
  readonly workedOn: IsoDate | null
  readonly who: string | null
}

interface Harvest extends WeighedNoted {
  readonly id: string
  readonly unmarketableReason: string | null
}

interface WeekRows {
  readonly week: IsoWeek
  readonly locale: string
  readonly gardens: readonly { id: string; name: string }[]
  readonly beds: readonly { id: string; gardenId: string; name: string }[]
  readonly bedsThere: readonly { id: string; gardenId: string; name: string }[]
  readonly seasons: readonly { id: string; name: string; startsOn: IsoDate; endsOn: IsoDate }[]
  readonly plantings: readonly PlantingOfWeek[]
  readonly containers: readonly { id: string; name: string; tareG: number }[]
  readonly closings: readonly { gardenId: string; what: string }[]
  readonly labour: readonly Labour[]
  readonly harvests: readonly Harvest[]
  readonly losses: readonly { id: string; plantingId: string; lostOn: IsoDate; sharePermille: number; cause: string }[]
  readonly lastWeek: { readonly labour: readonly Labour[]; readonly harvests: readonly Harvest[] }
  /** The day on which each planting was last picked. */
  readonly lastUsed: { readonly picked: ReadonlyMap<string, string> }
  /** How long picking waits after raw manure, and what of this week was picked sooner. */
  readonly waits: readonly ManureWait[]
  readonly tooSoon: readonly PickedTooSoon[]
  /** Labels by planting that are not opened yet: the planting behind them is not told. */
  readonly sealed: ReadonlyMap<string, string>
  /** Sealed labels of the week before: its weights are not told either. */
  readonly sealedBefore: ReadonlyMap<string, string>
  /**
   * Gardens whose weights this person may neither close nor reopen: their crates have labels, and a keeper opens those.
   */
  readonly keeperCloses: ReadonlySet<string>
  readonly secondReadings: readonly { readonly id: string; readonly plantingId: string }[]
  /** What is wholly lost by now, in whatever week. */
  readonly gone: readonly { readonly plantingId: string }[]
  /** Weighings that may be weighed again, the latest first. */
  readonly lots: readonly LotWeighed[]
  /** The days on which what grows again was cut. */
  readonly cuts: readonly { readonly plantingId: string; readonly seasonId: string; readonly day: string }[]
  /** Cleared plantings of open seasons of which nothing was weighed yet in the state that counts. */
  readonly stillToWeigh: ReadonlySet<string>
  /** What a person looks for among the plantings; blank for all. */
  readonly find: string
}

interface PlantingOfWeek extends Called {
  /** The state that counts for yield; null where it is fresh from the bed. */
  readonly weighedAs: string | null
  readonly matchedSetId: string | null
  readonly areaCm2: number
}

/** One week as it is read and written: what was picked last comes first. */
export function ledgerPage(rows: WeekRows) {
  const { week, locale } = rows
  const days = daysOf(week)
  const [monday, sunday] = [mondayOf(week), addDays(mondayOf(week), 6)]
  const gardenName = new Map(rows.gardens.map((garden) => [garden.id, garden.name]))
  const names = namesIn(rows, gardenName)
  const day = (date: string) => formatDay(date, locale)
  const standing = standingIn(rows, monday, sunday)
  const all = inOrder(standing, rows, names).map((planting) => ({
    value: planting.id,
    label: labelOf(planting, rows, names),
  }))
  const choices = all.filter((one) => !rows.sealed.has(one.value))
  return {
    week,
    from: day(monday),
    to: day(sunday),
    before: weekAfter(week, -1),
    after: weekAfter(week, 1),
    labour: inSheetOrder(rows.labour, rows.gardens, (one) => gardenOf(one, rows)).map((entry) => ({
      id: entry.id,
      key: `labour:${entry.id}`,
      place: placeNamed(entry, rows, gardenName, names),
      shareRule: entry.overBeds.length > 0 ? null : entry.shareRule,
      byGround: entry.phase === null,
      task: entry.task,
      time: formatHours(entry.personMinutes, locale),
      people: String(entry.people),
      who: asShown(entry.who),
      day: entry.workedOn ? day(entry.workedOn) : '',
    })),
    harvests: asWalked(rows.harvests, rows, (one) => one.harvestedOn).map((harvest) => ({
      id: harvest.id,
      key: `harvests:${harvest.id}`,
      planting: weighedOf(harvest.plantingId, rows, names),
      notes: harvest.plantingId !== null && rows.sealed.has(harvest.plantingId) ? [] : weighingNotes(harvest, rows),
      good: formatKilograms(harvest.marketableG, locale),
      bad: formatKilograms(harvest.unmarketableG, locale),
      why: asShown(harvest.unmarketableReason),
      day: day(harvest.harvestedOn),
    })),
    losses: asWalked(rows.losses, rows, (one) => one.lostOn).map((loss) => ({
      id: loss.id,
      key: `losses:${loss.id}`,
      planting: textIn(names, loss.plantingId),
      share: `${formatNumber(loss.sharePermille / 10, locale, 0)} %`,
      cause: loss.cause,
      day: day(loss.lostOn),
    })),
    tooSoon: rows.tooSoon.map((one) => ({
      planting: textIn(names, one.plantingId),
      input: one.input,
      days: one.days,
      waited: one.waited,
      notKnown: one.touchesSoil === null,
      picked: day(one.harvestedOn),
      on: day(one.appliedOn),
      earliest: day(one.earliest),
    })),
    waiting: rows.waits
      .filter((wait) => wait.earliest > monday && standing.some((one) => one.id === wait.plantingId))
      .map(({ plantingId, input, appliedOn, days, earliest, touchesSoil }) => ({
        notKnown: touchesSoil === null,
        planting: textIn(names, plantingId),
        input,
        days,
        on: day(appliedOn),
        earliest: day(earliest),
      })),
    twins: twinsOf(rows, standing).map((planting) => textIn(names, planting.id)),
    lostTwins: lostTwinsOf(rows, standing).map((planting) => textIn(names, planting.id)),
    gardens: rows.gardens.map((garden) => ({
      id: garden.id,
      name: garden.name,
      hoursClosed: isClosed(rows, garden.id, 'hours'),
      weightsClosed: isClosed(rows, garden.id, 'weights'),
      hoursHeld: false,
      weightsHeld: rows.keeperCloses.has(garden.id),
    })),
    hoursBefore: rows.gardens.flatMap(({ id, name }) => {
      const own = rows.lastWeek.labour.filter((entry) => gardenOf(entry, rows) === id)
      const minutes = own.reduce((sum, entry) => sum + entry.personMinutes, 0)
      return own.length === 0 ? [] : [catalogue.diary.lastWeek(name, formatHours(minutes, locale))]
    }),
    placeChoices: placesIn(rows, standing, names),
    plantingChoices: choices,
    lotChoices: rows.lots
      .filter((one) => one.harvestedOn <= sunday && !rows.harvests.some((own) => own.sameLotAs === one.id))
      .map((one) => ({
        value: one.id,
        label:
          `${textIn(names, one.plantingId)}: ${formatKilograms(one.grams, locale)}, ${stateSaid(one)}, ` +
          `${day(one.harvestedOn)}`,
      })),
    stillToWeigh: rows.plantings.filter((one) => rows.stillToWeigh.has(one.id)).map((one) => textIn(names, one.id)),
    everyPlanting: all,
    sealed: rows.sealed.size,
    secondChoices: [
      ...[...rows.sealed.values()].map((label) => ({
        value: `${underLabel}${label}`,
        label: catalogue.weighing.labelled(label),
      })),
      ...choices,
    ],
    secondReadings: rows.secondReadings.map(({ id, plantingId }) => ({
      id,
      planting: asShown(weighedOf(plantingId, rows, names)),
    })),
    nothingFound: rows.find !== '' && all.length === 0,
    find: rows.find,
    containerChoices: rows.containers.map(({ id, name, tareG }) => ({
      value: id,
      label: `${name} (${formatKilograms(tareG, locale)})`,
    })),
    containers: rows.containers.map(({ id, name, tareG }) => ({ id, name, weight: formatKilograms(tareG, locale) })),
    days: days.map((date: IsoDate) => ({ value: date, label: formatWeekday(date, locale) })),
    seasonChoices: days.every((date) => rows.seasons.some((one) => one.startsOn <= date && date <= one.endsOn))
      ? []
      : rows.seasons.map(({ id, name }) => ({ value: id, label: name })),
  }
}

const isClosed = (rows: WeekRows, gardenId: string, what: string) =>
  rows.closings.some((closing) => closing.gardenId === gardenId && closing.what === what)

function standingIn(rows: WeekRows, monday: string, sunday: string): PlantingOfWeek[] {
  return rows.plantings.filter(
    (planting) =>
      (planting.sownOn ?? planting.plantedOn ?? sunday) <= sunday &&
      (planting.clearedOn === null || planting.clearedOn >= monday || rows.stillToWeigh.has(planting.id)),
  )
}

/** What was picked within three weeks first, latest before; then the rest in the order of the walk. */
function inOrder(standing: readonly PlantingOfWeek[], rows: WeekRows, names: Map<string, string>): PlantingOfWeek[] {
  const words = rows.find.toLowerCase().split(/\s+/).filter(Boolean)
  const walk = new Map(rows.gardens.map((garden, place) => [garden.id, place]))
  const place = (one: PlantingOfWeek) => numberIn(walk, linkOf(rowWith(rows.beds, 'id', one.bedId)?.gardenId))
  const recent = addDays(mondayOf(rows.week), -7 * weeksOfLately)
  const picked = (one: PlantingOfWeek) => {
    const last = textIn(rows.lastUsed.picked, one.id)
    return last >= recent ? last : ''
  }
  return standing
    .filter((one) => words.every((word) => textIn(names, one.id).toLowerCase().includes(word)))
    .sort((a, b) => (picked(a) === picked(b) ? place(a) - place(b) : picked(a) > picked(b) ? -1 : 1))
}

/** The name of what was weighed, or its label while that is sealed. */
function weighedOf(plantingId: string | null, rows: WeekRows, names: Map<string, string>): string | null {
  const label = linked(rows.sealed, plantingId)
  return label === undefined ? (linked(names, plantingId) ?? null) : catalogue.weighing.labelled(label)
}

function labelOf(planting: PlantingOfWeek, rows: WeekRows, names: Map<string, string>): string {
  const told = rows.sealedBefore.has(planting.id) ? [] : rows.lastWeek.harvests
  const grams = told
    .filter((harvest) => harvest.plantingId === planting.id)
    .reduce((sum, harvest) => sum + harvest.marketableG, 0)
  const before = grams > 0 ? `, ${catalogue.diary.weekBefore(formatKilograms(grams, rows.locale))}` : ''
  return `${names.get(planting.id)}, ${formatArea(planting.areaCm2, rows.locale)}${before}`
}

function placesIn(rows: WeekRows, standing: readonly PlantingOfWeek[], names: Map<string, string>) {
  const gardens = rows.gardens.map(({ id, name }) => ({ value: `garden:${id}`, label: name }))
  const beds = rows.gardens.flatMap((garden) =>
    rows.bedsThere
      .filter((bed) => bed.gardenId === garden.id)
      .map((bed) => ({ value: `bed:${bed.id}`, label: `${garden.name}, ${bed.name}` })),
  )
  const plantings = standing.map(({ id }) => ({ value: `planting:${id}`, label: textIn(names, id) }))
  return [...gardens, ...beds, ...plantings]
}

function gardenOf(entry: Labour, rows: WeekRows): string | undefined {
  const bedId = entry.overBeds[0] ?? entry.bedId ?? rowWith(rows.plantings, 'id', linkOf(entry.plantingId))?.bedId
  return entry.gardenId ?? rowWith(rows.beds, 'id', linkOf(bedId))?.gardenId
}

function placeNamed(entry: Labour, rows: WeekRows, gardenName: Map<string, string>, names: Map<string, string>) {
  if (entry.overBeds.length > 0) return bedsNamed(entry.overBeds, rows, gardenName)
  if (entry.shareRule !== null) return null
  if (entry.plantingId !== null) return textIn(names, entry.plantingId)
  const bed = rows.beds.find((one) => one.id === entry.bedId)
  const garden = textIn(gardenName, entry.gardenId ?? bed?.gardenId)
  return bed ? `${garden}, ${bed.name}` : garden
}

/** "Long Bank, Bed 1, Bed 2". */
function bedsNamed(ids: readonly string[], { beds }: WeekRows, gardenName: Map<string, string>): string {
  const own = beds.filter((one) => ids.includes(one.id))
  return [linked(gardenName, own[0]?.gardenId), ...own.map((one) => one.name)].join(', ')
}

/** Each planting with its garden and bed. */
function namesIn({ plantings, beds, locale }: WeekRows, gardenName: Map<string, string>): Map<string, string> {
  const bedOf = new Map(beds.map((bed) => [bed.id, bed]))
  const names = plantingNames(plantings, locale)
  const placed = ({ id, bedId }: PlantingOfWeek) => {
    const bed = bedOf.get(bedId)
    return `${names.get(id)} · ${textIn(gardenName, linkOf(bed?.gardenId))}, ${nameIfAny(bed)}`
  }
  return new Map(plantings.map((one) => [one.id, placed(one)]))
}
