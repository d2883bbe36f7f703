import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { newId } from '../../src/db/new-id.ts'
import { daysToSowing } from '../../src/decisions/days-to-sowing.ts'
import { amountOf, readDressing } from '../../src/decisions/dressing-amount.ts'
import {
  type DressedMethod,
  type DressingProduct,
  type DressingTerms,
  dressingPlan,
} from '../../src/decisions/dressing-plan.ts'
import { catalogue } from '../../src/words/catalogue.ts'
import { openPlace, type Place } from '../support/app.ts'
import { plain, rowOf } from '../support/page-checks.ts'
import { plantingOf, setUpTrial, type Trial } from '../support/trial.ts'

const words = catalogue.dressing
const barrow = { name: 'barrow', volumeMl: 85_000, massG: null }

describe('an amount as people say it', () => {
  it.each([
    ['3 cm', { kind: 'layer', depthMm: 30 }],
    ['2,5 cm', { kind: 'layer', depthMm: 25 }],
    ['2.92 cm', { kind: 'layer', depthMm: 29.2 }],
    ['1 in', { kind: 'layer', depthMm: 25.4 }],
    ['30 mm', { kind: 'layer', depthMm: 30 }],
    ['3', { kind: 'layer', depthMm: 30 }],
    ['nothing', { kind: 'nothing' }],
    ['0', { kind: 'nothing' }],
    ['12 barrows', { kind: 'load', thousandths: 12_000, word: 'barrows', size: null }],
    ['800 kg', { kind: 'load', thousandths: 800_000, word: 'kg', size: null }],
    ['2 trailers of 750 l', { kind: 'load', word: 'trailers', size: { volumeMl: 750_000, massG: null } }],
    ['30 bags of 25 kg', { kind: 'load', word: 'bags', size: { volumeMl: null, massG: 25_000 } }],
    ['1 trailer of 1.5 m3', { kind: 'load', thousandths: 1_000, size: { volumeMl: 1_500_000 } }],
  ])('%s', (text, value) => {
    expect(readDressing(text)).toMatchObject({ kind: 'answer', value })
  })

  it.each(['', '-3 cm', '2 m', '1001 mm', 'barrows', '3 bags of 40', '3 bags of wool', '1e3 l', '3 x of 2 l of 4 l'])(
    'refuses %s',
    (text) => {
      expect(readDressing(text).kind).toBe('refused')
    },
  )

  const amount = (text: string, densityKgPerM3: number | null = 600, unit = 'm3') => {
    const typed = readDressing(text)
    if (typed.kind === 'refused') throw new Error(text)
    return amountOf(typed.value, { unit, densityKgPerM3, measures: [barrow], areaCm2: 480_000 })
  }

  it('on 48 m2: 3 cm are 1.44 m3 and 864 kg; 12 barrows of 85 l are 1.02 m3 and lie 2.125 cm deep', () => {
    expect(amount('3 cm')).toEqual({ volumeMl: 1_440_000, massG: 864_000, unitThousandths: 1440, depthMm: 30 })
    expect(amount('12 barrows')).toEqual({ volumeMl: 1_020_000, massG: 612_000, unitThousandths: 1020, depthMm: 21.25 })
    expect(amount('2 trailers of 750 l').depthMm).toBe(31.25)
    expect(amount('30 bags of 25 kg')).toMatchObject({ massG: 750_000, volumeMl: 1_250_000, unitThousandths: 1250 })
  })

  // The gardeners' rule, from memory: a cubic yard covers 324 square feet an inch deep.
  it('a cubic yard covers 324 square feet an inch deep', () => {
    const inch = amountOf(
      { kind: 'layer', depthMm: 25.4 },
      {
        ...{ unit: 'yd3', densityKgPerM3: null, measures: [], areaCm2: 324 * 929.0304 },
      },
    )
    expect(inch).toMatchObject({ unitThousandths: 1000, massG: null })
  })

  it('a bale without a size is counted and priced, and weighs nobody knows what', () => {
    expect(amount('8 bales', null, 'bale')).toEqual({
      ...{ volumeMl: null, massG: null, unitThousandths: 8000, depthMm: null },
    })
    expect(amount('8 bales', null, 'm3').unitThousandths).toBeNull()
  })
})

