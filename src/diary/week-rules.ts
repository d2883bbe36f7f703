import type { IsoDate } from '../quantities/dates.ts'

/** What holds of a day that is written down in a week. Answers are codes; the words for them stand in the catalogue. */
interface DayOfWork {
  readonly day: string
  readonly daysOfWeek: readonly string[]
  readonly today: IsoDate
}

export function dayRefused({ day, daysOfWeek, today }: DayOfWork): 'notInWeek' | 'ahead' | undefined {
  if (!daysOfWeek.includes(day)) return 'notInWeek'
  return day > today ? 'ahead' : undefined
}

interface Standing {
  readonly sownOn: IsoDate | null
  readonly plantedOn: IsoDate | null
  readonly clearedOn: IsoDate | null
}

export function standingRefused(planting: Standing, day: string): 'beforeSown' | 'afterCleared' | undefined {
  if (day < (planting.sownOn ?? planting.plantedOn ?? day)) return 'beforeSown'
  return planting.clearedOn !== null && day > planting.clearedOn ? 'afterCleared' : undefined
}

/**
 * As for whatever else stood: but what is kept trimmed, dried or in a store is weighed on days after it was cleared
 * too.
 */
export function weighingRefused(planting: Standing, day: string): ReturnType<typeof standingRefused> {
  const refused = standingRefused(planting, day)
  return refused === 'afterCleared' ? undefined : refused
}

export function seasonOfDay<T extends { startsOn: IsoDate; endsOn: IsoDate }>(seasons: readonly T[], day: string) {
  return seasons.find((season) => season.startsOn <= day && day <= season.endsOn)
}

interface SeasonKnown {
  readonly id: string
  readonly startsOn: IsoDate
  readonly endsOn: IsoDate
  readonly closed: boolean
}

interface Counting {
  readonly seasonId: string
  readonly standsOverSeasons: number
}

/**
 * The season that something of a planting counts toward, hours and kilograms alike: the planting's own, whatever the
 * day; of what stands over seasons the one of the day. Refused where that season is closed and ended before that day:
 * what is done later never moves it.
 */
export function seasonOfPlanting(
  seasons: readonly SeasonKnown[],
  planting: Counting,
  { day, written }: { readonly day: string; readonly written: string },
): { readonly kind: 'answer'; readonly seasonId: string } | { readonly kind: 'refused'; readonly code: SeasonRefused } {
  const own = seasons.find((one) => one.id === planting.seasonId)
  if (planting.standsOverSeasons === 0) {
    const over = own?.closed === true && own.endsOn < written
    return over ? { kind: 'refused', code: 'seasonClosed' } : { kind: 'answer', seasonId: planting.seasonId }
  }
  const season = seasonOfDay(seasons, day)
  if (!season || (own && season.startsOn < own.startsOn)) return { kind: 'refused', code: 'noSeasonThen' }
  const isOver = season.closed && season.endsOn < written
  return isOver ? { kind: 'refused', code: 'seasonClosed' } : { kind: 'answer', seasonId: season.id }
}

/**
 * Whether it is picked in another season than the one that it was written for, though it counts toward that of picking.
 */
export function isPickedLater(
  seasons: readonly SeasonKnown[],
  planting: Counting & { readonly countsWhenPicked: number },
  day: string,
): boolean {
  if (planting.countsWhenPicked === 0 || planting.standsOverSeasons === 1) return false
  const season = seasonOfDay(seasons, day)
  return season !== undefined && season.id !== planting.seasonId
}

type SeasonRefused = 'noSeasonThen' | 'seasonClosed'

/** Where a crop has no limit of its own: above the usual top of a crop cycle of heavy vegetables. From memory. */
const muchPerM2 = 15_000

interface Picked {
  readonly areaCm2: number
  readonly askAboveGPerM2: number | null
}

/**
 * Whether one weighing is above what a whole crop cycle of these plantings usually gives: then the service asks, once.
 */
export function isMuch(grams: number, from: readonly Picked[]): boolean {
  const usual = from.reduce((sum, one) => sum + one.areaCm2 * (one.askAboveGPerM2 ?? muchPerM2), 0)
  return grams * 10_000 > usual
}

/**
 * Longer than one person works: over 16 hours in a day, or over 80 in a week without a day. Common practice, no source.
 */
export function isLong(personMinutes: number, people: number, dayKnown: boolean): boolean {
  return personMinutes > people * (dayKnown ? 16 : 80) * 60
}

interface Assigned {
  readonly seasonId: string
  readonly gardenId: string
  readonly bedId: string | null
  readonly phase: string
}

export interface Ground {
  readonly gardenId: string
  readonly bedId: string | null
}

/**
 * The phase of the method on this ground: the bed's own assignment first, its garden's otherwise. Of a garden that is
 * parted between methods it is that of its beds, where they agree.
 */
export function phaseAt(assignments: readonly Assigned[], seasonId: string, { gardenId, bedId }: Ground) {
  const here = assignments.filter((one) => one.seasonId === seasonId && one.gardenId === gardenId)
  const own = bedId === null ? undefined : here.find((one) => one.bedId === bedId)
  const whole = own ?? here.find((one) => one.bedId === null)
  if (whole || bedId !== null) return whole?.phase
  const [first, ...others] = new Set(here.map((one) => one.phase))
  return others.length === 0 ? first : undefined
}

interface Lying {
  readonly assignments: readonly Assigned[]
  readonly ground: readonly { readonly id: string; readonly gardenId: string; readonly areaCm2: number }[]
}

/**
 * One phase where all the ground agrees; null where it carries several, so that each bed's part has its own; undefined
 * where on some of it nothing is assigned.
 */
export function phaseOf({ assignments, ground }: Lying, seasonId: string, places: readonly Ground[]) {
  const phases = new Set<string | undefined>()
  for (const place of places) {
    const beds = place.bedId === null ? ground.filter((bed) => bed.gardenId === place.gardenId && bed.areaCm2 > 0) : []
    const own = beds.map((bed) => phaseAt(assignments, seasonId, { gardenId: bed.gardenId, bedId: bed.id }))
    const known = own.filter((phase) => phase !== undefined)
    for (const phase of known.length > 0 ? known : [phaseAt(assignments, seasonId, place)]) phases.add(phase)
  }
  if (phases.size === 0 || phases.has(undefined)) return undefined
  const [only, ...others] = phases
  return others.length === 0 ? only : null
}
