import { bedsIn } from '../comparison/record/ground.ts'
import type { LabourRecord, TrialRecord } from '../comparison/record/trial-record.ts'
import { methodsOfBeds } from '../comparison/totals/method-totals.ts'
import { areaAtLast } from '../gardens/areas-held.ts'
import { linked, nameIfAny, numberIn } from '../lookups/unsaid.ts'
import { type PatchSeen, patchCourses } from '../notes/weed-course.ts'
import { splitExactly } from '../quantities/split-exactly.ts'
import { cameBack } from './came-back.ts'
import { type CoveredBefore, coveredBefore } from './covered-before.ts'

/** Laying, mending and lifting a cover, in minutes a m2, where the group has not done it: from memory, no source. */
export const coverMinutesPerM2 = 6

const weeksOfYear = 52

export interface RestartStart {
  readonly areaCm2: number
  /** What was seen of the weed on this bed last. */
  readonly patch: PatchSeen | null
  /** What covering took on beds that were covered before; null where no hours tell it. */
  readonly cover: CoveredBefore | null
  /** How often the weed came again after a cover of the group's; null where nobody counted. */
  readonly back: ReturnType<typeof cameBack>
  /** Share by which its patch, or its shoots, fell a year between the last two sightings; null where they did not. */
  readonly falls: number | null
  /**
   * Weeding that the weed takes in a season: what this bed took more than beds of its method without a patch; where no
   * hours tell them apart, all weeding of the bed, which holds more than the weed's.
   */
  readonly hoe: { readonly season: string; readonly minutes: number; readonly over: 'clean beds' | 'nothing' } | null
  /** What a clean bed of its method gives and takes on this bed's area, in the latest season that knows both. */
  readonly own: {
    readonly season: string
    readonly method: string
    /** No bed of the method was without a patch: then the weed's hours are taken off. */
    readonly fromClean: boolean
    readonly grams: number
    readonly minutes: number
  } | null
}

/** The ground that is thought about: one bed or all of a garden, and how much of it would be covered. */
interface WeedyGround {
  readonly bedIds: readonly string[]
  /** Null: all of it. */
  readonly areaCm2: number | null
}

/**
 * What the record knows of that ground and of beds like it; null for each that is not known, and where it has no bed.
 */
export function restartStart(
  record: TrialRecord,
  patches: readonly PatchSeen[],
  asked: WeedyGround,
): RestartStart | null {
  const ids = new Set(asked.bedIds)
  const own = record.beds.flatMap((one) => {
    const areaCm2 = ids.has(one.id) ? areaAtLast(one.areas) : 0
    return areaCm2 > 0 ? [{ id: one.id, areaCm2 }] : []
  })
  if (own.length === 0) return null
  const course = patchCourses(patches.filter((one) => one.bedId !== null && ids.has(one.bedId))).at(-1)
  const last = course?.sightings.at(-1)
  const ground = { ids, areaCm2: Math.min(asked.areaCm2 ?? areaOf(own), areaOf(own)) }
  const beds = bedsLike(
    record,
    patches,
    own.map((one) => one.id),
  )
  const hoe = hoeOf(record, ground, beds)
  return {
    areaCm2: ground.areaCm2,
    patch: last?.seen ?? null,
    cover: coveredBefore(record),
    back: cameBack(record),
    falls: fallOf(last?.area) ?? fallOf(last?.shoots),
    hoe,
    // A bed nobody hoed took no hoeing.
    own: ownOf(record, ground, { beds, weedMinutes: hoe?.minutes ?? 0 }),
  }
}

interface Ground {
  readonly ids: ReadonlySet<string>
  readonly areaCm2: number
}

type Rate = ReturnType<typeof patchCourses>[number]['sightings'][number]['area']

function fallOf(rate: Rate | undefined): number | null {
  return rate?.kind === 'answer' && rate.perWeek < 0 ? 1 - Math.exp(rate.perWeek * weeksOfYear) : null
}

