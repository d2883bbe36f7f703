import { bedsIn } from '../comparison/record/ground.ts'
import type { TrialRecord } from '../comparison/record/trial-record.ts'
import { weighedOf } from '../comparison/record/weighed-of.ts'
import { rowsWith } from '../lookups/rows-with.ts'
import { asShown, linked, numberIn, textIn } from '../lookups/unsaid.ts'
import type { IsoDate } from '../quantities/dates.ts'
import { type IsoWeek, weeksBetween } from '../quantities/iso-week.ts'

/** By garden, of a record: what was picked and worked, week by week. */
interface GardenWeeks {
  readonly gardenId: string
  readonly grams: ReadonlyMap<string, number>
  readonly minutes: ReadonlyMap<string, number>
}

/** Marketable grams and person-minutes of each garden by week; shared crates and shared work in their parts. */
export function gardenWeeks(record: TrialRecord, seasonId: string): GardenWeeks[] {
  const gardenOfBed = new Map(record.beds.map((bed) => [bed.id, bed.gardenId]))
  const areaOfBed = new Map(bedsIn(record, seasonId).map((bed) => [bed.id, bed.areaCm2]))
  const own = new Map(record.gardens.map((one) => [one.id, { grams: new Map<string, number>(), minutes: new Map() }]))
  const add = (sums: Map<string, number> | undefined, week: string, amount: number) =>
    sums?.set(week, numberIn(sums, week) + amount)
  for (const planting of rowsWith(record.plantings, 'seasonId', seasonId)) {
    const sums = linked(own, gardenOfBed.get(planting.bedId))?.grams
    for (const one of weighedOf(planting)) add(sums, one.isoWeek, one.marketableG)
  }
  for (const work of rowsWith(record.labour, 'seasonId', seasonId)) {
    if (work.isoWeek === undefined) continue
    const area = work.bedIds.reduce((sum, bed) => sum + numberIn(areaOfBed, bed), 0)
    for (const bed of work.bedIds) {
      const part = area === 0 ? 0 : ((work.times ?? 1) * work.personMinutes * numberIn(areaOfBed, bed)) / area
      add(linked(own, gardenOfBed.get(bed))?.minutes, work.isoWeek, part)
    }
  }
  return [...own].map(([gardenId, sums]) => ({ gardenId, ...sums }))
}

/** The kilograms so far at the end of each week of a season, until a day; in whole grams. */
export function runningGrams(
  grams: ReadonlyMap<string, number>,
  season: { readonly startsOn: IsoDate; readonly endsOn: IsoDate },
  until: IsoDate,
): number[] {
  const last = until < season.endsOn ? until : season.endsOn
  if (last < season.startsOn) return []
  let sum = 0
  return weeksBetween(season.startsOn, last).map((week: IsoWeek) => (sum += numberIn(grams, week)))
}

interface MissingTwin {
  readonly crop: string
  readonly week: string
  readonly picked: number
  readonly missing: readonly string[]
}

/**
 * What was picked in one of these weeks in two gardens or more and, sown alike, in another not; where that one still
 * stands.
 */
export function missingTwins(record: TrialRecord, seasonId: string, weeks: readonly string[]): MissingTwin[] {
  const gardenOfBed = new Map(record.beds.map((bed) => [bed.id, bed.gardenId]))
  const nameOf = new Map(record.gardens.map((one) => [one.id, one.name]))
  const sets = new Map<string, (typeof record.plantings)[number][]>()
  for (const one of record.plantings) {
    if (one.seasonId !== seasonId || one.matchedSetId === null) continue
    const set = sets.get(one.matchedSetId)
    if (set) set.push(one)
    else sets.set(one.matchedSetId, [one])
  }
  const lost = new Set(record.losses.filter((one) => one.sharePermille >= 1000).map((one) => one.plantingId))
  return weeks.flatMap((week) =>
    [...sets.values()].flatMap((set): MissingTwin[] => {
      const wasPicked = (one: (typeof set)[number]) => weighedOf(one).some((weighed) => weighed.isoWeek === week)
      const picked = set.filter(wasPicked)
      const asked = set.filter((one) => !wasPicked(one) && !one.cleared && !lost.has(one.id))
      if (picked.length < 2 || asked.length === 0) return []
      const missing = asked.map((one) => textIn(nameOf, textIn(gardenOfBed, one.bedId)))
      return [{ crop: asShown(set[0]?.crop), week, picked: picked.length, missing }]
    }),
  )
}

/** An entry of the diary, as Home lists the latest. */
export interface LastWritten {
  readonly kind: 'harvests' | 'labour' | 'losses'
  readonly id: string
  readonly at: Date
  readonly isoWeek: IsoWeek
  readonly plantingId: string | null
  readonly gardenId: string | null
  readonly task: string | null
  /** Grams or person-minutes; null of a loss. */
  readonly amount: number | null
}
