import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import type { TrialRecord } from '../../src/comparison/record/trial-record.ts'
import { errorOfMeasuring } from '../../src/comparison/totals/error-of-measuring.ts'
import { methodTotals } from '../../src/comparison/totals/method-totals.ts'
import { newId } from '../../src/db/new-id.ts'
import { secondWeeksOf } from '../../src/diary/second-weeks.ts'
import { isLate } from '../../src/diary/written.queries.ts'
import { always } from '../../src/gardens/areas-held.ts'
import { openPlace, type Place } from '../support/app.ts'
import { wholeCompare } from '../support/compare.ts'
import { plain, rowOf } from '../support/page-checks.ts'
import { plantingOf, setUpTrial, type Trial } from '../support/trial.ts'

describe('how well it is weighed, by hand', () => {
  it('is the SD of the logarithms over the root of two', () => {
    // ln 1.1 = 0.09531; the SD of 0.09531 and 0 is 0.09531 / sqrt 2, and over sqrt 2 again half of it.
    const found = errorOfMeasuring([
      [10_000, 11_000],
      [20_000, 20_000],
    ])
    expect(found).toMatchObject({ kind: 'answer', pairs: 2 })
    expect(found.kind === 'answer' && found.sdLog).toBeCloseTo(0.0476551, 7)
    expect(found.kind === 'answer' && found.meanLog).toBeCloseTo(0.0476551, 7)
  })

  it('two people who differ alike on everything differ on the whole and not by chance', () => {
    const found = errorOfMeasuring([
      [1000, 1020],
      [4000, 4080],
      [500, 510],
    ])
    expect(found.kind === 'answer' && found.sdLog).toBeCloseTo(0, 12)
    expect(found.kind === 'answer' && Math.exp(found.meanLog)).toBeCloseTo(1.02, 12)
  })

  it('is not said of one pair, nor of nothing that was weighed', () => {
    expect(errorOfMeasuring([])).toMatchObject({ kind: 'refused', reason: 'too few', detail: '0' })
    const one: [number, number][] = [
      [1000, 1001],
      [0, 500],
    ]
    expect(errorOfMeasuring(one)).toMatchObject({ kind: 'refused', detail: '1' })
  })
})

describe('the two weeks that are read twice', () => {
  const season = { id: 'a', startsOn: '2025-08-01', endsOn: '2026-05-31' } as const

  it('lie in the season, one in its middle third and one in its last, and stay the same', () => {
    expect(secondWeeksOf(season)).toEqual(secondWeeksOf({ ...season }))
    const drawn = Array.from({ length: 300 }, (_, i) => secondWeeksOf({ ...season, id: `season ${i}` }))
    // By their Thursdays 43 weeks, 2025-W32 to W52 and 2026-W01 to W22: the 15th is 2025-W46, the 29th 2026-W08.
    expect(drawn.every(([first = '']) => first >= '2025-W46' && first <= '2026-W07')).toBe(true)
    expect(drawn.every(([, second = '']) => second >= '2026-W08' && second <= '2026-W22')).toBe(true)
    expect(new Set(drawn.map(([first]) => first)).size).toBe(14)
    expect(drawn.every((weeks) => weeks.length === 2)).toBe(true)
  })
})

describe('how entries came into the record', () => {
  it('late is more than fourteen days after', () => {
    expect([isLate('2026-01-01', '2026-01-15'), isLate('2026-01-01', '2026-01-16')]).toEqual([false, true])
  })

  it('an entry counts once for each method that it touches, and in its season only', () => {
    const entry = (bedIds: string[], more: object) => ({ seasonId: 's', bedIds, paper: false, late: false, ...more })
    const record: TrialRecord = {
      ...{ plantings: [], losses: [], labour: [], spreadings: [], closings: [] },
      seasons: [
        { id: 's', name: 's', startsOn: '2025-08-01', endsOn: '2026-05-31', closed: false, changedSince: 0, sealed: 0 },
      ],
      methods: ['dug', 'mulch'].map((id) => ({ id, name: id })),
      gardens: ['g', 'h'].map((id) => ({ id, name: id, areas: always(100) })),
      beds: [
        { id: 'g1', gardenId: 'g', areas: always(10) },
        { id: 'g2', gardenId: 'g', areas: always(10) },
        { id: 'h1', gardenId: 'h', areas: always(10) },
      ],
      assignments: [
        { seasonId: 's', gardenId: 'g', bedId: null, methodId: 'dug' },
        { seasonId: 's', gardenId: 'h', bedId: null, methodId: 'mulch' },
      ],
      entries: [
        entry(['g1', 'g2'], { paper: true }),
        entry(['g2', 'h1'], { paper: true, late: true }),
        entry(['h1'], {}),
        entry(['h1'], { seasonId: 'other', late: true }),
      ],
    }
    const of = (method: string) => {
      const { entries, entriesFromPaper, entriesLate } = methodTotals(record, 's').get(method) ?? {}
      return [entries, entriesFromPaper, entriesLate]
    }
    expect(of('dug')).toEqual([2, 2, 1])
    expect(of('mulch')).toEqual([2, 1, 1])
  })
})

describe('on Compare', () => {
  let place: Place
  let trial: Trial
  beforeAll(async () => {
    place = await openPlace()
    trial = await setUpTrial(place)
  })
  afterAll(() => place.close())

  it('entries off paper and late ones stand with the weeks that are closed, and explain themselves', async () => {
    const { keeper, base, gardens } = trial
    const weigh = (crop: string, garden: string, more: object) => {
      const sent = {
        id: newId(),
        plantingId: plantingOf(trial, crop, garden),
        harvestedOn: '2026-01-28',
        marketable: '2',
      } as const
      return keeper.post(`${base}/weeks/2026-W05/harvests`, { ...sent, ...more })
    }
    expect((await weigh('carrot', 'Lower', { source: 'paper' })).status).toBe(303)
    expect((await weigh('carrot', 'Long', {})).status).toBe(303)
    const shared = { id: newId(), gardenIds: [gardens.lower, gardens.bank], shareRule: 'area', task: 'weeding' }
    const hours = await keeper.post(`${base}/weeks/2026-W05/shared-hours`, { ...shared, time: '2', source: 'paper' })
    expect(hours.status).toBe(303)
    const page = (await wholeCompare(keeper, `${base}/compare`)).text
    expect(rowOf(page, 'Entries read off paper').slice(1)).toEqual(['2 of 2', '1 of 2'])
    // All of it was written months after January 2026.
    expect(rowOf(page, 'Entries written more than 14 days after').slice(1)).toEqual(['2 of 2', '2 of 2'])
    expect(plain(page)).toContain('How well it is weighed is not known')
    const told = await keeper.json<{ methods: { totals: Record<string, number> }[]; measuring: object }>(
      `${base}/compare.json`,
    )
    expect(told.methods.map((one) => one.totals.entriesFromPaper)).toEqual([2, 1])
    expect(told.measuring).toMatchObject({ kind: 'refused', reason: 'too few' })
    const about = (await keeper.get('/figures')).text
    for (const entry of ['entries', 'error-of-measuring']) expect(about).toContain(`id="${entry}"`)
  })
})
