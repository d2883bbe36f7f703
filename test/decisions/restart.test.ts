import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import type { TrialRecord } from '../../src/comparison/record/trial-record.ts'
import {
  breakEvenHoeing,
  breakEvenSeasons,
  burdenWeighed,
  covering,
  gainOfCovering,
  hoeing,
  type RestartCase,
  seasonsOfHoeing,
  type Worth,
} from '../../src/decisions/restart.ts'
import { type Assumptions, assumedKeys, decidedBy, restartChances } from '../../src/decisions/restart-chances.ts'
import { restartStart } from '../../src/decisions/restart-start.ts'
import { always } from '../../src/gardens/areas-held.ts'
import type { IsoDate } from '../../src/quantities/dates.ts'
import { triangular } from '../../src/statistics/triangular.ts'

/** 10 m2 that give 20 kg for 5 h of work in a season, the weed another 5 h; 4 h of covering for one season of three. */
const bed: RestartCase = {
  seasons: 3,
  covered: 1,
  coverMinutes: 240,
  hoeMinutes: 300,
  falls: 0,
  lostToWeed: 0,
  comesBack: 0,
  ownG: 20_000,
  ownMinutes: 300,
  transplantMinutes: 0,
  transplantLost: 0,
}
/** 15 minutes a kg: the 20 kg cost the 5 h that they took. */
const inHours: Worth = { kind: 'hours', minutesPerKg: 15 }
const inMoney: Worth = { kind: 'money', wageMinorPerHour: 2_000, priceMinorPerKg: 800, materialsMinor: 5_000 }

describe('covering a weedy bed or hoeing on, worked by hand', () => {
  it('an ordinary bed: what it spares and what it loses cancel, and 4 h of covering stand against 15 h of hoeing', () => {
    expect(hoeing(bed)).toEqual({ minutes: 900, lostG: 0, sparedMinutes: 0, coveredG: 0 })
    expect(covering(bed)).toEqual({ minutes: 240, lostG: 20_000, sparedMinutes: 300, coveredG: 20_000 })
    // 240 + 20 kg x 15 - 300 = 240; 900 - 240 = 660 minutes.
    expect(burdenWeighed(covering(bed), inHours)).toBe(240)
    expect(gainOfCovering(bed, inHours)).toBe(660)
    // 240 minutes over three seasons of hoeing: 80 a season.
    expect(breakEvenHoeing(bed, inHours)).toBeCloseTo(80, 9)
    // One season of hoeing is 300 and more than 240: within the first season.
    expect(breakEvenSeasons(bed, inHours)).toBeCloseTo(0.8, 2)
  })

  it('the other sign: little hoeing and a weed that comes back for certain', () => {
    const light = { ...bed, hoeMinutes: 60, comesBack: 1 }
    // Hoeing 180; covering 240 and one more season of 60: 300.
    expect(gainOfCovering(light, inHours)).toBe(-120)
    // Each minute of hoeing costs three on one side and one on the other: 240 / 2.
    expect(breakEvenHoeing(light, inHours)).toBeCloseTo(120, 9)
    expect(breakEvenHoeing({ ...light, seasons: 1, covered: 1 }, inHours)).toBeCloseTo(240, 9)
  })

  it('a bed whose only work was weeding is credited no crop work', () => {
    const idle = { ...bed, ownG: 0, ownMinutes: 0 }
    expect(burdenWeighed(covering(idle), inHours)).toBe(240)
    // Work without a harvest is not credited either: a bed left unplanted spares it without any cover.
    expect(burdenWeighed(covering({ ...idle, ownMinutes: 600 }), inHours)).toBe(240)
  })

  it('without its own hours a kilogram, neither the harvest nor the work is counted', () => {
    const unknown: Worth = { kind: 'hours', minutesPerKg: null }
    expect(burdenWeighed(covering(bed), unknown)).toBe(240)
    expect(covering(bed).lostG).toBe(20_000)
  })

  it('in money: hours x wage + lost kg x price + materials, less the work spared up to the worth of its harvest', () => {
    // Hoeing 15 h x 20 = 300. Covering 4 h x 20 + 20 kg x 8 - 5 h x 20 = 80 + 160 - 100 = 140, and 50 of materials.
    expect(burdenWeighed(hoeing(bed), inMoney)).toBeCloseTo(30_000, 6)
    expect(burdenWeighed(covering(bed), inMoney)).toBeCloseTo(14_000, 6)
    expect(gainOfCovering(bed, inMoney)).toBeCloseTo(11_000, 6)
    // A cheap crop: 20 kg x 2 = 40, so at most 40 of the 100 is credited.
    expect(burdenWeighed(covering(bed), { ...inMoney, priceMinorPerKg: 200 })).toBeCloseTo(8_000, 6)
  })

  it('hoeing that falls by half each season is 1 + 1/2 + 1/4, and a part of a season its part', () => {
    expect(seasonsOfHoeing(3, 0.5)).toBe(1.75)
    expect(seasonsOfHoeing(2.5, 0.5)).toBe(1.625)
    expect(hoeing({ ...bed, falls: 0.5, lostToWeed: 0.1 })).toMatchObject({ minutes: 525, lostG: 3_500 })
  })

  it('a first season of transplants costs its work and its share of the harvest', () => {
    const planted = { ...bed, transplantMinutes: 90, transplantLost: 0.25 }
    expect(covering(planted)).toMatchObject({ minutes: 330, lostG: 25_000 })
  })
})