const product: DressingProduct = {
  ...{ inputId: 'green', name: 'Green waste compost', kind: 'compost', unit: 'm3', source: 'compost', ownMade: false },
  rawManure: 0,
  ...{ minorPerUnit: 6_000, carriageMinor: 900, minutesPerM3: 40, wayMm: 20_000 },
  made: {
    ...{ moisturePermille: 500, nitrogenMgPerKg: 15_000, phosphorusMgPerKg: 4_000, potassiumMgPerKg: 10_000 },
    ...{ densityKgPerM3: 600, published: null },
  },
}
const method = (given: Partial<DressedMethod> = {}): DressedMethod => ({
  ...{ methodId: 'mulch', name: 'Compost mulch', gardens: ['Long Bank'], areaCm2: 480_000, wayMm: 70_000, product },
  typed: { kind: 'layer', depthMm: 30 },
  last: {
    ...{ nitrogenG: 480, phosphorusG: 96, potassiumG: 480, unknownG: 0, season: '2025/26' },
    ...{ areaCm2: 480_000, grams: 240_000 },
  },
  ...{ lastTime: '3 cm', stillFoundGPerM2: 0, high: [], limits: [] },
  ...given,
})
const terms: DressingTerms = {
  ...{ measures: [barrow], barrowMl: 85_000, bagMl: 40_000 },
  leftOfDepth: { compost: 0.8, manure: 0.6, mulch: 0.3 },
}
const first = (methods: DressedMethod[], heaps: Parameters<typeof dressingPlan>[1] = []) => {
  const [row] = dressingPlan(methods, heaps, terms)
  if (!row) throw new Error('no row')
  return row
}

describe('the plan of one method, by hand', () => {
  it('1.44 m3 are 17 barrows and 36 bags, cost 86.40 and 9.00, and settle to 2.4 cm', () => {
    const row = first([method()])
    expect(row).toMatchObject({ volumeMl: 1_440_000, barrows: 17, bags: 36, costMinor: 9_540, settledMm: 24 })
    expect(row.costMinorPerM2).toBeCloseTo(198.75, 10)
    // 95.40 over 240 kg.
    expect(row.costMinorPerKg).toBeCloseTo(39.75, 10)
  })

  it('carries 57.6 minutes by own hours, and 34 more for 50 m further with each of 17 barrows, there and back', () => {
    expect(first([method()]).minutes).toBeCloseTo(57.6 + 34, 10)
    expect(first([method({ wayMm: 20_000 })]).minutes).toBeCloseTo(57.6, 10)
    expect(first([method({ wayMm: null })]).minutes).toBeCloseTo(57.6, 10)
    expect(first([method({ product: { ...product, minutesPerM3: null } })]).minutes).toBeNull()
  })

  it('brings 36 g of phosphorus a m2 against 2 carried off: 18 seasons’ worth, which 1.67 mm replace', () => {
    const row = first([method()])
    // 18 kg fresh and 9 kg dry on each m2.
    expect(row.broughtGPerM2.nitrogen).toBeCloseTo(135, 10)
    expect(row.broughtGPerM2.phosphorus).toBeCloseTo(36, 10)
    expect(row.broughtGPerM2.potassium).toBeCloseTo(90, 10)
    expect(row.seasonsOfPhosphorus).toBeCloseTo(18, 10)
    // By nitrogen 10 g taken against 12 per cent of 4.5 g a mm.
    expect(row.needed?.by).toEqual({
      nitrogen: expect.closeTo(10 / 0.54, 10),
      phosphorus: expect.closeTo(30 / 18, 10),
      potassium: expect.closeTo(30 / 9, 10),
    })
    expect([row.needed?.binds, row.neededSettledMm]).toEqual(['phosphorus', expect.closeTo(1.7 * 0.8, 10)])
  })

  it('takes the own heap first, once, by its own analysis, and buys the rest', () => {
    const heap = {
      ...{ inputId: 'own', name: 'Own compost', kind: 'compost', volumeMl: 1_800_000 },
      made: { ...product.made, phosphorusMgPerKg: 8_000 },
    }
    const rows = dressingPlan([method(), method({ methodId: 'dug' })], [heap], terms)
    expect(rows.map((row) => row.fromHeaps)).toEqual([
      [{ name: 'Own compost', volumeMl: 1_440_000 }],
      [{ name: 'Own compost', volumeMl: 360_000 }],
    ])
    expect(rows.map((row) => [row.toBuyMl, row.costMinor, row.bags])).toEqual([
      [0, 0, 0],
      // 1.08 m3 at 60 and the carriage.
      [1_080_000, 7_380, 27],
    ])
    // All from the heap: twice the phosphorus; a quarter of it: 0.75 x 36 + 0.25 x 72.
    expect(rows.map((row) => row.broughtGPerM2.phosphorus)).toEqual([expect.closeTo(72, 8), expect.closeTo(45, 8)])
    const manure = first([method({ product: { ...product, kind: 'manure' } })], [heap])
    expect(manure.fromHeaps).toEqual([])
  })

  it('what is not known stays unknown, and nothing costs nothing', () => {
    const unpriced = first([method({ product: { ...product, minorPerUnit: null }, last: null })])
    expect([unpriced.costMinor, unpriced.costMinorPerKg, unpriced.seasonsOfPhosphorus]).toEqual([null, null, null])
    const nothing = first([method({ typed: { kind: 'nothing' } })])
    expect([nothing.costMinor, nothing.minutes, nothing.barrows, nothing.broughtGPerM2.phosphorus]).toEqual([
      0, 0, 0, 0,
    ])
  })
})

