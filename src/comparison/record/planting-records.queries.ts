import { cutNumber } from '../../diary/cuts.ts'
import { held } from '../../lookups/held.ts'
import type { IsoDate } from '../../quantities/dates.ts'
import { inBedFrom } from '../../seasons/bed-course.ts'
import type { PlantingCounted } from '../../seasons/plantings-counted.queries.ts'
import type { OverDays } from '../../seasons/put-into.ts'
import type { seasonsOf } from '../../seasons/seasons.queries.ts'
import type { WeighedOf } from './as-written.queries.ts'
import { groundBeside, groundUntil } from './ground-counted.ts'
import type { RowsOfPlantings } from './in-each-season.ts'
import type { LossRecord, PlantingRecord, WeighedRecord } from './trial-record.ts'

type Season = Awaited<ReturnType<typeof seasonsOf>>[number]

/** What a planting's rows of the record are made of. */
interface Around {
  readonly seasons: readonly Season[]
  readonly rows: RowsOfPlantings
  readonly weighed: readonly WeighedOf[]
  readonly mixed: MixedBeds
  readonly lost: readonly LossRecord[]
}

/** One row, or of a planting that stands over seasons one for each of them, with what was weighed of it then. */
export function plantingRecords(
  one: PlantingCounted,
  { seasons, rows, weighed, mixed, lost }: Around,
): PlantingRecord[] {
  const { bedId, crop, cultivar, purpose } = one
  const from = inBedFrom(one) || null
  return rows.of(one).map(({ id, seasonId, establishing }) => {
    const season = seasons.find((each) => each.id === seasonId)
    // Most stand in one season, and all that was weighed of them is of it.
    const own =
      one.standsOverSeasons === 0 ? weighed : weighed.filter((part) => rows.inSeason(one.id, part.seasonId) === id)
    const sum = (of: 'marketableG' | 'unmarketableG') => own.reduce((total, part) => total + part[of], 0)
    const clearedOn = standsOnAfter(one, season) ? null : one.clearedOn
    const goes = own.length === 0 && !lost.some((loss) => loss.plantingId === id) ? clearedOn : null
    const ground = groundOf(one, { seasonId, season, goes, mixed })
    const parts = own.flatMap(({ part }) => part ?? [])
    const weeks = own.flatMap((part) => part.weeks ?? [])
    return {
      id,
      seasonId,
      bedId,
      crop,
      cultivar,
      ...ground,
      purpose,
      from,
      to: clearedOn,
      weighed: one.regrows === 1 ? numbered(parts) : parts,
      ...(weeks.length > 0 && { weeks: weeks.join(',') }),
      matchedSetId: establishing || ground.counted === 'until it went' ? null : one.matchedSetId,
      cleared: clearedOn !== null || (season !== undefined && season.closedAt !== null),
      marketableG: sum('marketableG'),
      unmarketableG: sum('unmarketableG'),
      ...(establishing && { establishing }),
    }
  })
}

interface OfSeason {
  readonly seasonId: string
  readonly season: { readonly startsOn: IsoDate; readonly endsOn: IsoDate } | undefined
  /** The day on which it was cleared in this season, where nothing of it was picked or lost in it. */
  readonly goes: IsoDate | null
  readonly mixed: MixedBeds
}

/** The ground that it counts in a season, and as what where that is not the whole. */
function groundOf(
  one: PlantingCounted,
  { seasonId, season, goes, mixed }: OfSeason,
): Pick<PlantingRecord, 'areaCm2' | 'wholeCm2' | 'counted'> {
  const { areaCm2 } = one
  if (season === undefined) return { areaCm2 }
  if (one.standsOverSeasons === 1 && goes !== null && seasonId !== one.seasonId) {
    return { areaCm2: groundUntil(areaCm2, goes, season), wholeCm2: areaCm2, counted: 'until it went' }
  }
  const inBed = one.purpose === 'harvest' ? mixed.get(one.bedId) : undefined
  if (!inBed) return { areaCm2 }
  const own = held(inBed, one.id)
  const from = seasonId === one.seasonId || own.from > season.startsOn ? own.from : season.startsOn
  const shared = groundBeside({ own, from, season, inBed: [...inBed.values()] })
  return shared === areaCm2 ? { areaCm2 } : { areaCm2: shared, wholeCm2: areaCm2, counted: 'shared by days' }
}

/** The beds in which crops overlap on purpose, with the days of all that is grown for its harvest in them. */
type MixedBeds = ReadonlyMap<string, ReadonlyMap<string, OverDays>>

export function mixedBeds(plantings: readonly PlantingCounted[]): MixedBeds {
  const grown = plantings.filter((one) => one.purpose === 'harvest')
  const beds = new Map(grown.flatMap((one) => (one.interplanted ? [[one.bedId, new Map<string, OverDays>()]] : [])))
  for (const one of grown) {
    const { areaCm2, interplanted, clearedOn: until } = one
    beds.get(one.bedId)?.set(one.id, { from: inBedFrom(one), until, areaCm2, interplanted })
  }
  return beds
}

/** The cuts of what grows again, by their days. */
const numbered = (weighed: readonly WeighedRecord[]): WeighedRecord[] =>
  weighed.map((part) => {
    const cut =
      part.on === undefined
        ? null
        : cutNumber(
            weighed.flatMap(({ on }) => on ?? []),
            part.on,
          )
    return cut === null ? part : { ...part, cut }
  })

/** What stands over seasons was not cleared in one that ended before its clearing. */
const standsOnAfter = (one: PlantingCounted, season: { readonly endsOn: IsoDate } | undefined): boolean =>
  one.standsOverSeasons === 1 && season !== undefined && (one.clearedOn === null || one.clearedOn > season.endsOn)
