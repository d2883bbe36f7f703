import { describe, expect, it } from 'vitest'
import { dayTicks, weekTicks } from '../../src/comparison/pictures/time-ticks.ts'
import { crossingWeek, runningTotals } from '../../src/comparison/record/crossing-week.ts'
import { labourByWeek, taskGroups } from '../../src/comparison/totals/labour-by-week.ts'
import { taskNames } from '../../src/diary/tasks.ts'
import type { IsoDate } from '../../src/quantities/dates.ts'

describe('hours so far', () => {
  it('add up, and after an open week are at least what is given', () => {
    expect(runningTotals([2, 3, null, 4])).toEqual([
      { total: 2, sure: true },
      { total: 5, sure: true },
      { total: null, sure: false },
      { total: 9, sure: false },
    ])
  })
})

describe('the week in which the hours of two methods cross', () => {
  it('is the one from whose end on the order is the other way round', () => {
    // By hand: 5, 7, 8, 9 against 3, 6, 10, 14: behind until the second week, ahead from the third.
    expect(crossingWeek([5, 2, 1, 1], [3, 3, 4, 4])).toEqual({ week: 2, totals: [8, 10], times: 1, weeksKnown: 4 })
  })

  it('is none where one stays ahead, or where they are the same', () => {
    expect(crossingWeek([5, 2], [3, 3]).week).toBeNull()
    expect(crossingWeek([1, 1], [1, 1])).toEqual({ week: null, totals: null, times: 0, weeksKnown: 2 })
    expect(crossingWeek([], [])).toEqual({ week: null, totals: null, times: 0, weeksKnown: 0 })
  })

  it('is none where they meet and part as before', () => {
    // 3, 4, 7 against 1, 4, 5.
    expect(crossingWeek([3, 1, 3], [1, 3, 1]).week).toBeNull()
  })

  it('is the week after they were level, where they part the other way', () => {
    // 3, 4, 5 against 1, 4, 7.
    expect(crossingWeek([3, 1, 1], [1, 3, 3])).toMatchObject({ week: 2, totals: [5, 7], times: 1 })
  })

  it('is the last of several, and says how many', () => {
    // 2, 2, 6, 6 against 1, 4, 4, 9: ahead, behind, ahead, behind.
    expect(crossingWeek([2, 0, 4, 0], [1, 3, 0, 5])).toMatchObject({ week: 3, times: 3 })
  })

  it('is not looked for after a week that is open for one of them', () => {
    expect(crossingWeek([5, null, 1, 1], [3, 3, 9, 9])).toEqual({ week: null, totals: null, times: 0, weeksKnown: 1 })
  })

  it('is the same whichever is named first', () => {
    expect(crossingWeek([3, 3, 4, 4], [5, 2, 1, 1]).week).toBe(crossingWeek([5, 2, 1, 1], [3, 3, 4, 4]).week)
  })
})

describe('labour by week', () => {
  const weeks = ['2026-W32', '2026-W33', '2026-W34'] as const
  const entries = [
    { week: '2026-W32', task: 'weeding', minutes: 90 },
    { week: '2026-W32', task: 'watering', minutes: 30 },
    { week: '2026-W33', task: 'harvest', minutes: 60 },
    { week: '2026-W34', task: 'mending the gate', minutes: 15 },
  ] as const

  it('is nothing in a closed week without an entry, and unknown in an open one', () => {
    const byGroup = new Map(
      labourByWeek(entries, weeks, new Set(['2026-W32', '2026-W34'])).map((one) => [one.group, one.minutes]),
    )
    expect(byGroup.get('tending')).toEqual([120, null, 0])
    expect(byGroup.get('harvest')).toEqual([0, null, 0])
  })

  it('loses no minute, not even of a task without a group', () => {
    const minutes = labourByWeek(entries, weeks, new Set(weeks)).flatMap((one) => one.minutes)
    expect(minutes.reduce<number>((sum, one) => sum + (one ?? 0), 0)).toBe(195)
  })

  it('has every task of the diary in one group', () => {
    expect(Object.values(taskGroups).flat().sort()).toEqual([...taskNames].sort())
  })
})

describe('names along the time', () => {
  it('are the months in which a week begins one', () => {
    const weeks = ['2026-W52', '2026-W53', '2027-W01', '2027-W04', '2027-W05'] as const
    expect(weekTicks(weeks, 'en-NZ')).toEqual([
      { at: 1, label: 'Jan' },
      { at: 4, label: 'Feb' },
    ])
  })

  it('are years over a long time and months over a short one', () => {
    const labels = (first: IsoDate, last: IsoDate) => dayTicks(first, last, 'en-NZ').map((tick) => tick.label)
    expect(labels('2024-07-12', '2027-08-12')).toEqual(['2025', '2026', '2027'])
    expect(labels('2026-07-12', '2026-11-02')).toEqual(['Aug 2026', 'Sept 2026', 'Oct 2026', 'Nov 2026'])
    expect(labels('2026-07-12', '2026-07-12')).toEqual([])
  })
})