it('days from spreading to the first crop after it, with its stands and roots; what stood before is left out', () => {
  const input = { name: 'Compost', kind: 'compost' }
  const spreading = { seasonId: 's', seasonName: '2025/26', gardenId: 'g', bedId: null, plantingId: null, input }
  const spreadings = ['2025-09-20', '2025-08-20'].map((appliedOn) => ({ ...spreading, appliedOn }))
  const places = [{ id: 'g', gardenId: 'g', gardenName: 'Long Bank', bedIds: ['a'] }]
  const sown = (id: string, crop: string, sownOn: string) => ({
    ...{ id, seasonId: 's', bedId: 'a', crop, sownOn, plantedOn: null },
  })
  const found = daysToSowing({
    spreadings,
    places,
    plantings: [sown('1', 'carrot', '2025-10-01'), sown('2', 'garlic', '2025-05-01'), sown('3', 'kale', '2025-11-01')],
    stands: [
      { plantingId: '1', standing: 88, sown: 120 },
      { plantingId: '2', standing: 9, sown: 10 },
    ],
    weighed: [
      { id: '1', marketableG: 900, unmarketableG: 100 },
      { id: '3', marketableG: 500, unmarketableG: 500 },
    ],
  } as unknown as Parameters<typeof daysToSowing>[0])
  expect(found).toMatchObject([
    { spreadOn: '2025-08-20', days: 42, stands: { standing: 88, sown: 120 }, roots: { grams: 1000, badGrams: 100 } },
  ])
})