const share = fc.double({ min: 0, max: 1, noNaN: true })
const figure = fc.double({ min: 0, max: 5_000, noNaN: true })
const anyCase = fc.record({
  seasons: fc.double({ min: 1, max: 10, noNaN: true }),
  covered: fc.double({ min: 0.25, max: 3, noNaN: true }),
  coverMinutes: figure,
  hoeMinutes: figure,
  falls: share,
  lostToWeed: share,
  comesBack: share,
  ownG: fc.double({ min: 0, max: 100_000, noNaN: true }),
  ownMinutes: figure,
  transplantMinutes: figure,
  transplantLost: share,
})
const anyWorth: fc.Arbitrary<Worth> = fc.oneof(
  fc.record({
    kind: fc.constant('hours' as const),
    minutesPerKg: fc.option(fc.double({ min: 0, max: 300, noNaN: true })),
  }),
  fc.record({
    kind: fc.constant('money' as const),
    wageMinorPerHour: fc.nat(10_000),
    priceMinorPerKg: fc.nat(5_000),
    materialsMinor: fc.nat(50_000),
  }),
)

describe('covering, whatever the figures', () => {
  it('a clean bed never gains by it', () => {
    fc.assert(
      fc.property(anyCase, anyWorth, (given, worth) => {
        expect(gainOfCovering({ ...given, hoeMinutes: 0, lostToWeed: 0 }, worth)).toBeLessThanOrEqual(1e-6)
      }),
    )
  })

  it('it gains just beyond its break-even and not just below it', () => {
    fc.assert(
      fc.property(anyCase, anyWorth, (given, worth) => {
        const needs = breakEvenHoeing(given, worth)
        fc.pre(needs !== null && needs > 1e-3 && needs < 1e7)
        const at = (times: number) => gainOfCovering({ ...given, hoeMinutes: (needs ?? 0) * times }, worth)
        expect(at(1.01)).toBeGreaterThanOrEqual(-1e-6)
        expect(at(0.99)).toBeLessThanOrEqual(1e-6)
      }),
    )
  })
})

const sure = (given: RestartCase) =>
  Object.fromEntries(
    assumedKeys.map((key) => [key, { low: given[key], middle: given[key], high: given[key] }]),
  ) as unknown as Assumptions

describe('covering by chance', () => {
  const asked = { seasons: 3, worth: inHours, seed: 7, draws: 2_000 }

  it('with nothing unsure every draw is the middle, and none decides', () => {
    const found = restartChances({ ...asked, assumptions: sure(bed) })
    expect([found.coveringLess, decidedBy(found), found.moved]).toEqual([1, null, []])
    expect(found.course.at(-1)).toEqual({
      season: 3,
      hoeing: { low: 900, middle: 900, high: 900 },
      covering: { low: 240, middle: 240, high: 240 },
    })
  })

  it('the share agrees with the triangle it is drawn from, worked by hand', () => {
    // Only the hoeing is unsure, 0 to 160 with its middle at 80, its break-even: by symmetry half of it lies above.
    const assumptions = { ...sure(bed), hoeMinutes: { low: 0, middle: 80, high: 160 } }
    const found = restartChances({ ...asked, assumptions })
    // Four standard errors of a share of one half in 2000 draws.
    expect(Math.abs(found.coveringLess - 0.5)).toBeLessThan(4 * Math.sqrt(0.25 / 2_000))
    expect(decidedBy(found)).toBe('hoeMinutes')
    expect(found.moved).toEqual([{ key: 'hoeMinutes', low: 0, high: 1 }])
  })

  it('the weed comes back in as many draws as is said', () => {
    // Back: 240 + 300 against 900 at three seasons; a hoeing of 100: 300 against 240 alone, or 340 with it back.
    const assumptions = { ...sure({ ...bed, hoeMinutes: 100, comesBack: 0.3 }) }
    const found = restartChances({ ...asked, assumptions })
    expect(Math.abs(found.coveringLess - 0.7)).toBeLessThan(4 * Math.sqrt(0.21 / 2_000))
  })

  it('the triangle: ends, mode and quartile', () => {
    const spread = { low: 0, middle: 1, high: 4 }
    expect([triangular(0, spread), triangular(0.25, spread), triangular(1, spread)]).toEqual([0, 1, 4])
    // F(x) = 1 - (4 - x)^2 / 12 above the mode: at 2 it is 2/3.
    expect(triangular(2 / 3, spread)).toBeCloseTo(2, 12)
  })
})

