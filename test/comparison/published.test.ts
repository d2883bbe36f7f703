import { afterAll, beforeAll, expect, it } from 'vitest'
import { newId } from '../../src/db/new-id.ts'
import { openPlace, type Place } from '../support/app.ts'
import { choicesIn } from '../support/trial.ts'

/** One acre in feet and pounds, entered through the pages, against figures that others have published for an acre. */
let place: Place
beforeAll(async () => {
  place = await openPlace()
})
afterAll(() => place.close())

interface Table {
  readonly methods: { readonly figures: { readonly key: string; readonly value: number | null }[] }[]
}

it('an acre at published yields and hours gives the published quotients', async () => {
  const keeper = await place.keeper({ areaUnit: 'ft2', weightUnit: 'lb', currency: 'USD' })
  const base = `/g/${keeper.slug}`
  const [site, method, garden, season, planting] = [newId(), newId(), newId(), newId(), newId()]
  const add = (form: string, fields: object) => keeper.post(`${base}/gardens/${form}`, { ...fields })
  await add('sites', { id: site, name: 'Acre' })
  await add('methods', { id: method, name: 'Mixed stand' })
  await add('gardens', { id: garden, siteId: site, name: 'Acre', grossAreaCm2: '43560' })
  await add('beds', { id: newId(), gardenId: garden, count: '1', areaCm2: '43560', name: 'Field' })
  await keeper.post(`${base}/seasons`, { id: season, name: '2012', startsOn: '2012-03-01', endsOn: '2012-11-30' })
  const assigned = {
    place: `garden:${garden}`,
    methodId: method,
    phase: 'established',
    yearOfMethod: '1',
    how: 'choice',
  }
  await keeper.post(`${base}/seasons/${season}/assignments`, { id: newId(), ...assigned })
  const choices = choicesIn((await keeper.get(`${base}/seasons/${season}`)).text)
  const bed = choices(`beds[${garden}]`)['Field 1'] ?? ''
  const sown = { cultivar: 'mixed', areaCm2: '43560', how: 'direct', sownOn: '2012-04-02', purpose: 'harvest' }
  await keeper.post(`${base}/seasons/${season}/plantings`, {
    ...{ id: planting, cropId: choices('cropId').chard, ...sown, beds: { [garden]: bed } },
  })
  const week = `${base}/weeks/2012-W30`
  const crate = {
    id: newId(),
    plantingId: planting,
    harvestedOn: '2012-07-25',
    marketable: '21\u202f780.0 lb',
    surely: 'yes',
  }
  expect((await keeper.post(`${week}/harvests`, crate)).status).toBe(303)
  const work = { id: newId(), place: `garden:${garden}`, task: 'weeding', time: '20 x 100', phase: '', surely: 'yes' }
  expect((await keeper.post(`${week}/hours`, work)).status).toBe(303)

  const { methods } = await keeper.json<Table>(`${base}/compare.json?season=${season}`)
  const value = (key: string) => methods[0]?.figures.find((one) => one.key === key)?.value ?? Number.NaN
  // Rabin, Zinati & Nitzsche 2012, Sustaining Farming on the Urban Fringe 7(1), Rutgers NJAES: 0.5 lb/ft2 as the realistic
  // yield of a mixed stand. 0.5 x 0.45359237 kg / 0.09290304 m2 = 2.4412 kg/m2.
  expect(value('marketablePerBed')).toBeCloseTo((0.5 * 0.45359237) / 0.09290304, 5)
  // Hendrickson 2005, Grower to Grower, Center for Integrated Agricultural Systems, University of Wisconsin: on market
  // gardens under 3 acres just under 2,000 hours an acre, 0.49 h/m2; an acre is 4,046.8564 m2.
  expect(value('hoursPerBed')).toBeCloseTo(2000 / 4046.8564, 6)
  expect(value('hoursPerBed').toFixed(2)).toBe('0.49')
  // The two together: 2,000 hours for 21,780 lb.
  expect(value('hoursPerKg')).toBeCloseTo(2000 / (21_780 * 0.45359237), 6)
})
