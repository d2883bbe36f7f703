import type { AreaFrom } from '../../gardens/areas-held.ts'
import type { IsoDate } from '../../quantities/dates.ts'
import type { IsoWeek } from '../../quantities/iso-week.ts'

/**
 * What a comparison is computed from: whole numbers only, rows ordered by key. Areas in cm2, weights in g, time in min.
 */
export interface TrialRecord {
  readonly seasons: readonly SeasonRecord[]
  readonly methods: readonly MethodRecord[]
  readonly gardens: readonly GardenRecord[]
  readonly beds: readonly BedRecord[]
  readonly assignments: readonly AssignmentRecord[]
  readonly plantings: readonly PlantingRecord[]
  readonly losses: readonly LossRecord[]
  readonly labour: readonly LabourRecord[]
  readonly spreadings: readonly SpreadingRecord[]
  readonly closings: readonly { gardenId: string; isoWeek: IsoWeek; what: string }[]
  /** Beds that were covered or rested. */
  readonly closures?: readonly {
    bedId: string
    fromDay: IsoDate
    toDay: IsoDate | null
    /** Shoots a m2 at the last count after it was lifted; null or not there where nobody counted. */
    lastRegrowth?: number | null
  }[]
  readonly entries?: readonly EntryRecord[]
  /** What a second person wrote down of a planting over a week: in no sum. */
  readonly readTwice?: readonly { plantingId: string; isoWeek: IsoWeek; weighedG: number }[]
}

/** How an entry of hours or a weighing came into the record. */
export interface EntryRecord {
  readonly seasonId: string
  readonly id?: string
  readonly of?: 'hours' | 'weights'
  readonly isoWeek?: IsoWeek
  /** Its day, where it has one, and the day on which it was written down. */
  readonly on?: IsoDate | null
  readonly written?: string
  /** All the beds that it touches: one entry, however many. */
  readonly bedIds: readonly string[]
  readonly paper: boolean
  /** That many alike, where they were counted by the database; else one. */
  readonly times?: number
  /** Written down more than fourteen days after its day, or after its week's end where it has none. */
  readonly late: boolean
}

export interface SeasonRecord {
  readonly id: string
  readonly name: string
  readonly startsOn: IsoDate
  readonly endsOn: IsoDate
  readonly closed: boolean
  /** Every garden worked alike, to see how the ground differs. */
  readonly uniform?: boolean
  /** Rows written or changed in the record since it closed. */
  readonly changedSince: number
  /** Weighings that lie under a label not yet opened: they are in no sum. */
  readonly sealed: number
}

/** Some of the seasons, in the order of the record: by their first day. */
export const seasonsAmong = (record: TrialRecord, seasonIds: readonly string[]): SeasonRecord[] =>
  record.seasons.filter((season) => seasonIds.includes(season.id))

interface MethodRecord {
  readonly id: string
  readonly name: string
  /** Over how many seasons the group spreads the work of establishing it; null where it has not said. */
  readonly establishingSeasons?: number | null
}

export interface GardenRecord {
  readonly id: string
  readonly name: string
  /** Gross, paths and all, with the days from which it held. */
  readonly areas: readonly AreaFrom[]
  readonly siteId?: string
  readonly exposure?: string | null
  readonly soil?: string | null
  readonly groundBefore?: string | null
}

export interface BedRecord {
  readonly id: string
  readonly gardenId: string
  /** With the days from which they held: `ground.ts` says what lay there in a season. */
  readonly areas: readonly AreaFrom[]
  /** As it lay in the garden, where a nursery's ground was moved to the beds that received. */
  readonly lay?: readonly AreaFrom[]
  readonly name?: string
  readonly blockId?: string | null
}

interface AssignmentRecord {
  readonly seasonId: string
  readonly gardenId: string
  readonly bedId: string | null
  readonly methodId: string
  readonly how?: string
  readonly phase?: string
  readonly yearOfMethod?: number
}

export interface LossRecord {
  readonly id?: string
  readonly plantingId: string
  readonly lostOn: IsoDate
  readonly sharePermille: number
  readonly cause?: string
  /** The cause lay outside the method: said before the season closed. */
  readonly outsideMethod?: boolean
  readonly alsoNextDoor?: string | null
}

export interface PlantingRecord {
  readonly id: string
  readonly seasonId: string
  readonly bedId: string
  readonly crop: string
  readonly cultivar: string
  readonly matchedSetId: string | null
  /** As the figures of its season count it (`ground-counted.ts`). */
  readonly areaCm2: number
  /** As it was written, and how it is counted, where the figures do not count the whole. */
  readonly wholeCm2?: number
  readonly counted?: 'shared by days' | 'until it went'
  readonly purpose: string
  readonly cleared: boolean
  /**
   * It stands over seasons and does not bear yet: its ground and weights count, and its yield is compared with none.
   */
  readonly establishing?: boolean
  readonly marketableG: number
  readonly unmarketableG: number
  /**
   * Each weighing, shared crates in their parts, and the weeks that the database summed, in one text ("2027-W30 700 0":
   * good and bad grams, commas between). They add up to the two sums above; `weighedOf` reads both.
   */
  readonly weighed?: readonly WeighedRecord[]
  readonly weeks?: string
  /** The days on which it stood in its bed; null while it stands, or where the day is not known. */
  readonly from?: string | null
  readonly to?: string | null
}

export interface WeighedRecord {
  readonly id?: string
  readonly on?: string
  /** Of what grows again: which of its cuts in that season. */
  readonly cut?: number
  /** A part of a crate from several plantings. */
  readonly shared?: boolean
  readonly isoWeek: IsoWeek
  readonly marketableG: number
  readonly unmarketableG: number
}

export interface LabourRecord {
  readonly seasonId: string
  readonly task: string
  readonly phase: string
  /** Of one entry: each is divided by itself, to the minute. */
  readonly personMinutes: number
  /** That many entries alike in all that counts; else one. */
  readonly times?: number
  /** The beds it was spent on; divided over them by area, exactly. */
  readonly bedIds: readonly string[]
  readonly isoWeek?: IsoWeek
  /** Set where it was written for one planting: only then does it belong to a crop. */
  readonly plantingId?: string | null
  readonly who?: string | null
  readonly id?: string
  readonly workedOn?: IsoDate | null
  /** The garden that the entry, or this part of shared work, was written for as a whole. */
  readonly gardenId?: string | null
  /** Person-minutes of the whole stretch of work, where this is the part of one garden, or of one phase. */
  readonly sharedMinutes?: number
  /** The parts of it come from a rule, equal or by area, and were not written down. */
  readonly sharedByRule?: boolean
  /** The beds of the whole entry, where they carry several phases and this is the part of one, divided by area. */
  readonly writtenFor?: readonly string[]
  /** The part of a bed that received what a nursery raised, in work on that nursery. */
  readonly ofNursery?: boolean
}

export interface SpreadingRecord {
  readonly seasonId: string
  /** Whole minor units of this spreading; null while the delivery has no price. */
  readonly costMinor: number | null
  readonly usefulLifeSeasons: number
  readonly bedIds: readonly string[]
  /**
   * The same without the value that the group states for something of its own: what was paid. The cost where none is
   * given.
   */
  readonly cashMinor?: number | null
  /** Null: each of its beds has the phase that lies there. */
  readonly phase?: string | null
  readonly plantingId?: string | null
  readonly kind?: string
  readonly id?: string
  readonly on?: IsoDate
  /** What was spread. */
  readonly input?: string
  /** As in hours: the part of a bed that received, in what was spread on a nursery. */
  readonly ofNursery?: boolean
  readonly gardenId?: string | null
}
