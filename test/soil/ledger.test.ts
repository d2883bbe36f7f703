import { execFileSync } from 'node:child_process'
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { parse } from 'csv-parse/sync'
import { and, eq } from 'drizzle-orm'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { groups } from '../../src/accounts/accounts.table.ts'
import { newId } from '../../src/db/new-id.ts'
import { inputs } from '../../src/inputs/inputs.table.ts'
import { phosphorusInOxide, potassiumInOxide } from '../../src/inputs/nutrients.ts'
import { crops } from '../../src/seasons/seasons.table.ts'
import { foundAfter, kgPerHaOf, type LedgerRows, ledgerOf, type SpreadOn } from '../../src/soil/ledger.ts'
import { madeUpOf, milligramsIn } from '../../src/soil/made-up-of.ts'
import { dryGramsOf, takenBy } from '../../src/soil/nutrients.ts'
import { catalogue } from '../../src/words/catalogue.ts'
import { unpacked } from '../exchange/unpacked.ts'
import { hasR } from '../reports/recompute-folder.ts'
import { openPlace, type Place } from '../support/app.ts'
import { plain, rowOf } from '../support/page-checks.ts'
import { choicesIn, plantingOf, setUpTrial, type Trial } from '../support/trial.ts'

const words = catalogue.ledger

/** 5 cm of compost on 1 m2 at 600 kg/m3, half of it dry, with N 1.5, P 0.4 and K 1.0 % of the dry matter. */
const compost = {
  ...{ quantityThousandths: 50, unit: 'm3', densityKgPerM3: 600, moisturePermille: 500 },
  ...{ nitrogenMgPerKg: 15_000, phosphorusMgPerKg: 4_000, potassiumMgPerKg: 10_000 },
  ...{ name: 'Compost', kind: 'compost', measures: [] },
}
const carriedIn = (one: typeof compost | (Omit<typeof compost, 'moisturePermille'> & { moisturePermille: null })) =>
  milligramsIn(madeUpOf(one), one)

const unknownMake = {
  ...{ moisturePermille: null, densityKgPerM3: null },
  ...{ nitrogenMgPerKg: null, phosphorusMgPerKg: null, potassiumMgPerKg: null },
}

const spreadOn = (seasonId: string, given: Partial<SpreadOn> = {}): SpreadOn => ({
  ...{ gardenId: 'a', seasonId, name: 'Compost', kind: 'compost', rawManure: 0 },
  ...{ carriedMg: { nitrogen: 225_000, phosphorus: 60_000, potassium: 150_000 } },
  ...given,
})

const seasonIds = ['1', '2', '3']
const ledgerRowsOf = (given: Partial<LedgerRows>): LedgerRows => ({
  gardens: [{ id: 'a' }],
  seasons: seasonIds.map((id) => ({ id })),
  ground: seasonIds.map((seasonId) => ({ gardenId: 'a', seasonId, areaCm2: 10_000 })),
  ...{ spreadings: [], picked: [] },
  ...given,
})
const kale = {
  ...{ gardenId: 'a', name: 'kale', grams: 5000 },
  ...{ proteinMgPer100g: 0, phosphorusMgPer100g: 0, potassiumMgPer100g: 300 },
}

describe('worked by hand', () => {
  it('5 cm of compost on a square metre are 30 kg, half of it dry, and carry 225 g N, 60 g P and 150 g K', () => {
    expect(dryGramsOf(compost)).toBe(15_000)
    expect(carriedIn(compost)).toEqual({ nitrogen: 225_000, phosphorus: 60_000, potassium: 150_000 })
    expect(carriedIn({ ...compost, moisturePermille: null }).nitrogen).toBeNull()
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
  })

  // USDA National Nutrient Database for Standard Reference, carrot (11124): protein 0.93 g, P 35 mg, K 320 mg per 100 g.
  it('a kilogram of carrots takes 1.488 g N, 0.35 g P and 3.2 g K', () => {
    const carrot = { proteinMgPer100g: 930, phosphorusMgPer100g: 35, potassiumMgPer100g: 320 }
    expect(takenBy(1000, carrot)).toEqual({ nitrogen: 1488, phosphorus: 350, potassium: 3200 })
    expect(takenBy(1000, { ...carrot, proteinMgPer100g: null }).nitrogen).toBeNull()
  })

  it('150 g of potassium brought less 15 g taken leaves at most 135 g a season, and sums up over seasons', () => {
    const picked = ['1', '2'].map((seasonId) => ({ ...kale, seasonId }))
    const [a] = ledgerOf(ledgerRowsOf({ spreadings: [spreadOn('1'), spreadOn('2')], picked }))
    const potassium = a?.seasons.map(({ nutrients }) => nutrients.potassium)
    expect(potassium?.map((one) => one.leftMg)).toEqual([135_000, 135_000, 0])
    expect(potassium?.map((one) => one.gatheredMgPerM2)).toEqual([135_000, 270_000, 270_000])
    expect(kgPerHaOf(270_000)).toBe(2_700)
  })

  it('one input without a figure makes what is left unknown from its season on, and says which', () => {
    const hay = spreadOn('2', { name: 'hay', carriedMg: { nitrogen: null, phosphorus: null, potassium: null } })
    const [a] = ledgerOf(ledgerRowsOf({ spreadings: [spreadOn('1'), hay] }))
    const potassium = a?.seasons.map(({ nutrients }) => nutrients.potassium)
    expect(potassium?.map((one) => one.gatheredMgPerM2)).toEqual([150_000, null, null])
    expect(potassium?.[1]?.brought).toEqual({ knownMg: 0, unknown: ['hay'] })
  })
})