/** Beds of its method in a season that lay open, these aside: those without a patch, else all of them. */
function bedsLike(record: TrialRecord, patches: readonly PatchSeen[], bedIds: readonly string[]) {
  const patched = new Set(patches.flatMap((one) => (one.bedId === null ? [] : [one.bedId])))
  const covered = new Set((record.closures ?? []).map((one) => one.bedId))
  return (seasonId: string) => {
    const methodOf = methodsOfBeds(record, seasonId)
    const methodId = linked(methodOf, bedIds[0])
    const own = bedsIn(record, seasonId).filter((one) => methodId !== undefined && methodOf.get(one.id) === methodId)
    const clean = own.filter((one) => !bedIds.includes(one.id) && !patched.has(one.id) && !covered.has(one.id))
    return { methodId, clean, beds: clean.length > 0 ? clean : own }
  }
}

type BedsOfSeason = ReturnType<typeof bedsLike>

/** Hours are those of the whole beds; the weed's are all of them its own, however much of the bed is covered. */
function hoeOf(record: TrialRecord, { ids }: Ground, bedsOf: BedsOfSeason): RestartStart['hoe'] {
  const isWeeding = (entry: LabourRecord) => entry.task === 'weeding'
  for (const season of record.seasons.toReversed()) {
    const here = minutesOn(record, { seasonId: season.id, bedIds: ids, of: isWeeding })
    if (here === 0) continue
    const ownArea = areaOf(bedsIn(record, season.id).filter((one) => ids.has(one.id)))
    const { clean } = bedsOf(season.id)
    const bedIds = new Set(clean.map((one) => one.id))
    const there = minutesOn(record, { seasonId: season.id, bedIds, of: isWeeding })
    const usual = clean.length === 0 ? 0 : (there * ownArea) / areaOf(clean)
    const more = Math.round(here - usual)
    return clean.length > 0 && more > 0
      ? { season: season.name, minutes: more, over: 'clean beds' }
      : { season: season.name, minutes: here, over: 'nothing' }
  }
  return null
}

function ownOf(
  record: TrialRecord,
  { areaCm2: ownArea }: Ground,
  { beds: bedsOf, weedMinutes }: { beds: BedsOfSeason; weedMinutes: number },
): RestartStart['own'] {
  for (const season of record.seasons.toReversed()) {
    const { methodId, clean, beds } = bedsOf(season.id)
    const [area, bedIds] = [areaOf(beds), new Set(beds.map((one) => one.id))]
    const picked = record.plantings.filter((one) => one.seasonId === season.id && bedIds.has(one.bedId))
    const grams = picked.reduce((sum, one) => sum + one.marketableG, 0)
    const minutes = minutesOn(record, { seasonId: season.id, bedIds, of: () => true })
    if (area === 0 || grams === 0 || minutes === 0) continue
    const fromClean = clean.length > 0
    return {
      season: season.name,
      method: nameIfAny(record.methods.find((one) => one.id === methodId)),
      fromClean,
      grams: (grams * ownArea) / area,
      minutes: Math.max(0, (minutes * ownArea) / area - (fromClean ? 0 : weedMinutes)),
    }
  }
  return null
}

const areaOf = (beds: readonly { areaCm2: number }[]) => beds.reduce((sum, bed) => sum + bed.areaCm2, 0)

interface Work {
  readonly seasonId: string
  readonly bedIds: ReadonlySet<string>
  readonly of: (entry: LabourRecord) => boolean
}

/** The part of some beds in the hours of a season: what was written for several beds is divided over them by area. */
function minutesOn(record: TrialRecord, { seasonId, bedIds, of }: Work): number {
  const areas = new Map(bedsIn(record, seasonId).map((bed) => [bed.id, bed.areaCm2]))
  return record.labour
    .filter((entry) => entry.seasonId === seasonId && of(entry) && entry.bedIds.some((id) => bedIds.has(id)))
    .reduce((sum, entry) => {
      const { times = 1 } = entry
      const known = entry.bedIds.filter((id) => areas.has(id))
      const parts = splitExactly(
        entry.personMinutes,
        known.map((id) => numberIn(areas, id)),
      )
      // Ground of no area bears no part.
      return sum + times * known.reduce((own, id, i) => own + (bedIds.has(id) ? (parts?.[i] ?? 0) : 0), 0)
    }, 0)
}
