import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { addDays, daysBetween, type IsoDate } from '../../src/quantities/dates.ts'
import { bedCourse, type InBed } from '../../src/seasons/bed-course.ts'

const span = { from: '2025-08-01', to: '2026-06-01' } as const
let made = 0
const planting = (sownOn: IsoDate, clearedOn: IsoDate | null, more: Partial<InBed> = {}): InBed => ({
  ...{ id: `p${++made}`, areaCm2: 40_000, how: 'direct', sownOn, plantedOn: null, clearedOn, interplanted: 0 },
  ...more,
})
const inWords = (plantings: readonly InBed[]) =>
  bedCourse(plantings, span).steps.map((step) =>
    step.kind === 'empty'
      ? `empty ${step.from} ${step.to} ${step.days}`
      : `${step.from} ${step.until} after ${step.after.length} empty ${step.emptyDays} beside ${step.beside.length}`,
  )

describe('the course of a bed', () => {
  it('is empty ground as a whole where nothing is planted', () => {
    // 1 August to 31 May: 31 + 30 + 31 + 30 + 31 + 31 + 28 + 31 + 30 + 31 days.
    expect(inWords([])).toEqual(['empty 2025-08-01 2026-06-01 304'])
  })

  it('tells what follows what, and the days between them', () => {
    const peas = planting('2025-09-01', '2025-12-03')
    const leeks = planting('2025-10-01', null, { how: 'transplanted', plantedOn: '2025-12-15' })
    expect(inWords([leeks, peas])).toEqual([
      'empty 2025-08-01 2025-09-01 31',
      '2025-09-01 2025-12-03 after 0 empty null beside 0',
      'empty 2025-12-03 2025-12-15 12',
      '2025-12-15 null after 1 empty 12 beside 0',
    ])
  })

  it('tells what stands beside what, and takes the day of clearing for the next', () => {
    const [first, second] = [planting('2025-09-01', '2025-12-03'), planting('2025-10-01', '2025-11-01')] as const
    expect(inWords([first, second, planting('2025-12-03', '2026-06-01')])).toEqual([
      'empty 2025-08-01 2025-09-01 31',
      '2025-09-01 2025-12-03 after 0 empty null beside 0',
      '2025-10-01 2025-11-01 after 0 empty null beside 1',
      '2025-12-03 2026-06-01 after 1 empty 0 beside 0',
    ])
  })

  it('goes by the day of clearing, and before there is one by the day until which it is meant to stand', () => {
    const meant = planting('2025-09-01', null, { standsUntil: '2025-12-03' })
    const longer = planting('2025-09-01', '2025-12-20', { standsUntil: '2025-12-03' })
    const next = planting('2025-12-10', null, { id: 'z' })
    expect(inWords([meant, next]).slice(1, 3)).toEqual([
      '2025-09-01 2025-12-03 after 0 empty null beside 0',
      'empty 2025-12-03 2025-12-10 7',
    ])
    expect(inWords([longer, next])[2]).toBe('2025-12-10 null after 0 empty null beside 1')
  })

  it('is fullest on one day, without what is interplanted and without what is gone', () => {
    const plantings = [
      planting('2025-09-01', '2025-12-03'),
      planting('2025-10-01', '2026-01-01', { areaCm2: 15_000 }),
      planting('2025-10-02', '2026-01-01', { interplanted: 1 }),
      planting('2025-12-03', null, { areaCm2: 30_000 }),
      planting('2024-10-02', '2025-07-01', { areaCm2: 90_000 }),
    ] as const
    expect(bedCourse(plantings, span).fullestCm2).toBe(55_000)
  })

  it('counts every day of the span once: as empty, or as one on which something stands', () => {
    const day = (days: number) => addDays(span.from, days)
    const one = fc.record({ from: fc.integer({ min: -50, max: 340 }), days: fc.integer({ min: 1, max: 200 }) })
    fc.assert(
      fc.property(fc.array(one, { maxLength: 6 }), (given) => {
        const plantings = given.map(({ from, days }) => planting(day(from), day(from + days)))
        const steps = bedCourse(plantings, span).steps
        const empty = steps.reduce((sum, step) => sum + (step.kind === 'empty' ? step.days : 0), 0)
        const all = Array.from({ length: daysBetween(span.from, span.to) }, (_, i) => day(i))
        const bare = all.filter(
          (on) => !plantings.some((own) => (own.sownOn ?? '') <= on && on < (own.clearedOn ?? '')),
        )
        expect(empty).toBe(bare.length)
      }),
    )
  })
})
