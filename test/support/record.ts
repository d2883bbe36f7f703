import { seasonWeeks } from '../../src/comparison/record/near-weeks.ts'
import type { TrialRecord } from '../../src/comparison/record/trial-record.ts'
import { always } from '../../src/gardens/areas-held.ts'

export const pair = { methodA: 'dug', methodB: 'mulch' }

/** Two gardens of one bed each; kilograms by season and crop, and m2 planted. */
export interface Grown {
  readonly m2: number
  readonly a: number
  readonly b: number
}

export function recordOf(seasons: readonly Readonly<Record<string, Grown>>[]): TrialRecord {
  const ids = seasons.map((_, i) => `s${i}`)
  const record: TrialRecord = {
    seasons: ids.map((id, i) => ({
      id,
      name: id,
      startsOn: `${2020 + i}-01-01`,
      endsOn: `${2020 + i}-01-20`,
      closed: true,
      changedSince: 0,
      sealed: 0,
    })),
    methods: [
      { id: 'dug', name: 'Dug' },
      { id: 'mulch', name: 'Mulch' },
    ],
    gardens: [
      { id: 'A', name: 'Lower Terrace', areas: always(2_000_000) },
      { id: 'B', name: 'Long Bank', areas: always(2_000_000) },
    ],
    beds: [
      { id: 'a', gardenId: 'A', areas: always(1_000_000) },
      { id: 'b', gardenId: 'B', areas: always(1_000_000) },
    ],
    assignments: ids.flatMap((seasonId) => [
      { seasonId, gardenId: 'A', bedId: null, methodId: 'dug' },
      { seasonId, gardenId: 'B', bedId: null, methodId: 'mulch' },
    ]),
    plantings: seasons.flatMap((crops, i) =>
      Object.entries(crops).flatMap(([crop, grown]) =>
        (['a', 'b'] as const).map((bedId) => ({
          ...{
            id: `${i} ${crop} ${bedId}`,
            seasonId: `s${i}`,
            bedId,
            crop,
            cultivar: 'x',
            matchedSetId: `${i} ${crop}`,
          },
          ...{ areaCm2: Math.round(grown.m2 * 10_000), purpose: 'harvest', cleared: true, unmarketableG: 0 },
          marketableG: Math.round(grown[bedId] * 1000),
        })),
      ),
    ),
    losses: [],
    ...{ labour: [], spreadings: [] },
    closings: [],
  }
  return { ...record, closings: allClosed(record, ['weights']) }
}

/** Every week of every garden closed. */
export const allClosed = (record: TrialRecord, kinds: readonly string[] = ['hours', 'weights']) =>
  record.seasons.flatMap((season) =>
    seasonWeeks(record, season.id).flatMap((isoWeek) =>
      record.gardens.flatMap((garden) => kinds.map((what) => ({ gardenId: garden.id, isoWeek, what }))),
    ),
  )

export const got = <T extends { kind: string }>(one: T): Extract<T, { kind: 'answer' }> => {
  if (one.kind !== 'answer') throw new Error(JSON.stringify(one))
  return one as Extract<T, { kind: 'answer' }>
}
