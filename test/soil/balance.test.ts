import { and, eq } from 'drizzle-orm'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { groups } from '../../src/accounts/accounts.table.ts'
import { newId } from '../../src/db/new-id.ts'
import { inputs } from '../../src/inputs/inputs.table.ts'
import { crops } from '../../src/seasons/seasons.table.ts'
import { balanceOf } from '../../src/soil/balance.ts'
import { carriedBy, dryGramsOf, takenBy } from '../../src/soil/nutrients.ts'
import { openPlace, type Place } from '../support/app.ts'
import { plain } from '../support/page-checks.ts'
import { choicesIn, plantingOf, setUpTrial, type Trial } from '../support/trial.ts'

/** 5 cm of compost on 1 m2 at 600 kg/m3, half of it dry, with N 1.5, P 0.4 and K 1.0 % of the dry matter. */
const compost = {
  ...{ quantityThousandths: 50, unit: 'm3', densityKgPerM3: 600, moisturePermille: 500 },
  ...{ nitrogenMgPerKg: 15_000, phosphorusMgPerKg: 4_000, potassiumMgPerKg: 10_000 },
  measures: [],
}

describe('worked by hand', () => {
  it('5 cm of compost on a square metre are 30 kg, half of it dry, and carry 225 g N, 60 g P and 150 g K', () => {
    expect(dryGramsOf(compost)).toBe(15_000)
    expect(carriedBy(compost)).toEqual({ nitrogen: 225_000, phosphorus: 60_000, potassium: 150_000 })
  })

  it('weight needs no density, volume does, and a barrow is what the group says that it is', () => {
    const half = (quantityThousandths: number, unit: string, densityKgPerM3: number | null, barrowMl?: number) => {
      const measures = barrowMl === undefined ? [] : [{ name: 'barrow', volumeMl: barrowMl, massG: null }]
      return dryGramsOf({ ...compost, quantityThousandths, unit, densityKgPerM3, measures })
    }
    expect(half(2500, 'kg', null)).toBe(1250)
    expect(half(80_000, 'L', 500)).toBe(20_000)
    expect(half(80_000, 'L', null)).toBeNull()
    expect(half(1000, 'barrow', 500)).toBeNull()
    expect(half(2000, 'barrows', 500, 80_000)).toBe(40_000)
    expect(carriedBy({ ...compost, moisturePermille: null }).nitrogen).toBeNull()
    expect(carriedBy({ ...compost, phosphorusMgPerKg: null })).toEqual({
      nitrogen: 225_000,
      phosphorus: null,
      potassium: 150_000,
    })
  })

  // USDA National Nutrient Database for Standard Reference, carrot (11124): protein 0.93 g, P 35 mg, K 320 mg per 100 g.
  it('a kilogram of carrots takes 1.488 g N, 0.35 g P and 3.2 g K', () => {
    const carrot = { proteinMgPer100g: 930, phosphorusMgPer100g: 35, potassiumMgPer100g: 320 }
    expect(takenBy(1000, carrot)).toEqual({ nitrogen: 1488, phosphorus: 350, potassium: 3200 })
    expect(takenBy(1000, { ...carrot, proteinMgPer100g: null }).nitrogen).toBeNull()
  })

  it('150 g of potassium brought less 15 g taken leaves at most 135 g, and one unknown input makes that unknown', () => {
    const rows = {
      gardens: [{ id: 'a' }, { id: 'b' }],
      beds: [{ gardenId: 'a', areaCm2: 10_000 }],
      spreadings: [{ ...compost, gardenId: 'a', name: 'compost' }],
      picked: [
        {
          ...{ gardenId: 'a', name: 'kale', grams: 5000 },
          ...{ proteinMgPer100g: 0, phosphorusMgPer100g: 0, potassiumMgPer100g: 300 },
        },
      ],
    }
    const [a, b] = balanceOf(rows)
    expect(a?.nutrients.potassium).toEqual({
      carried: { knownMg: 150_000, unknown: [] },
      taken: { knownMg: 15_000, unknown: [] },
      leftMg: 135_000,
    })
    expect(b?.nutrients.potassium.leftMg).toBe(0)
    const hay = { ...compost, moisturePermille: null, gardenId: 'a', name: 'hay' }
    const [unknown] = balanceOf({ ...rows, spreadings: [...rows.spreadings, hay] })
    expect(unknown?.nutrients.potassium.leftMg).toBeNull()
    expect(unknown?.nutrients.potassium.carried).toEqual({ knownMg: 150_000, unknown: ['hay'] })
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

  const potassium = async () => {
    const html = (await trial.keeper.get(`${trial.base}/soil/balance?season=${trial.season}`)).text
    const table = html.split('<h2>Potassium (K)</h2>')[1]?.split('</table>')[0] ?? ''
    return [...table.matchAll(/<tr>(.*?)<\/tr>/gs)].slice(1).map((row) => plain(row[1] ?? ''))
  }

  it('carrots weigh on their garden, compost without analysis is unknown, and with it the balance is shown', async () => {
    const { keeper, base, season, gardens } = trial
    const planting = plantingOf(trial, 'carrot', 'Lower')
    const picked = { id: newId(), plantingId: planting, how: 'net', marketable: '10 kg', harvestedOn: '2026-01-28' }
    expect((await keeper.post(`${base}/weeks/2026-W05/harvests`, picked)).status).toBe(303)
    // 10 kg of carrots hold 32 g of potassium; the beds of the Lower Terrace come to 20 m2.
    expect((await potassium())[0]).toBe('Lower Terrace 0.0 1.6 −1.6')

    const delivery = { id: newId(), name: 'Green waste compost', kind: 'compost', unit: 'm3', quantityThousandths: '1' }
    const bought = { deliveredOn: '2025-09-01', ownMade: 'bought', usefulLifeSeasons: '1' }
    expect((await keeper.post(`${base}/inputs/deliveries`, { ...delivery, ...bought })).status).toBe(303)
    const deliveryId = Object.values(choicesIn((await keeper.get(`${base}/inputs`)).text)('deliveryId'))[0] ?? ''
    const spread = { id: newId(), deliveryId, place: `garden:${gardens.lower}`, quantityThousandths: '1' }
    // Season and phase are those of its day and ground.
    const when = { appliedOn: '2025-09-05', seasonId: '', phase: '' }
    expect((await keeper.post(`${base}/inputs/spreadings`, { ...spread, ...when })).status).toBe(303)
    expect((await potassium())[0]).toBe('Lower Terrace unknown no figure for Green waste compost 1.6 unknown')

    const [group] = await place.database.drizzle.select().from(groups).where(eq(groups.slug, keeper.slug))
    const groupId = group?.id ?? ''
    const known = { densityKgPerM3: 600, moisturePermille: 500, potassiumMgPerKg: 10_000 }
    await place.database.drizzle.update(inputs).set(known).where(eq(inputs.groupId, groupId))
    // 1 m3 is 600 kg, 300 kg dry, 3 kg of potassium: 150 g per m2 of the 20 m2.
    expect((await potassium())[0]).toBe('Lower Terrace 150.0 1.6 148.4')
    const csv = (await keeper.get(`${base}/soil/balance.csv?season=${season}`)).text
    expect(csv).toContain('Lower Terrace,200000,potassium,3000000,,32000,,2968000\r\n')
    expect(csv).toContain('Lower Terrace,200000,nitrogen,0,Green waste compost,14880,,\r\n')
    expect((await keeper.get(`${base}/soil/balance.json?season=${newId()}`)).status).toBe(404)

    const carrot = and(eq(crops.groupId, groupId), eq(crops.name, 'carrot'))
    await place.database.drizzle.update(crops).set({ potassiumMgPer100g: null }).where(carrot)
    expect((await potassium())[0]).toBe('Lower Terrace 150.0 unknown no figure for carrot unknown')
  })
})
