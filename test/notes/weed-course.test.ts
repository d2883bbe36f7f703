import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { changeRate, type PatchSeen, patchCourses } from '../../src/notes/weed-course.ts'

describe('how fast a patch goes', () => {
  // ln(5 / 100) / 24 and ln 2 over it, as R gives them.
  it('from 100 to 5 shoots in 24 weeks it shrinks by 0.1248221781 a week and halves in 5.553077 weeks', () => {
    const found = changeRate(100, 5, 24)
    if (found.kind === 'refused') throw new Error(found.detail)
    expect(found.perWeek).toBeCloseTo(-0.1248221781, 10)
    expect(found.weeksToHalf).toBeCloseTo(5.553077, 6)
  })

  it('a patch that is gone, was not there, stood still or was seen twice in a day has no rate', () => {
    expect([changeRate(100, 0, 24), changeRate(0, 5, 24), changeRate(5, 5, 24), changeRate(100, 5, 0)]).toEqual([
      expect.objectContaining({ kind: 'refused', reason: 'zero total' }),
      expect.objectContaining({ kind: 'refused', reason: 'zero total' }),
      expect.objectContaining({ kind: 'refused', reason: 'no variation' }),
      expect.objectContaining({ kind: 'refused', reason: 'out of range' }),
    ])
  })

  it('followed over its weeks the rate leads from the one count to the other', () => {
    const count = fc.integer({ min: 1, max: 100_000 })
    fc.assert(
      fc.property(count, count, fc.integer({ min: 1, max: 500 }), (before, after, weeks) => {
        const found = changeRate(before, after, weeks)
        expect(found.kind).toBe(before === after ? 'refused' : 'answer')
        if (found.kind === 'refused') return
        expect((before * Math.exp(found.perWeek * weeks)) / after).toBeCloseTo(1, 9)
        expect(Math.exp(-Math.abs(found.perWeek) * found.weeksToHalf)).toBeCloseTo(0.5, 9)
      }),
    )
  })
})

it('sightings are one patch by species, place and position, in the order of their days', () => {
  const seen = (given: Partial<PatchSeen>): PatchSeen => ({
    ...{ gardenId: 'a', bedId: null, species: 'couch grass', position: 'pasture side', seenOn: '2025-05-20' },
    ...{ areaCm2: 60_000, coverPermille: null, shootsPerM2: 100, ...given },
  })
  // 168 days are 24 weeks.
  const later = seen({ seenOn: '2025-11-04', species: 'Couch  grass', shootsPerM2: 5 })
  const courses = patchCourses([later, seen({}), seen({ position: 'gate' }), seen({ gardenId: 'b' })])
  expect(courses.map((course) => course.sightings.length)).toEqual([2, 1, 1])
  expect(courses[0]?.sightings[1]).toMatchObject({
    area: { kind: 'refused', reason: 'no variation' },
    shoots: { kind: 'answer', perWeek: expect.closeTo(-0.1248221781, 10) },
  })
  const uncounted = patchCourses([seen({}), seen({ seenOn: '2026-05-20', shootsPerM2: null, areaCm2: 30_000 })])
  expect(uncounted[0]?.sightings[1]?.shoots).toBeNull()
  expect(uncounted[0]?.sightings[1]?.area?.kind).toBe('answer')
})
