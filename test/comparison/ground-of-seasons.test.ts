import { describe, expect, it } from 'vitest'
import type { TrialRecord } from '../../src/comparison/record/trial-record.ts'
import { untilSeasons } from '../../src/comparison/record/until-seasons.ts'
import { methodTotals } from '../../src/comparison/totals/method-totals.ts'
import { always, areasOf } from '../../src/gardens/areas-held.ts'
import { recordOf } from '../support/record.ts'

/** Two seasons of twenty days, 1 to 20 January 2020 and 2021: one bed of 100 m2 in each of two gardens of 200 m2. */
const base = recordOf([{ carrot: { m2: 10, a: 20, b: 30 } }, { carrot: { m2: 10, a: 25, b: 28 } }])
const totals = (record: TrialRecord, season: string, method: string) => methodTotals(record, season).get(method)

describe('the ground that figures rest on', () => {
  const changed: TrialRecord = {
    ...base,
    gardens: base.gardens.map((one) => ({
      ...one,
      areas: areasOf({ from: null, areaCm2: 2_000_000 }, [{ from: '2021-01-11', areaCm2: 2_400_000 }]),
    })),
    beds: [
      {
        id: 'a',
        gardenId: 'A',
        areas: areasOf({ from: null, areaCm2: 1_000_000 }, [{ from: '2021-01-11', areaCm2: 1_500_000 }]),
      },
      { id: 'b', gardenId: 'B', areas: always(1_000_000) },
      { id: 'late', gardenId: 'B', areas: [{ from: '2021-01-16', areaCm2: 400_000 }] },
    ],
    labour: [
      {
        ...{ seasonId: 's0', task: 'weeding', phase: 'established', personMinutes: 90, bedIds: ['b', 'late'] },
        ...{ isoWeek: '2020-W02', gardenId: 'B' },
      },
    ],
  }

  it('is as it lay in each season, its days weighed where it changed within one', () => {
    expect(totals(changed, 's0', 'dug')?.bedAreaCm2).toBe(1_000_000)
    // Ten days of 100 m2 and ten of 150; a bed of 40 m2 on the last five of twenty days.
    expect(totals(changed, 's1', 'dug')?.bedAreaCm2).toBe(1_250_000)
    expect(totals(changed, 's1', 'mulch')?.bedAreaCm2).toBe(1_100_000)
    expect(totals(changed, 's1', 'dug')?.grossAreaCm2).toBe(2_200_000)
  })

  it('that came later is no ground of an earlier season, and takes no part of its hours', () => {
    expect(totals(changed, 's0', 'mulch')).toMatchObject({
      ...{ bedAreaCm2: 1_000_000, grossAreaCm2: 2_000_000, gardens: 1, minutesWithoutHarvest: 90 },
    })
  })

  it('of an earlier season is read without what came in later ones', () => {
    const until = untilSeasons(base, ['s0'])
    expect(until.seasons.map((one) => one.id)).toEqual(['s0'])
    expect(new Set(until.plantings.map((one) => one.seasonId))).toEqual(new Set(['s0']))
    expect(untilSeasons(base, ['s0', 's1'])).toBe(base)
    expect(untilSeasons(base, ['s1'])).toBe(base)
  })
})
