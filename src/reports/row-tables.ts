import { plantingIdOf } from '../comparison/record/in-each-season.ts'
import type { TrialRecord } from '../comparison/record/trial-record.ts'
import { phaseTold } from '../comparison/rows/rows-tables.ts'
import { type AreaFrom, areaOn } from '../gardens/areas-held.ts'
import type { Manured } from '../inputs/manure-interval.ts'
import { isOneOf } from '../lookups/keys.ts'
import type { IsoDate } from '../quantities/dates.ts'
import type { IsoWeek } from '../quantities/iso-week.ts'

/** The tables that stand behind a report, in the order in which they are listed on it. */
export const rowTableNames = [
  ...(['seasons', 'methods', 'gardens', 'beds', 'assignments', 'plantings', 'harvests', 'losses', 'labour'] as const),
  ...(['spreadings', 'manured', 'closings'] as const),
] as const

type RowTableName = (typeof rowTableNames)[number]

type Cells = readonly (string | number | null)[]

/** The names of the columns first, then the rows. A report that was frozen earlier may lack tables and columns. */
export type RowTables = Readonly<Record<RowTableName, readonly Cells[]>>

export const isRowTable = (name: unknown): name is RowTableName => isOneOf(rowTableNames, String(name))

export const rowTablesIn = (rows: RowTables) => rowTableNames.filter((name) => rows[name] !== undefined)

/** How an entry of hours or a weighing came into the record. */
interface Written {
  readonly id: string
  readonly seasonId: string
  readonly isoWeek: IsoWeek
  readonly shared: boolean
  readonly paper: boolean
  readonly late: boolean
}

/** A weighing, or the part of one planting in a shared crate. */
export interface WeighingRowSent extends Written {
  readonly plantingId: string
  readonly harvestedOn: IsoDate
  readonly marketableG: number
  readonly unmarketableG: number
}

/** An entry of hours, or the part of one garden in shared hours. */
export interface HoursRowSent extends Written {
  /** Shared between gardens by a rule, equal or by area: its parts were not written down. */
  readonly byRule: boolean
  /** The beds that it falls on, where they are neither one nor all of its garden. */
  readonly beds: readonly string[] | null
  /** The beds that it was written for, where they are not its whole garden. */
  readonly writtenFor: readonly string[] | null
  readonly task: string
  readonly phase: string
  readonly personMinutes: number
  readonly people: number
  readonly gardenId: string | null
  readonly bedId: string | null
  readonly plantingId: string | null
}

interface RowsGiven {
  readonly weighings: readonly WeighingRowSent[]
  readonly hours: readonly HoursRowSent[]
  readonly manured: readonly Manured[]
  /** Of each planting, where it is known, whether what is eaten of it touches the soil. */
  readonly touchesSoil: ReadonlyMap<string, number | null>
}

/** The days on which a bed's ground changed: as figures count it, or as it lay, where a nursery's ground was moved. */
function daysOfAreas({ areas, lay = [] }: TrialRecord['beds'][number]): readonly (IsoDate | null)[] {
  const days = [...new Set([...areas, ...lay].map((one) => one.from))]
  return [...days.filter((day) => day === null), ...days.filter((day) => day !== null).sort()]
}

/** Before each day that is written lies what holds from the beginning. */
const areaFrom = (areas: readonly AreaFrom[], from: IsoDate | null) =>
  from === null ? areaOn(areas, '') : areaOn(areas, from)

const flag = (value: boolean | undefined) => (value ? 1 : 0)