describe('on the page', () => {
  let place: Place
  let trial: Trial
  beforeAll(async () => {
    place = await openPlace()
    trial = await setUpTrial(place)
    const load = newId()
    const post = (path: string, fields: Record<string, unknown>) =>
      trial.keeper.post(`${trial.base}/${path}`, { id: newId(), ...fields })
    await post('inputs/deliveries', {
      ...{ id: load, name: 'Compost', kind: 'compost', unit: 'm3', ownMade: 'bought', usefulLifeSeasons: '1' },
      ...{ quantityThousandths: '1,5', orderedOn: '2025-07-01', deliveredOn: '2025-08-10', priceMinor: '90' },
      ...{ deliveryPriceMinor: '30', moisture: '50', densityKgPerM3: '600' },
      ...{ nitrogen: '1.5', phosphorus: '0.4', potassium: '1' },
    })
    await post('inputs/spreadings', {
      ...{ deliveryId: load, place: `garden:${trial.gardens.bank}`, quantityThousandths: '1.5' },
      ...{ appliedOn: '2025-08-20', seasonId: trial.season, phase: 'established' },
    })
    const picked = { harvestedOn: '2026-01-28', marketable: '20', unmarketable: '', why: '', surely: 'yes' }
    await post('weeks/2026-W05/harvests', { ...picked, plantingId: plantingOf(trial, 'carrot', 'Long Bank') })
    const carried = { place: `garden:${trial.gardens.bank}`, task: 'carrying materials', time: '3', deliveryId: load }
    await post('weeks/2025-W34/hours', { ...carried, phase: 'establishing', workedOn: '2025-08-20' })
  })
  afterAll(() => place.close())

  const fieldsOf = (html: string) =>
    Object.fromEntries(
      [...html.matchAll(/<input id="f-(amounts[^"]*)" name="[^"]*" type="text" value="([^"]*)"/g)].map((one) => [
        one[1] ?? '',
        one[2] ?? '',
      ]),
    )

  it('starts from the record: what each method had last, its price, hours and crop', async () => {
    const { text } = await trial.keeper.get(`${trial.base}/decide/compost`)
    // 1.5 m3 on 30 m2: 5 cm, 900 kg, 18 barrows of 85 l, 38 bags of 40 l, 3 h, 120.00 on 30 m2 and 20 kg.
    expect(rowOf(text, 'Compost mulch Long Bank')).toEqual([
      'Compost mulch Long Bank',
      '5 cm of Compost settles to about 4.0 cm',
      ...['1.50', '0.90', '18', '38', '3.0', '$120.00', '$4.00', '$6.00'],
    ])
    expect(rowOf(text, 'Dug every spring Lower Terrace')[1]).toBe(words.noProduct)
    const whole = { goesOn: '1.50 m³', mass: '0.90 t', cost: '$120.00', hours: '3.00 h' }
    expect(plain(text)).toContain(words.answer(whole))
    // 60 g a m2 against 7 g on 30 m2.
    expect(plain(text)).toContain(words.most({ method: 'Compost mulch', times: '257', needed: words.noneNeeded }))
    const picture = text.split('aria-labelledby="dressing-feeds-title"')[1]?.split('</svg>')[0] ?? ''
    expect(plain(picture)).toContain(words.picture.told(['Compost mulch 257']))
    expect(plain(text)).toContain(words.overInch('Compost mulch'))
    expect(plain(text)).not.toContain('91/676/EEC')
  })

  it('what is printed reads back as itself, and a load stands in for a layer', async () => {
    const { text } = await trial.keeper.get(`${trial.base}/decide/compost`)
    const [name] = Object.keys(fieldsOf(text)).filter((key) => fieldsOf(text)[key] !== 'nothing')
    const of = async (amount: string) =>
      rowOf(
        (await trial.keeper.get(`${trial.base}/decide/compost?${name}=${encodeURIComponent(amount)}`)).text,
        'Compost mulch Long Bank',
      )
    for (const typed of ['5 cm', '2.54 cm', '0.3 cm', '12.5 cm']) {
      const printed = /^(\S+ cm) of/.exec((await of(typed))[1] ?? '')?.[1] ?? ''
      expect([typed, await of(printed)]).toEqual([typed, await of(typed)])
      expect(printed).toBe(typed)
    }
    expect((await of('10 barrows')).slice(2, 5)).toEqual(['0.85', '0.51', '10'])
    expect((await of('2 trailers of 750 l')).slice(2)).toEqual((await of('5 cm')).slice(2))
    const wrong = await trial.keeper.get(`${trial.base}/decide/compost?${name}=7+bales`)
    expect([wrong.status, plain(wrong.text)]).toEqual([422, expect.stringContaining(words.unknownWord('bales'))])
    for (const text of ['thick', '-1 cm', '2 m', 'NaN', '3 bags of 40']) {
      const answer = await trial.keeper.get(`${trial.base}/decide/compost?${name}=${encodeURIComponent(text)}`)
      expect([text, answer.status]).toEqual([text, 422])
    }
    for (const bad of ['barrow=0', 'bag=-2', 'settles.compost=101', 'settles.mulch=0', 'wantedOn=2026-02-31']) {
      expect([bad, (await trial.keeper.get(`${trial.base}/decide/compost?${bad}`)).status]).toEqual([bad, 422])
    }
  })

  const layersIn = (html: string) => html.split(`<caption>${words.layersHeading}`)[1] ?? ''

  it('works the layer back from need, names what decides it, and plans with it', async () => {
    const { text } = await trial.keeper.get(`${trial.base}/decide/compost`)
    // 225 g of nitrogen a m2 lie there: 7 per cent of it are more than 20 kg of carrots on 30 m2 took.
    expect(rowOf(layersIn(text), 'Compost mulch')).toEqual([
      ...['Compost mulch', words.noneNeeded, '', words.by.covered, '5 cm'],
    ])
    const picked = { harvestedOn: '2026-01-28', marketable: '20', unmarketable: '', why: '', surely: 'yes' }
    const planting = { id: newId(), plantingId: plantingOf(trial, 'carrot', 'Lower') }
    await trial.keeper.post(`${trial.base}/weeks/2026-W05/harvests`, { ...picked, ...planting })
    const [name, id] = [
      /name="(product\.[^"]*)"/.exec(text)?.[1],
      /<option value="([^"]+)"[^>]*>Compost</.exec(text)?.[1],
    ]
    const chosen = (await trial.keeper.get(`${trial.base}/decide/compost?${name}=${id}`)).text
    // 7 g of phosphorus on 20 m2 against 1.2 g a mm: 0.29 mm, of which 80 per cent are left after settling.
    expect(rowOf(layersIn(chosen), 'Dug every spring')).toEqual([
      ...['Dug every spring', `0.3 mm ${words.onceIn(33)}`, '0.2 mm', words.by.phosphorus, words.noProduct],
    ])
    const address = /href="([^"]*amounts\.[^"]*)"/.exec(chosen)?.[1]?.replaceAll('&amp;', '&') ?? ''
    const planned = (await trial.keeper.get(address)).text
    expect(rowOf(planned, 'Dug every spring Lower Terrace')[1]).toMatch(/^0\.03 cm of Compost/)
    expect(rowOf(planned, 'Compost mulch Long Bank')[1]).toBe(words.noProduct)
  })

  it('is written down with the answer and the address that holds what was typed', async () => {
    const { text } = await trial.keeper.get(`${trial.base}/decide/compost?barrow=70`)
    const link = /href="([^"]*decisions\?form=[^"]*)"/.exec(text)?.[1]?.replaceAll('&amp;', '&') ?? ''
    const form = (await trial.keeper.get(link.split('#')[0] ?? '')).text
    const log = plain(form)
    expect(log).toContain('Compost mulch: 5 cm of Compost.')
    expect(log).toContain(`Next season takes 1.50 m³ (0.90 t), for $120.00 and 3.00 h`)
    expect(form).toContain('name="address" value="decide/compost?barrow=70"')
    expect(form).toMatch(/name="expectedFigure"[^>]*value="1.5"/)
  })

  it('orders by the slowest load, and says where that day is past', async () => {
    const at = async (day: string) =>
      plain((await trial.keeper.get(`${trial.base}/decide/compost?wantedOn=${day}`)).text)
    expect(await at('2127-08-01')).toContain(words.orderBy({ product: 'Compost', day: '22 June 2127', lead: '40' }))
    expect(await at('2026-08-01')).toContain(words.orderLate({ product: 'Compost', day: '22 June 2026', lead: '40' }))
  })

  it('a test that the laboratory calls high says that nothing more is needed for it', async () => {
    const test = { id: newId(), place: `garden:${trial.gardens.bank}`, sampledOn: '2025-08-05', laboratory: 'Harbour' }
    const value = { analyte: 'P', extractant: 'Olsen', value: '60', unit: 'mg/L', depthMm: '0-15 cm', highFrom: '45' }
    await trial.keeper.post(`${trial.base}/soil`, { ...test, ...value, lowUnder: '15' })
    const { text } = await trial.keeper.get(`${trial.base}/decide/compost`)
    expect(plain(text)).toContain(words.testHigh('Compost mulch', 'P'))
    expect(rowOf(layersIn(text), 'Compost mulch').slice(1)).toEqual([words.noneNeeded, '', words.by.high, '5 cm'])
    expect(plain(text)).toContain('P 60 mg/L, Olsen (high)')
  })
})
