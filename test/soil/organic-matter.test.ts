import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { newId } from '../../src/db/new-id.ts'
import { organicCourse, stockOf } from '../../src/soil/organic-course.ts'
import { broughtTo } from '../../src/soil/organic-inputs.ts'
import { openPlace, type Place } from '../support/app.ts'
import { aDay } from '../support/calendar.ts'
import { plain, rowOf } from '../support/page-checks.ts'
import { choicesIn, setUpTrial, type Trial } from '../support/trial.ts'

describe('worked by hand', () => {
  it('2.0 % at 1.3 g/cm3 to 30 cm is 7800 g per m2', () => {
    expect(stockOf(2, 1.3, 300)).toBeCloseTo(7800, 9)
  })

  // Start 4000, 600 a year of which 30 % stays, 2 % lost a year: levels off at 9000 with a half time of ln 2 / 0.02.
  it('follows the closed form and never passes its level', () => {
    const found = organicCourse(
      [
        { day: '2020-01-01', percent: 4 },
        { day: '2030-01-01', percent: 5 },
      ],
      100,
      { broughtGPerM2: 600, humified: 0.3, decay: 0.02, bulkDensity: 1, years: 100 },
    )
    if (found.kind === 'refused') throw new Error(found.detail)
    expect(found.start).toBeCloseTo(4000, 9)
    expect(found.levelOff).toBeCloseTo(9000, 9)
    expect(found.levelOffPercent).toBeCloseTo(9, 9)
    expect(found.halfTime).toBeCloseTo(34.65735903, 7)
    expect([1, 10, 20, 50, 100].map((year) => found.course[year]?.stock)).toEqual(
      [4099.006633, 4906.346235, 5648.39977, 7160.602794, 8323.323584].map((stock) => expect.closeTo(stock, 5)),
    )
    expect(found.course.every(({ stock }) => stock < 9000)).toBe(true)
    // 3653 days are 10.0014 years: 4.9065 %.
    expect(found.tested.map((one) => one.expected)).toEqual([expect.closeTo(4, 9), expect.closeTo(4.9065, 3)])
    expect(found.fit).toMatchObject({ kind: 'refused', reason: 'too few' })
  })

  it('goes by the decay that the tests show, and by a common figure only where they cannot', () => {
    // Made without error from 14.6 % lost a year, 600 g x 0.3 brought, starting at 8 %: 1 % is 1000 g a m2 here.
    const level = (600 * 0.3) / 0.146 / 1000
    const percent = (year: number) => level + (8 - level) * Math.exp(-0.146 * year)
    const tests = [0, 2, 4, 6, 8].map((year) => ({ day: aDay(`${2016 + year}-01-01`), percent: percent(year) }))
    const assumed = { broughtGPerM2: 600, humified: 0.3, decay: null, bulkDensity: 1, years: 10 }
    const own = organicCourse(tests, 100, assumed)
    expect(own).toMatchObject({ kind: 'answer', decayFrom: 'tests', decay: expect.closeTo(0.146, 3) })
    expect(organicCourse(tests.slice(0, 2), 100, assumed)).toMatchObject({ decayFrom: 'usual', decay: 0.015 })
    expect(organicCourse(tests, 100, { ...assumed, decay: 0.05 })).toMatchObject({ decayFrom: 'typed', decay: 0.05 })
  })

  it('what no mineral soil holds is refused', () => {
    const tests = [
      { day: '2020-01-01', percent: 4 },
      { day: '2030-01-01', percent: 5 },
    ] as const
    const assumed = { broughtGPerM2: 20_000, humified: 1, decay: 0.0001, bulkDensity: 1.3, years: 10 }
    expect(organicCourse(tests, 300, assumed)).toMatchObject({ kind: 'refused', reason: 'out of range' })
  })

  it('dry matter brought is a mean over the seasons, and unknown where one input is', () => {
    const none = { nitrogenMgPerKg: null, phosphorusMgPerKg: null, potassiumMgPerKg: null, measures: [] }
    const compost = { ...none, quantityThousandths: 2000, unit: 'm3', densityKgPerM3: 600, moisturePermille: 500 }
    // 2 m3 at 600 kg, half dry, over 20 m2 and 3 seasons: 600 kg / 20 / 3 = 10 kg.
    const on = { bedAreaCm2: 200_000, seasons: 3 }
    expect(broughtTo([{ ...compost, name: 'compost' }], on)).toEqual({ dryGPerM2: 10_000, unknown: [] })
    const hay = { ...compost, densityKgPerM3: null, name: 'hay' }
    expect(broughtTo([{ ...compost, name: 'compost' }, hay], on)).toEqual({ dryGPerM2: null, unknown: ['hay'] })
  })
})

describe('on the page', () => {
  let place: Place
  let trial: Trial
  beforeAll(async () => {
    place = await openPlace()
    trial = await setUpTrial(place)
  })
  afterAll(() => place.close())

  it('one test is not enough; two in one series are, and two by different methods are not', async () => {
    const { keeper, base, gardens } = trial
    const at = `${base}/soil/organic-matter`
    const sample = (given: Record<string, string>) =>
      keeper.post(`${base}/soil`, {
        ...{ id: newId(), place: `garden:${gardens.lower}`, laboratory: 'Harbour laboratory', unit: '%' },
        ...{ analyte: 'organic matter', extractant: 'loss on ignition', depthMm: '15', lowUnder: '', highFrom: '' },
        ...given,
      })
    await sample({ sampledOn: '2023-08-05', value: '5.0' })
    await sample({ sampledOn: '2024-08-05', value: '4.1', extractant: 'Walkley-Black' })
    expect(plain((await keeper.get(at)).text)).toContain('This needs at least two tests')
    await sample({ sampledOn: '2025-08-05', value: '5.4' })
    const page = (await keeper.get(`${at}?brought=600&humified=30&decay=2&bulkDensity=1,3&years=100`)).text
    expect(Object.keys(choicesIn(page)('of'))).toHaveLength(1)
    // 600 x 0.3 / 0.02 = 9000 g per m2; 1 % is 1.3 x 150 000 / 100 = 1950 g: 4.6 %. From 5.0 % it falls: 9750 g, 9000 g.
    expect(plain(page)).toContain('organic matter (Lower Terrace, the whole garden) goes from 5.0 % to 4.6 %')
    expect(plain(page)).toContain('With half as much from the last test on, to 2.3 %.')
    expect(rowOf(page, '0').slice(0, 2)).toEqual(['0', '5.00 %'])
    expect(rowOf(page, '100').slice(0, 2)).toEqual(['100', '4.67 %'])
    expect(rowOf(page, '5 August 2025')).toEqual(['5 August 2025', '5.4 %', '4.98 %'])
    expect(page).toContain('value="1,3"')
  })

  it('nothing spread is nothing brought, and a share over a hundred is refused', async () => {
    const { keeper, base } = trial
    const page = plain((await keeper.get(`${base}/soil/organic-matter`)).text)
    expect(page).toContain('The inputs written down bring 0 g of dry matter')
    expect(page).toContain('% to 0.0 %')
    expect(page).toContain('The band goes by what is published, 1.0 to 2.0 % lost a year')
    const peat = plain((await keeper.get(`${base}/soil/organic-matter?brought=20000&humified=100&decay=0.01`)).text)
    expect(peat).toContain('which no mineral soil holds')
    const wrong = await keeper.get(`${base}/soil/organic-matter?humified=130`)
    expect(wrong.status).toBe(422)
    expect(plain(wrong.text)).toContain('Write a number from 0 to 100.')
  })
})