/** The rows that figures are counted from, a table each with the names of its columns first. */
export function reportTables(record: TrialRecord, { weighings, hours, manured, touchesSoil }: RowsGiven): RowTables {
  const together = (ids: readonly string[]) => ids.join(' ')
  return {
    seasons: [
      ['season', 'name', 'starts_on', 'ends_on', 'closed', 'uniform'],
      ...record.seasons.map((one) => [one.id, one.name, one.startsOn, one.endsOn, flag(one.closed), flag(one.uniform)]),
    ],
    methods: [
      ['method', 'name', 'establishing_seasons'],
      ...record.methods.map((one) => [one.id, one.name, one.establishingSeasons ?? null]),
    ],
    gardens: [
      ['garden', 'name', 'gross_area_cm2', 'site', 'from_day'],
      ...record.gardens.flatMap((one) =>
        one.areas.map((held) => [one.id, one.name, held.areaCm2, one.siteId ?? null, held.from]),
      ),
    ],
    beds: [
      ['bed', 'garden', 'area_cm2', 'block', 'from_day', 'lay_cm2'],
      ...record.beds.flatMap((one) =>
        daysOfAreas(one).map((from) => [
          one.id,
          one.gardenId,
          areaFrom(one.areas, from),
          one.blockId ?? null,
          from,
          areaFrom(one.lay ?? one.areas, from),
        ]),
      ),
    ],
    assignments: [
      ['season', 'garden', 'bed', 'method', 'phase', 'how', 'year_of_method'],
      ...record.assignments.map((one) => [
        one.seasonId,
        one.gardenId,
        one.bedId,
        one.methodId,
        one.phase ?? null,
        one.how ?? null,
        one.yearOfMethod ?? null,
      ]),
    ],
    plantings: [
      [
        'planting',
        'season',
        'bed',
        'crop',
        'cultivar',
        'matched_set',
        'area_cm2',
        'purpose',
        'cleared',
        'stood_from',
        'stood_to',
        'touches_soil',
        'establishing',
        'written_area_cm2',
      ],
      ...record.plantings.map((one) => [
        one.id,
        one.seasonId,
        one.bedId,
        one.crop,
        one.cultivar,
        one.matchedSetId,
        one.areaCm2,
        one.purpose,
        flag(one.cleared),
        one.from ?? null,
        one.to ?? null,
        touchesSoil.get(plantingIdOf(one.id)) ?? null,
        flag(one.establishing),
        one.wholeCm2 ?? one.areaCm2,
      ]),
    ],
    harvests: [
      [
        'harvest',
        'planting',
        'harvested_on',
        'marketable_g',
        'unmarketable_g',
        'shared',
        'season',
        'week',
        'from_paper',
        'late',
      ],
      ...weighings.map((one) => [
        one.id,
        one.plantingId,
        one.harvestedOn,
        one.marketableG,
        one.unmarketableG,
        flag(one.shared),
        one.seasonId,
        one.isoWeek,
        flag(one.paper),
        flag(one.late),
      ]),
    ],
    losses: [
      ['planting', 'lost_on', 'share_permille', 'cause', 'outside_method', 'also_next_door'],
      ...record.losses.map((one) => [
        one.plantingId,
        one.lostOn,
        one.sharePermille,
        one.cause ?? null,
        flag(one.outsideMethod),
        one.alsoNextDoor ?? null,
      ]),
    ],
    labour: [
      [
        'entry',
        'season',
        'week',
        'task',
        'phase',
        'person_minutes',
        'garden',
        'bed',
        'shared',
        'planting',
        'people',
        'from_paper',
        'late',
        'by_rule',
        'beds',
        'written_for',
      ],
      ...hours.map((one) => [
        one.id,
        one.seasonId,
        one.isoWeek,
        one.task,
        one.phase,
        one.personMinutes,
        one.gardenId,
        one.bedId,
        flag(one.shared),
        one.plantingId,
        one.people,
        flag(one.paper),
        flag(one.late),
        flag(one.byRule),
        one.beds && together(one.beds),
        one.writtenFor && together(one.writtenFor),
      ]),
    ],
    spreadings: [
      ['season', 'cost_minor', 'useful_life_seasons', 'beds', 'valued_minor', 'phase', 'planting', 'by_rule'],
      ...record.spreadings.map((one) => [
        one.seasonId,
        one.cashMinor === undefined ? one.costMinor : one.cashMinor,
        one.usefulLifeSeasons,
        together(one.bedIds),
        one.costMinor,
        phaseTold(one),
        one.plantingId ?? null,
        flag(one.ofNursery),
      ]),
    ],
    manured: [['spread_on', 'beds'], ...manured.map((one) => [one.appliedOn, together(one.bedIds)])],
    closings: [['garden', 'week', 'what'], ...record.closings.map((one) => [one.gardenId, one.isoWeek, one.what])],
  }
}
