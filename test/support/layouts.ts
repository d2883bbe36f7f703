import { seasonWeeks } from '../../src/comparison/record/near-weeks.ts'
import type { TrialRecord } from '../../src/comparison/record/trial-record.ts'
import { always } from '../../src/gardens/areas-held.ts'

/** One bed of 10 m2: what it carries in each season, rounded to whole minutes, grams and cents. */
export interface BedGrown {
  readonly garden: string
  readonly method: string
  readonly minutes: readonly number[]
  readonly kg: readonly number[]
  readonly cents: readonly number[]
  readonly block?: string
}

interface Written {
  readonly how?: string
  /** Hours and inputs written for each bed, or once for each garden. */
  readonly per?: 'bed' | 'garden'
}

/** A trial with every week closed and priced; one matched crop, or several, on every bed. */
export function laidBeds(beds: readonly BedGrown[], { how = 'random', per = 'bed' }: Written = {}): TrialRecord {
  const ids = (beds[0]?.kg ?? []).map((_, i) => `s${i}`)
  const gardens = [...new Set(beds.map((bed) => bed.garden))]
  const methods = [...new Set(beds.map((bed) => bed.method))].sort()
  const record: TrialRecord = {
    seasons: ids.map((id, i) => ({
      id,
      name: id,
      startsOn: `${2020 + i}-01-06`,
      endsOn: `${2020 + i}-01-20`,
      closed: true,
      changedSince: 0,
      sealed: 0,
    })),
    methods: methods.map((id) => ({ id, name: `Method ${id}` })),
    gardens: gardens.map((id) => ({ id, name: id, areas: always(200_000), siteId: 'one' })),
    beds: beds.map((bed, i) => ({
      id: `b${i}`,
      gardenId: bed.garden,
      areas: always(100_000),
      blockId: bed.block ?? null,
    })),
    assignments: ids.flatMap((seasonId) =>
      beds.map((bed, i) => ({ seasonId, gardenId: bed.garden, bedId: `b${i}`, methodId: bed.method, how })),
    ),
    plantings: ids.flatMap((seasonId, s) =>
      beds.map((bed, i) => ({
        ...{ id: `${s} ${i}`, seasonId, bedId: `b${i}`, crop: 'leek', cultivar: 'x', matchedSetId: `set ${s}` },
        ...{ areaCm2: 100_000, purpose: 'harvest', cleared: true, unmarketableG: 0 },
        marketableG: Math.round(1000 * (bed.kg[s] ?? 0)),
      })),
    ),
    ...{ losses: [], labour: [], spreadings: [], closings: [] },
  }
  const places = per === 'bed' ? record.beds.map((bed) => [bed.id]) : gardens.map((garden) => bedsIn(record, garden))
  const sum = (bedIds: readonly string[], of: 'minutes' | 'cents', s: number) =>
    bedIds.reduce((all, id) => all + Math.round(beds[Number(id.slice(1))]?.[of][s] ?? 0), 0)
  return {
    ...record,
    labour: ids.flatMap((seasonId, s) =>
      places.map((bedIds) => ({
        ...{ seasonId, task: 'weeding', phase: 'established', bedIds },
        personMinutes: sum(bedIds, 'minutes', s),
      })),
    ),
    spreadings: ids.flatMap((seasonId, s) =>
      places.map((bedIds) => ({ seasonId, costMinor: sum(bedIds, 'cents', s), usefulLifeSeasons: 1, bedIds })),
    ),
    closings: ids.flatMap((id) =>
      seasonWeeks(record, id).flatMap((isoWeek) =>
        gardens.flatMap((gardenId) => ['hours', 'weights'].map((what) => ({ gardenId, isoWeek, what }))),
      ),
    ),
  }
}

const bedsIn = (record: TrialRecord, garden: string) =>
  record.beds.filter((bed) => bed.gardenId === garden).map((bed) => bed.id)
