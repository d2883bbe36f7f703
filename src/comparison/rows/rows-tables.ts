import { linkOf, nameIfAny } from '../../lookups/unsaid.ts'
import { cropName } from '../record/crop-name.ts'
import type { SpreadingRecord, TrialRecord } from '../record/trial-record.ts'
import { weighedOf } from '../record/weighed-of.ts'
import type { RowPart, RowsBehind } from './rows-behind.ts'

type Cells = readonly (string | number | null)[]

/** The tables of the rows, in the order of the page. */
export const rowTables = ['ground', 'plantings', 'weighings', 'hours', 'costs', 'losses', 'weeks', 'entries'] as const
type RowTable = (typeof rowTables)[number]

interface Asked {
  readonly record: TrialRecord
  readonly rows: RowsBehind
}

/** Rows with their parts in whole units, the names of the columns first; no name of a person. */
export const rowTable = (name: RowTable, asked: Asked): readonly Cells[] => made[name](asked)

/** The phase of what was spread; "by bed" where each of its beds has its own, and none where it is not known. */
export const phaseTold = ({ phase }: Pick<SpreadingRecord, 'phase'>) => (phase === null ? 'by bed' : (phase ?? null))

const flag = (is: boolean | undefined) => (is ? 1 : 0)

const made: Record<RowTable, (asked: Asked) => readonly Cells[]> = {
  ground: ({ rows, record }) => [
    ['season', 'garden', 'bed', 'bed_area_cm2', 'gross_area_cm2'],
    ...rows.ground.map(({ seasonId, bed, part }) => [
      seasonName(record, seasonId),
      gardenName(record, bed.gardenId),
      bed.name ?? bed.id,
      part.bedAreaCm2,
      part.grossAreaCm2,
    ]),
  ],
  plantings: ({ rows, record }) => [
    [
      'planting',
      'season',
      'crop',
      'cultivar',
      'garden',
      'bed',
      'planted_area_cm2',
      'marketable_g',
      'unmarketable_g',
      'lost_area_cm2_permille',
      'standing',
      'matched',
      'written_area_cm2',
    ],
    ...rows.plantings.map(({ seasonId, planting, part, matched }) => [
      planting.id,
      seasonName(record, seasonId),
      planting.crop,
      planting.cultivar,
      ...gardenAndBed(record, planting.bedId),
      part.plantedAreaCm2,
      part.marketableG,
      part.unmarketableG,
      part.lostAreaPermille,
      part.standing,
      flag(matched),
      planting.wholeCm2 ?? planting.areaCm2,
    ]),
  ],
  weighings: ({ rows }) => [
    ['entry', 'planting', 'week', 'day', 'marketable_g', 'unmarketable_g', 'shared', 'cut'],
    ...rows.plantings.flatMap(({ planting }) =>
      weighedOf(planting).map((one) => [
        one.id ?? null,
        planting.id,
        one.isoWeek,
        one.on ?? null,
        one.marketableG,
        one.unmarketableG,
        flag(one.shared),
        one.cut ?? null,
      ]),
    ),
  ],
  hours: ({ rows, record }) => [
    [
      'entry',
      'counted_in',
      'written_in',
      'week',
      'day',
      'task',
      'phase',
      'planting',
      'written_min',
      'part_min',
      'part_spread_min',
    ],
    ...rows.hours.map(({ seasonId, entry, part }) => [
      entry.id ?? null,
      seasonName(record, seasonId),
      seasonName(record, entry.seasonId),
      entry.isoWeek ?? null,
      entry.workedOn ?? null,
      entry.task,
      entry.phase,
      entry.plantingId ?? null,
      entry.sharedMinutes ?? entry.personMinutes,
      minutesIn({ part }),
      spreadIn({ part }),
    ]),
  ],
  costs: ({ rows, record }) => [
    [
      'spreading',
      'counted_in',
      'spread_in',
      'day',
      'input',
      'phase',
      'planting',
      'cost_minor',
      'paid_minor',
      'useful_life_seasons',
      'part_cost_minor',
      'part_paid_minor',
      'part_cost_spread_minor',
      'part_paid_spread_minor',
    ],
    ...rows.costs.map(({ seasonId, spreading: one, part }) => [
      one.id ?? null,
      seasonName(record, seasonId),
      seasonName(record, one.seasonId),
      one.on ?? null,
      one.input ?? null,
      phaseTold(one),
      one.plantingId ?? null,
      one.costMinor,
      one.cashMinor === undefined ? one.costMinor : one.cashMinor,
      one.usefulLifeSeasons,
      part.costMinor,
      part.cashMinor,
      part.costSpread,
      part.cashSpread,
    ]),
  ],
  losses: ({ rows, record }) => [
    ['loss', 'planting', 'season', 'crop', 'day', 'cause', 'outside_method', 'share_permille', 'area_cm2_permille'],
    ...rows.losses.map(({ seasonId, planting, loss, areaPermille }) => [
      loss.id ?? null,
      planting.id,
      seasonName(record, seasonId),
      cropName(planting),
      loss.lostOn,
      loss.cause ?? 'unknown',
      flag(loss.outsideMethod),
      loss.sharePermille,
      areaPermille,
    ]),
  ],
  weeks: ({ rows, record }) => [
    ['season', 'garden', 'week', 'hours_closed', 'weights_closed'],
    ...rows.weeks.map(({ seasonId, gardenId, isoWeek, part }) => [
      seasonName(record, seasonId),
      gardenName(record, gardenId),
      isoWeek,
      part.hoursClosed,
      part.weightsClosed,
    ]),
  ],
  entries: ({ rows, record }) => [
    ['entry', 'season', 'of', 'week', 'day', 'written', 'read_off_paper', 'late'],
    ...rows.entries.map(({ seasonId, entry }) => [
      entry.id ?? null,
      seasonName(record, seasonId),
      entry.of ?? null,
      entry.isoWeek ?? null,
      entry.on ?? null,
      entry.written ?? null,
      flag(entry.paper),
      flag(entry.late),
    ]),
  ],
}

type OfPart = Pick<RowPart, 'part'>

export const minutesIn = ({ part }: OfPart) => part.minutesWithoutHarvest + part.minutesOfHarvest
export const spreadIn = ({ part }: OfPart) => part.groundSpread + part.harvestSpread + part.compostSpread

export const seasonName = (record: TrialRecord, id: string) => nameIfAny(record.seasons.find((one) => one.id === id))
export const gardenName = (record: TrialRecord, id: string) => nameIfAny(record.gardens.find((one) => one.id === id))

/** The garden and the name of a bed. */
export function gardenAndBed(record: TrialRecord, bedId: string): readonly [string, string] {
  const bed = record.beds.find((one) => one.id === bedId)
  return [gardenName(record, linkOf(bed?.gardenId)), bed?.name ?? bedId]
}
