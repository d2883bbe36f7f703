import { areaOver } from '../../gardens/areas-held.ts'
import { rowWith } from '../../lookups/rows-with.ts'
import { splitExactly } from '../../quantities/split-exactly.ts'
import type { BedRecord, GardenRecord, SeasonRecord, TrialRecord } from './trial-record.ts'

/** A bed as it lay in one season. */
export interface BedInSeason extends BedRecord {
  /** The mean of the season's days, in whole cm2; never 0. */
  readonly areaCm2: number
}

/**
 * The beds that had ground in a season, with the area that they had in it. A bed that came later, or had been given up
 * before, is none of them: nothing done to the ground after a season changes what lay in it.
 */
export function bedsIn(record: TrialRecord, seasonId: string): readonly BedInSeason[] {
  const season = rowWith(record.seasons, 'id', seasonId)
  if (!season) return []
  const ofBeds = made.get(record.beds) ?? new WeakMap<SeasonRecord, readonly BedInSeason[]>()
  made.set(record.beds, ofBeds)
  const beds = ofBeds.get(season) ?? makeBeds(record.beds, season)
  ofBeds.set(season, beds)
  return beds
}

/** A page asks for the same season many times: its ground is made once for each record that was read. */
const made = new WeakMap<TrialRecord['beds'], WeakMap<SeasonRecord, readonly BedInSeason[]>>()

const makeBeds = (beds: readonly BedRecord[], season: SeasonRecord) =>
  beds.map((bed) => ({ ...bed, areaCm2: areaOver(bed.areas, season) })).filter((bed) => bed.areaCm2 > 0)

/** The gross area of a garden as it lay in a season, in whole cm2; 0 for a season that the record does not hold. */
export function grossIn(record: TrialRecord, garden: GardenRecord, seasonId: string): number {
  const season = record.seasons.find((one) => one.id === seasonId)
  return season ? areaOver(garden.areas, season) : 0
}

/**
 * Those of some beds that had ground in a season. Made once for each list: what was written for a garden holds one list
 * in common with all that was.
 */
export function bedsAmong(record: TrialRecord, seasonId: string, bedIds: readonly string[]): readonly BedInSeason[] {
  const beds = bedsIn(record, seasonId)
  const ofIds = among.get(bedIds) ?? new WeakMap<readonly BedInSeason[], readonly BedInSeason[]>()
  among.set(bedIds, ofIds)
  const own = ofIds.get(beds) ?? beds.filter((bed) => bedIds.includes(bed.id))
  ofIds.set(beds, own)
  return own
}

/**
 * A whole total divided over beds by their area, exactly; nothing where they have none. Made once for each list of beds
 * and total: hours come in quarters, and thousands of entries are of one garden.
 */
export function partsByArea(beds: readonly BedInSeason[], total: number): readonly number[] {
  const ofBeds = divided.get(beds) ?? new Map<number, readonly number[]>()
  divided.set(beds, ofBeds)
  const known = ofBeds.get(total)
  if (known) return known
  const areas = beds.map((bed) => bed.areaCm2)
  // Ground of no area bears no part.
  const parts = splitExactly(total, areas) ?? areas.map(() => 0)
  ofBeds.set(total, parts)
  return parts
}

const divided = new WeakMap<readonly BedInSeason[], Map<number, readonly number[]>>()

const among = new WeakMap<readonly string[], WeakMap<readonly BedInSeason[], readonly BedInSeason[]>>()