describe('what the record knows of a weedy bed', () => {
  const record = {
    seasons: [
      { id: 's', name: '2025', startsOn: '2025-01-01', endsOn: '2025-12-31', closed: true, changedSince: 0, sealed: 0 },
    ],
    methods: [{ id: 'm', name: 'Deep hay mulch' }],
    gardens: [{ id: 'g', name: 'Hay Meadow', areas: always(400_000) }],
    beds: [
      { id: 'weedy', gardenId: 'g', areas: always(100_000) },
      { id: 'clean', gardenId: 'g', areas: always(200_000) },
    ],
    assignments: [{ seasonId: 's', gardenId: 'g', bedId: null, methodId: 'm' }],
    plantings: [
      {
        id: 'p',
        seasonId: 's',
        bedId: 'clean',
        crop: 'leek',
        cultivar: 'Moor',
        matchedSetId: null,
        areaCm2: 200_000,
        purpose: 'harvest',
        cleared: true,
        marketableG: 40_000,
        unmarketableG: 0,
      },
    ],
    losses: [],
    labour: [
      { seasonId: 's', task: 'weeding', phase: 'established', personMinutes: 200, bedIds: ['weedy'] },
      { seasonId: 's', task: 'weeding', phase: 'established', personMinutes: 60, bedIds: ['clean'] },
      { seasonId: 's', task: 'harvest', phase: 'established', personMinutes: 540, bedIds: ['clean'] },
    ],
    spreadings: [],
    closings: [],
  } satisfies TrialRecord
  const seen = (seenOn: IsoDate, areaCm2: number) => ({
    gardenId: 'g',
    bedId: 'weedy',
    species: 'couch',
    position: null,
    seenOn,
    areaCm2,
    coverPermille: null,
    shootsPerM2: 41,
  })
  const patches = [seen('2024-06-01', 80_000), seen('2025-06-01', 40_000)]

  it('the weed’s hoeing is what the bed took above clean beds, and its own work and harvest are theirs by area', () => {
    const found = restartStart(record, patches, { bedIds: ['weedy'], areaCm2: null })
    // 200 min on 10 m2 less half of 60 min on 20 m2; half of 40 kg and of 600 min.
    expect(found?.hoe).toEqual({ season: '2025', minutes: 170, over: 'clean beds' })
    expect(found?.own).toMatchObject({ fromClean: true, grams: 20_000, minutes: 300 })
    expect(found?.patch?.areaCm2).toBe(40_000)
    // Half in 365 days: a fall of about half in 52 weeks.
    expect(found?.falls).toBeCloseTo(1 - Math.exp((-Math.LN2 / (365 / 7)) * 52), 9)
  })

  it('part of a bed has its part of the harvest and work, and all of the weed', () => {
    const found = restartStart(record, patches, { bedIds: ['weedy'], areaCm2: 50_000 })
    expect([found?.own?.grams, found?.own?.minutes, found?.hoe?.minutes]).toEqual([10_000, 150, 170])
  })

  it('where every bed has a patch, the weed’s hours are taken off', () => {
    const all = [...patches, { ...seen('2025-06-01', 1), bedId: 'clean' }]
    const found = restartStart(record, all, { bedIds: ['weedy'], areaCm2: null })
    // All 800 min on 30 m2, a third of it, less the 200 min of weeding that no clean bed tells apart.
    expect(found?.hoe).toEqual({ season: '2025', minutes: 200, over: 'nothing' })
    expect(found?.own).toMatchObject({ fromClean: false, minutes: 800 / 3 - 200 })
  })

  it('a bed that is not there is not thought about', () => {
    expect(restartStart(record, patches, { bedIds: ['none'], areaCm2: null })).toBeNull()
  })
})