describe('what crops find, season after season', () => {
  const foundOf = (given: Partial<SpreadOn>, which: string[]) => {
    const rows = ledgerRowsOf({ spreadings: which.map((seasonId) => spreadOn(seasonId, given)) })
    return ledgerOf(rows)[0]?.seasons.map(({ nutrients }) => nutrients)
  }

  // Cornell University, nutrient management course, organic N of manure: 10 tons an acre with 5 lb each and 6 per cent dry
  // matter, this year, last year and two years ago.
  it('Cornell’s worked example: 17.5, 6.0 and 2.5 lb of 50, 26 lb an acre in all', () => {
    const found = [0, 1, 2, 3].map((after) => foundAfter(50, [0.35, 0.12, 0.05], after))
    expect(found).toEqual([17.5, 6, 2.5, 0])
    expect(found.reduce((sum, one) => sum + one, 0)).toBe(26)
  })

  // Alberta's 25-13-6: the third season of a dressing every year finds 44 per cent of one.
  it('a manure every year is found by 25, then 38, then 44 per cent of one dressing’s nitrogen', () => {
    const raw = { kind: 'manure', rawManure: 1, carriedMg: { nitrogen: 50_000, phosphorus: 0, potassium: 0 } }
    expect(foundOf(raw, seasonIds)?.map(({ nitrogen }) => nitrogen.found.knownMg)).toEqual([12_500, 19_000, 22_000])
  })

  it('a compost once by 12, 7 and 4 per cent; phosphorus 70, 20 and 6; potassium 90 at once', () => {
    const once = foundOf({}, ['1'])
    expect(once?.map(({ nitrogen }) => nitrogen.found.knownMg)).toEqual([27_000, 15_750, 9_000])
    expect(once?.map(({ phosphorus }) => phosphorus.found.knownMg)).toEqual([42_000, 12_000, 3_600])
    expect(once?.map(({ potassium }) => potassium.found.knownMg)).toEqual([135_000, 0, 0])
  })

  it('what no source tells of is unknown and not nothing', () => {
    const [first] = foundOf({ kind: 'amendment', name: 'Something' }, ['1']) ?? []
    expect(first?.nitrogen.found).toEqual({ knownMg: 0, unknown: ['Something'] })
  })
})

