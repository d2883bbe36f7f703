import { describe, expect, it } from 'vitest'
import { always, areasOf } from '../../src/gardens/areas-held.ts'
import type { IsoDate } from '../../src/quantities/dates.ts'
import { fitsIn, fullestDay } from '../../src/seasons/room-in-bed.ts'

const planting = (areaCm2: number, sownOn: IsoDate, clearedOn: IsoDate | null = null, interplanted = 0) => ({
  ...{ areaCm2, sownOn, clearedOn, interplanted, how: 'direct', plantedOn: null, standsUntil: null },
})

describe('the room in a bed', () => {
  const shrunk = areasOf({ from: null, areaCm2: 100 }, [{ from: '2025-06-01', areaCm2: 60 }])

  it('is least on a day on which something starts', () => {
    const two = [planting(30, '2025-03-01', '2025-05-01'), planting(50, '2025-04-01')]
    expect(fullestDay(always(100), two)).toEqual({ day: '2025-04-01', needsCm2: 80, holdsCm2: 100 })
  })

  it('or on the day on which the bed becomes smaller', () => {
    expect(fullestDay(shrunk, [planting(70, '2025-03-01')])).toEqual({ day: '2025-06-01', needsCm2: 70, holdsCm2: 60 })
    expect(fullestDay(shrunk, [planting(70, '2025-03-01', '2025-06-01')])?.day).toBe('2025-03-01')
  })

  it('lets in what stands there before a bed becomes smaller, and not what would stand on', () => {
    expect(fitsIn(shrunk, [], planting(70, '2025-03-01', '2025-06-01'))).toBe(true)
    expect(fitsIn(shrunk, [], planting(70, '2025-03-01'))).toBe(false)
    expect(fitsIn(shrunk, [planting(50, '2025-02-01')], planting(70, '2025-03-01', '2025-05-01', 1))).toBe(true)
  })

  it('is none before a bed was there and after it was given up, for what is interplanted either', () => {
    const there = areasOf({ from: '2025-04-01', areaCm2: 100 }, [{ from: '2025-09-01', areaCm2: 0 }])
    expect(fitsIn(there, [], planting(10, '2025-03-31', '2025-05-01', 1))).toBe(false)
    expect(fitsIn(there, [], planting(10, '2025-04-01', '2025-09-01'))).toBe(true)
    expect(fitsIn(there, [], planting(10, '2025-09-01'))).toBe(false)
  })

  it('of a relay is that of the crop it was sown into, and its own from the day on which that goes', () => {
    const leek = planting(80, '2025-03-01', '2025-07-01')
    const relay = planting(70, '2025-06-01', null, 1)
    expect(fitsIn(always(100), [leek], relay)).toBe(true)
    expect(fitsIn(always(100), [leek, relay], planting(20, '2025-06-15', '2025-07-01'))).toBe(true)
    expect(fitsIn(always(100), [leek, relay], planting(40, '2025-07-01'))).toBe(false)
    expect(fitsIn(always(100), [leek, relay], planting(30, '2025-07-01'))).toBe(true)
    expect(fullestDay(always(100), [leek, relay, planting(40, '2025-07-01')])).toEqual({
      ...{ day: '2025-07-01', needsCm2: 110, holdsCm2: 100 },
    })
  })

  it('of what is interplanted without a crop that it was put into is none', () => {
    expect(fitsIn(always(100), [planting(90, '2025-05-01')], planting(70, '2025-03-01', null, 1))).toBe(true)
  })
})
