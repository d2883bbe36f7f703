import { describe, expect, it } from 'vitest'
import { newId } from '../../src/db/new-id.ts'
import { type BandAssumed, organicBand } from '../../src/soil/organic-band.ts'
import { soilReportForm } from '../../src/soil/soil.form.ts'
import { aDay } from '../support/calendar.ts'

// 1 % is 1000 g a m2: 10 cm at 1 g/cm3.
const assumed: BandAssumed = { broughtGPerM2: 600, humified: null, decay: null, bulkDensity: 1, years: 50 }
const twoTests = [
  { day: aDay('2020-01-01'), percent: 4 },
  { day: aDay('2022-01-01'), percent: 4.1 },
]
const bandOf = (given: Partial<BandAssumed> = {}, tests = twoTests) => {
  const found = organicBand(tests, 100, { ...assumed, ...given })
  if (found.kind === 'refused') throw new Error(found.detail)
  return found
}
/** Made from 14.6 % lost a year, with errors of measuring that add up to nothing much. */
const fiveTests = (errors = [0.03, -0.04, 0.02, 0.01, -0.02]) => {
  const level = (600 * 0.4) / 0.146 / 1000
  return errors.map((error, i) => ({
    day: aDay(`${2016 + 2 * i}-01-01`),
    percent: level + (8 - level) * Math.exp(-0.146 * 2 * i) + error,
  }))
}

describe('a band of organic matter', () => {
  it('goes by published ranges while tests are few, and holds the closed form at each corner', () => {
    const found = bandOf()
    expect(found.middle.decayFrom).toBe('usual')
    // 600 g x 0.3 / 0.02, x 0.4 / 0.015, x 0.5 / 0.01, in per cent of 1000 g.
    expect(found.same.levelOff).toEqual({
      low: expect.closeTo(9, 9),
      middle: expect.closeTo(16, 9),
      high: expect.closeTo(30, 9),
    })
    expect(found.halved.levelOff.middle).toBeCloseTo(8, 9)
    expect(found.halfTime.low).toBeCloseTo(34.65735903, 7)
    expect(found.halfTime.high).toBeCloseTo(69.31471806, 7)
    // Design value: from 4000 g with h 0.3 and k 0.02, after 50 years 7160.602794 g.
    expect(found.same.course[50]?.percent.low).toBeCloseTo(7.160602794, 8)
    const cases = [0.3, 0.35, 0.4, 0.45, 0.5].flatMap((humified) =>
      [0.01, 0.0125, 0.015, 0.02].map((decay) => bandOf({ humified, decay }).same.course),
    )
    for (const { year, percent } of found.same.course) {
      const all = cases.map((course) => course[year]?.percent.middle ?? Number.NaN)
      expect(Math.min(...all)).toBeCloseTo(percent.low, 9)
      expect(Math.max(...all)).toBeCloseTo(percent.high, 9)
    }
  })

  it('is led by five tests that fit 14.6 % a year, and not by an assumption', () => {
    const found = bandOf({}, fiveTests())
    expect(found.middle.decayFrom).toBe('tests')
    expect(found.decay.low).toBeGreaterThan(0.05)
    expect(found.decay.middle).toBeGreaterThan(0.13)
    expect(found.decay.middle).toBeLessThan(0.16)
    expect(found.halfTime.high).toBeLessThan(Math.LN2 / 0.05)
    // What is brought and what is found fix the level: 240 g / 0.146 is 1.64 %.
    expect(found.same.levelOff.low).toBeLessThan(1.64)
    expect(found.same.levelOff.high).toBeGreaterThan(1.64)
    expect(found.same.levelOff.high).toBeLessThan(16)
  })

  it('says so where a decay that was typed lies outside the interval of the tests', () => {
    expect(bandOf({ decay: 0.05 }, fiveTests()).overrules).not.toBeNull()
    expect(bandOf({ decay: 0.146 }, fiveTests()).overrules).toBeNull()
    expect(bandOf({ decay: 0.05 }).overrules).toBeNull()
  })

  it('half as much begins with the last test, and lies below from then on', () => {
    const { same, halved } = bandOf()
    expect(halved.course.slice(0, 3).map((one) => one.percent.middle)).toEqual(
      same.course.slice(0, 3).map((one) => expect.closeTo(one.percent.middle, 2)),
    )
    expect(
      halved.course.slice(3).every((one, i) => one.percent.middle < (same.course[i + 3]?.percent.middle ?? 0)),
    ).toBe(true)
  })

  it('an end that no mineral soil holds cannot be told, and does not pass as a figure', () => {
    const found = bandOf({ broughtGPerM2: 1000 })
    expect(found.same.levelOff).toMatchObject({ low: expect.closeTo(15, 9), high: null })
    expect(Math.max(...found.same.course.map((one) => one.percent.high))).toBeLessThanOrEqual(34.5)
  })
})

describe('what cannot be is refused', () => {
  const nonsense: [string, Partial<BandAssumed>, number, number][] = [
    ['512,820 %', { broughtGPerM2: 20_000, humified: 1, decay: 0.0001 }, 4, 300],
    ['peat as the middle', { broughtGPerM2: 3000 }, 4, 100],
    ['a test of peat', {}, 60, 100],
    ['more than all of it', {}, 120, 100],
    ['less than nothing', {}, -1, 100],
    ['ten metres of topsoil', {}, 4, 10_000],
    ['all lost in a year and more', { decay: 1.2 }, 4, 100],
    ['a negative dressing', { broughtGPerM2: -5 }, 4, 100],
  ]
  for (const [name, given, percent, depthMm] of nonsense)
    it(name, () => {
      const tests = twoTests.map((one) => ({ ...one, percent }))
      expect(organicBand(tests, depthMm, { ...assumed, ...given })).toMatchObject({ kind: 'refused' })
    })

  const typed = (value: string, depthMm = '0-20 cm') => {
    const test = { id: newId(), place: `garden:${newId()}`, sampledOn: '2024-08-05', laboratory: 'Harbour' }
    const more = { analyte: 'organic matter', extractant: '', unit: '%', lowUnder: '', highFrom: '' }
    return soilReportForm.safeParse({ ...test, ...more, value, depthMm }, { reportInput: true })
  }
  it('no test is above 100 %, and its depth is typed as people say it', () => {
    expect(typed('512820').success).toBe(false)
    expect(typed('100.1').success).toBe(false)
    expect(typed('4.8').data?.depthMm).toBe(200)
    expect(typed('4.8', '3 cm').data?.depthMm).toBe(30)
    expect(typed('4.8', '15').data?.depthMm).toBe(150)
  })
})