describe('a published composition where the group has none', () => {
  const kg = (name: string, kind: string, kilograms: number) =>
    milligramsIn(madeUpOf({ ...unknownMake, name, kind, unit: 'kg' }), {
      ...{ quantityThousandths: 1000 * kilograms, unit: 'kg', measures: [] },
    })

  it.each([
    // AHDB, Nutrient Management Guide (RB209), section 2: kg of N in a tonne as it comes.
    ['Cow manure', 'manure', 6, 3.2, 9.4],
    ['Sheep manure, composted', 'manure', 7, 3.2, 8],
    ['Horse manure from the stable', 'manure', 5, 5, 6],
    // University of Kentucky, PSS Views 142: alfalfa 50-14-55 lb in a ton.
    ['Lucerne hay', 'mulch', 25, 7, 27.5],
    // Texas A&M: blood 10-1.5-0, steamed bone meal 2-27-0.
    ['Blood meal', 'amendment', 100, 15, 0],
    ['Bone meal', 'amendment', 20, 270, 0],
  ])('a tonne of %s carries its handbook’s figures back', (name, kind, nitrogen, p2o5, k2o) => {
    const found = kg(name, kind, 1000)
    expect((found.nitrogen ?? 0) / 1e6).toBeCloseTo(nitrogen, 2)
    expect((found.phosphorus ?? 0) / 1e6).toBeCloseTo(p2o5 * phosphorusInOxide, 2)
    expect((found.potassium ?? 0) / 1e6).toBeCloseTo(k2o * potassiumInOxide, 2)
  })

  // 40 t a hectare of cattle manure: 240 kg of N, the arithmetic of RB209 itself.
  it('4 kg of cattle manure on a m2 are 240 kg of nitrogen a hectare', () => {
    expect(kgPerHaOf(kg('Farmyard manure', 'manure', 4).nitrogen ?? 0)).toBeCloseTo(240, 3)
  })

  it('seed potatoes go in as the food table has potatoes; other seed and plants as nothing that is known', () => {
    const found = kg('Seed potatoes', 'seed', 10)
    // USDA 11352: 3.23 g N, 0.57 g P, 4.21 g K in a kg.
    expect([found.nitrogen, found.phosphorus, found.potassium].map((mg) => Math.round((mg ?? 0) / 100) / 10)).toEqual([
      32.3, 5.7, 42.1,
    ])
    expect(kg('Clover', 'seed', 10).nitrogen).toBeNull()
    expect(kg('Potato mulch', 'mulch', 10).nitrogen).toBeNull()
  })

  it('never mixes: an own analysis stands alone, with its gaps', () => {
    const made = madeUpOf({ ...unknownMake, name: 'Hay', kind: 'mulch', unit: 'kg', nitrogenMgPerKg: 20_000 })
    expect([made.published, made.phosphorusMgPerKg, made.moisturePermille]).toEqual([null, null, null])
    const own = madeUpOf({ ...unknownMake, name: 'Hay', kind: 'mulch', unit: 'kg', moisturePermille: 200 })
    expect([own.moisturePermille, own.published?.source]).toEqual([200, 'memory'])
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

  const page = async (query = '') =>
    (await trial.keeper.get(`${trial.base}/soil/balance?nutrient=potassium${query}`)).text

  it('carrots weigh on their garden, a published compost counts with its source, an own analysis takes its place', async () => {
    const { keeper, base, season, gardens } = trial
    const planting = plantingOf(trial, 'carrot', 'Lower')
    const picked = { id: newId(), plantingId: planting, how: 'net', marketable: '10 kg', harvestedOn: '2026-01-28' }
    expect((await keeper.post(`${base}/weeks/2026-W05/harvests`, picked)).status).toBe(303)
    // 10 kg of carrots hold 32 g of potassium; the beds of the Lower Terrace come to 20 m2.
    expect(rowOf(await page(), 'Lower Terrace')).toEqual(['Lower Terrace', '0.0', '0.0', '1.6', '−1.6', '−16'])

    const delivery = { id: newId(), name: 'Green waste compost', kind: 'compost', unit: 'm3', quantityThousandths: '1' }
    const bought = { deliveredOn: '2025-09-01', ownMade: 'bought', usefulLifeSeasons: '1' }
    expect((await keeper.post(`${base}/inputs/deliveries`, { ...delivery, ...bought })).status).toBe(303)
    const deliveryId = Object.values(choicesIn((await keeper.get(`${base}/inputs`)).text)('deliveryId'))[0] ?? ''
    const spread = { id: newId(), deliveryId, place: `garden:${gardens.lower}`, quantityThousandths: '1' }
    // Season and phase are those of its day and ground.
    const when = { appliedOn: '2025-09-05', seasonId: '', phase: '' }
    expect((await keeper.post(`${base}/inputs/spreadings`, { ...spread, ...when })).status).toBe(303)
    // 1 m3 at 593 kg, half of it dry, 1.13 % K: 3.35 kg on 20 m2, of which 90 per cent are found.
    const published = await page()
    expect(rowOf(published, 'Lower Terrace')).toEqual(['Lower Terrace', '167.5', '150.8', '1.6', '165.9', '1 659'])
    expect(rowOf(published, 'Green waste compost')[5]).toBe(words.sources.CalRecycle)
    expect(plain(published)).toContain(words.publishedUsed(1))

    const [group] = await place.database.drizzle.select().from(groups).where(eq(groups.slug, keeper.slug))
    const groupId = group?.id ?? ''
    const known = { densityKgPerM3: 600, moisturePermille: 500, potassiumMgPerKg: 10_000 }
    await place.database.drizzle.update(inputs).set(known).where(eq(inputs.groupId, groupId))
    // 1 m3 is 600 kg, 300 kg dry, 3 kg of potassium: 150 g per m2 of the 20 m2.
    expect(rowOf(await page(), 'Lower Terrace').slice(1)).toEqual(['150.0', '135.0', '1.6', '148.4', '1 484'])
    const csv = (await keeper.get(`${base}/soil/balance.csv?season=${season}`)).text
    expect(csv).toContain('Lower Terrace,2025/26,200000,potassium,3000000,,2700000,,32000,,2968000,148400\r\n')
    expect(csv).toContain(
      'Lower Terrace,2025/26,200000,nitrogen,0,Green waste compost,0,Green waste compost,14880,,,\r\n',
    )
    expect((await keeper.get(`${base}/soil/balance.json?season=${newId()}`)).status).toBe(404)

    const carrot = and(eq(crops.groupId, groupId), eq(crops.name, 'carrot'))
    await place.database.drizzle.update(crops).set({ potassiumMgPer100g: null }).where(carrot)
    expect(rowOf(await page(), 'Lower Terrace').slice(3)).toEqual([
      'unknown no figure for carrot',
      'unknown',
      'unknown',
    ])
  })

  it('a limit that is typed stands in the address, reads back as itself, and what is over it is said', async () => {
    const { keeper, base } = trial
    const known = { nitrogenMgPerKg: 15_000 }
    const [group] = await place.database.drizzle.select().from(groups).where(eq(groups.slug, keeper.slug))
    await place.database.drizzle
      .update(inputs)
      .set(known)
      .where(eq(inputs.groupId, group?.id ?? ''))
    // 300 kg dry with 1.5 % N on 20 m2 are 2250 kg/ha: of compost, which the 170 of manure does not bind.
    expect(plain(await page())).not.toContain('over the limit')
    const text = await page('&compost-nitrogen=250.5')
    const said = { garden: 'Lower Terrace', season: '2025/26', source: 'compost', nutrient: 'nitrogen' }
    expect(plain(text)).toContain(words.over({ ...said, kg: '2 250', limit: '250.5', rule: catalogue.limits.typed }))
    expect(/name="compost-nitrogen"[^>]*value="([^"]*)"/.exec(text)?.[1]).toBe('250.5')
    for (const wrong of ['-1', 'much', '10001', '1e9', 'NaN']) {
      const answer = await keeper.get(`${base}/soil/balance?compost-nitrogen=${wrong}`)
      expect([wrong, answer.status]).toEqual([wrong, 422])
    }
  })
})

describe.skipIf(!hasR)('counted again in R from the rows of an export (Rscript is not on every machine)', () => {
  it('every figure of the example’s ledger comes out again', async () => {
    const place = await openPlace()
    const keeper = await place.keeper()
    const base = (await keeper.post('/demo/copy')).location
    const files = await unpacked(await keeper.download(`${base}/exchange/export.zip`))
    const folder = mkdtempSync(join(tmpdir(), 'evenground-ledger-'))
    try {
      for (const [path, bytes] of files)
        if (path.endsWith('.csv')) writeFileSync(join(folder, path.split('/').at(-1) ?? path), bytes)
      execFileSync('Rscript', ['--vanilla', 'test/soil/ledger.R', folder])
      const read = (text: string) =>
        parse(text, { columns: true, relax_column_count: true }) as Record<string, string>[]
      const again = read(readFileSync(join(folder, 'ledger.csv'), 'utf8'))
      const ours = read((await keeper.get(`${base}/soil/balance.csv`)).text)
      const figures = (own: Record<string, string>, keys: readonly string[]) =>
        keys.map((key) => (own[key] === '' || own[`${key.slice(0, -2)}Unknown`] ? null : Number(own[key])))
      const keyOf = ({ garden, season, nutrient }: Record<string, string>) => `${garden} ${season} ${nutrient}`
      const byR = new Map(again.map((one) => [keyOf(one), figures(one, ['brought', 'found', 'taken', 'gathered'])]))
      expect([ours.length, new Set(ours.map(keyOf)).size, byR.size]).toEqual([45, 45, 45])
      // Each of some hundred weighings is rounded to the milligram before it is summed.
      const far = ours.flatMap((one) => {
        const own = figures(one, ['broughtMg', 'foundMg', 'takenMg', 'gatheredMgPerM2'])
        const r = byR.get(keyOf(one)) ?? []
        return own.flatMap((mg, i) => {
          const other = r[i] ?? null
          const isNear = mg === null || other === null ? mg === other : Math.abs(mg - other) < 100
          return isNear ? [] : [`${keyOf(one)}: ${mg}, in R ${other}`]
        })
      })
      expect(far).toEqual([])
      expect(ours.filter((one) => one.gatheredMgPerM2 !== '' && one.leftAtMostMg !== '').length).toBe(45)
    } finally {
      rmSync(folder, { recursive: true, force: true })
      await place.close()
    }
  })
})
