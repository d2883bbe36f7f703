import { afterAll, beforeAll, expect, it } from 'vitest'
import { newId } from '../../src/db/new-id.ts'
import { openPlace, type Place } from '../support/app.ts'
import { wholeCompare } from '../support/compare.ts'
import { plain, rowOf, rowsOf } from '../support/page-checks.ts'
import { plantingOf, setUpTrial, type Trial } from '../support/trial.ts'

let place: Place
let trial: Trial
const week = () => `${trial.base}/weeks/2026-W05`
const harvest = (crop: string, garden: string, fields: Record<string, unknown>) =>
  trial.keeper.post(`${week()}/harvests`, {
    id: newId(),
    plantingId: plantingOf(trial, crop, garden),
    harvestedOn: '2026-01-28',
    ...fields,
  })

beforeAll(async () => {
  place = await openPlace()
  trial = await setUpTrial(place)
  await harvest('carrot', 'Lower', { marketable: '10', unmarketable: '2', why: 'forked' })
  await harvest('carrot', 'Long', { marketable: '12' })
  await harvest('potato', 'Lower', { marketable: '6' })
  const loss = {
    outside: 'no',
    lostOn: '2026-01-26',
    percent: '100',
    cause: 'disease',
    alsoNextDoor: 'no',
  }
  await trial.keeper.post(`${week()}/losses`, { id: newId(), plantingId: plantingOf(trial, 'potato', 'Long'), ...loss })
  const hours = { phase: 'established', workedOn: '', task: 'weeding' }
  await trial.keeper.post(`${week()}/hours`, {
    id: newId(),
    place: `garden:${trial.gardens.lower}`,
    time: '2',
    ...hours,
  })
  const over = { gardenIds: Object.values(trial.gardens), shareRule: 'area' }
  await trial.keeper.post(`${week()}/shared-hours`, { id: newId(), ...over, time: '5', ...hours, task: 'harvest' })
})
afterAll(() => place.close())

const page = async () => (await wholeCompare(trial.keeper, `${trial.base}/compare?season=${trial.season}`)).text

it('says before any figure that one garden a method cannot be told from its ground', async () => {
  const text = plain(await page())
  expect(text.indexOf('one garden a method, so ground and method come together')).toBeGreaterThan(0)
  expect(text.indexOf('one garden a method, so ground and method come together')).toBeLessThan(
    text.indexOf('Marketable, kg per m²'),
  )
})

/*
 * By hand. Lower Terrace: 20 m2 of bed, 30 m2 gross; 16 kg marketable, 18 kg in all. Long Bank: 30 m2 of bed, 40 m2 gross;
 * 12 kg, its lost potatoes count as zero and their 4 m2 stay in. Five hours of harvest are shared by bed area: 2 and 3.
 */
it('the figures equal those worked by hand, and stand as "so far" and "at least"', async () => {
  const html = await page()
  const row = (name: string) =>
    rowOf(html, name)
      .slice(1)
      .map((cell) => cell.split(' on ')[0])
  expect(row('Marketable, kg per m² of bed')).toEqual(['0.80 so far', '0.40 so far'])
  expect(row('All, kg per m² of bed')).toEqual(['0.90 so far', '0.40 so far'])
  expect(row('Marketable, kg per m² gross')).toEqual(['0.53 so far', '0.30 so far'])
  expect(rowOf(html, 'Hours per m² of bed, without harvest work')[1]).toBe('at least 0.10 0 of 43 weeks closed')
  expect(row('Hours per marketable kg, with harvest work')).toEqual(
    Array(2).fill('0.25 so far as written down; hours are open'),
  )
  expect(row('Planted area lost')).toEqual(['0 % so far', '50 % so far'])
})

it('matched crops come in only when they are cleared, a total loss as zero', async () => {
  expect(plain(await page())).toContain('No cultivar has stood under every method and been cleared yet')
  for (const plantingId of Object.values(trial.plantings)) {
    const clearing = { plantingId, clearedOn: '2026-02-10' }
    expect((await trial.keeper.post(`${trial.base}/seasons/${trial.season}/clearings`, clearing)).status).toBe(303)
  }
  const html = await page()
  expect(rowsOf(html, 'carrot, Kestrel')).toContainEqual(['carrot, Kestrel', '2.50', '3.00'])
  expect(rowsOf(html, 'potato, Heron')).toContainEqual(['potato, Heron', '1.50', '0.00'])
  const all = 'All of these, in the same mix'
  expect(rowsOf(html, all)).toContainEqual([all, '2.00', '1.50'])
})

it('JSON and CSV carry the same figures with their whole numbers', async () => {
  const json = await trial.keeper.json<{
    methods: { method: string; figures: { key: string; value: number; numerator: number; denominator: number }[] }[]
  }>(`${trial.base}/compare.json?season=${trial.season}`)
  const lower = json.methods.find((one) => one.method === 'Dug every spring')?.figures[0]
  expect(lower).toMatchObject({ key: 'marketablePerBed', value: 0.8, numerator: 16_000, denominator: 200_000 })
  const csv = (await trial.keeper.get(`${trial.base}/compare.csv?table=methods&season=${trial.season}`)).text
  expect(csv).toContain('Dug every spring,marketablePerBed,kg/m2,0.8,16000,200000,')
})
