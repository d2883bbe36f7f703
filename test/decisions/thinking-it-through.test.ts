import { afterAll, beforeAll, expect, it } from 'vitest'
import { newId } from '../../src/db/new-id.ts'
import { dayIn } from '../../src/quantities/dates.ts'
import { catalogue } from '../../src/words/catalogue.ts'
import { openPlace, type Place } from '../support/app.ts'
import { plain, rowOf } from '../support/page-checks.ts'
import { choicesIn, plantingOf, setUpTrial, type Trial } from '../support/trial.ts'

const words = catalogue.deciding
let place: Place
let trial: Trial
const load = newId()
const post = (path: string, fields: Record<string, unknown>) =>
  trial.keeper.post(`${trial.base}/${path}`, { id: newId(), ...fields })

beforeAll(async () => {
  place = await openPlace()
  trial = await setUpTrial(place)
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
  const week = 'weeks/2026-W05'
  const picked = { harvestedOn: '2026-01-28', marketable: '20', unmarketable: '', why: '', surely: 'yes' }
  await post(`${week}/harvests`, { ...picked, plantingId: plantingOf(trial, 'carrot', 'Long Bank') })
  const bank = `garden:${trial.gardens.bank}`
  await post(`${week}/hours`, { place: bank, task: 'weeding', time: '3', workedOn: '2026-01-28' })
  await post(`${week}/hours`, { place: bank, task: 'harvest', time: '2', workedOn: '2026-01-28' })
  const carried = { place: bank, task: 'carrying materials', time: '3', deliveryId: load, phase: 'establishing' }
  await post('weeks/2025-W34/hours', { ...carried, workedOn: '2025-08-20' })
  const lower = `garden:${trial.gardens.lower}`
  await post(`${week}/hours`, { place: lower, task: 'weeding', time: '4', workedOn: '2026-01-28' })
})
afterAll(() => place.close())

/** The first of a month in the first year in which it is still to come, where the trial is. */
function nextFirstOf(month: string): string {
  const today = dayIn('Pacific/Auckland', new Date())
  const year = Number(today.slice(0, 4))
  return `${year}-${month}-01` > today ? `${year}-${month}-01` : `${year + 1}-${month}-01`
}

it('compost: the form starts from the group’s own load, last layer, hours and harvest', async () => {
  const { text } = await trial.keeper.get(`${trial.base}/decide/compost/layer`)
  const value = (name: string) => new RegExp(`name="${name}"[^>]*value="([^"]*)"`).exec(text)?.[1]
  const names = ['area', 'depthMm', 'pricePerM3', 'carriage', 'density', 'moisture', 'phosphorus', 'wantedOn']
  // 1.5 m3 on 30 m2 is 50 mm; 90 for 1.5 m3 is 60 a m3.
  expect(names.map(value)).toEqual(['30 m2', '50 mm', '60.00', '30.00', '600', '50', '0.4', nextFirstOf('08')])
  expect(rowOf(text, 'Volume')).toEqual(['Volume', '1.50 m³'])
  expect(rowOf(text, 'Cost with carriage')[1]).toBe('$120.00')
  expect(rowOf(text, words.compost.rows.hours)[1]).toBe('3.00 h')
  // 5 cm at 600 kg/m3, half dry, 1.5-0.4-1.0 per cent: 225, 60 and 150 g on each m2.
  expect(rowOf(text, 'Nitrogen in it')[1]).toBe('6.8 kg, 225 g per m²')
  expect(rowOf(text, 'Phosphorus in it')[1]).toBe('1.8 kg, 60 g per m²')
  expect(rowOf(text, words.compost.rows.firstSeason)[1]).toBe('0 g to 45 g per m²')
  // 20 kg of carrots at 35 mg P in 100 g are 7 g on 30 m2: 0.23 g; 60 g are 257 times that; 5 x 59.77 left.
  expect(rowOf(text, 'phosphorus')).toEqual(['phosphorus', '60.0 g', '0.2 g', '257.1', '0.2 mm', '298.8 g'])
  expect(plain(text)).toContain(words.compost.overInch('50 mm'))
  // The limit is made for manure: a compost of green waste does not come under it.
  expect(plain(text)).not.toContain('91/676/EEC')
  const wanted = await trial.keeper.get(`${trial.base}/decide/compost/layer?wantedOn=2127-08-01`)
  expect(plain(wanted.text)).toContain(words.compost.orderBy('22 June 2127', 40, '1 August 2127'))
  const past = await trial.keeper.get(`${trial.base}/decide/compost/layer?wantedOn=2026-08-01`)
  expect(plain(past.text)).toContain(words.compost.orderLate('22 June 2026', 40, '1 August 2026'))
})

it('compost: what is typed stands in the address and in the form, and a wrong figure says so', async () => {
  const all = 'area=10&depthMm=2+cm&seasons=1&density=700&moisture=40&pricePerM3=&carriage=&wantedOn='
  const { text } = await trial.keeper.get(`${trial.base}/decide/compost/layer?${all}&phosphorus=`)
  expect(rowOf(text, 'Volume')[1]).toBe('0.20 m³')
  expect(rowOf(text, 'Cost with carriage')[1]).toBe('not known')
  expect(rowOf(text, 'Phosphorus in it')[1]).toBe('not known')
  const link = /href="([^"]*decisions\?form=[^"]*)"/.exec(text)?.[1]?.replaceAll('&amp;', '&') ?? ''
  const log = await trial.keeper.get(link.split('#')[0] ?? '')
  expect(log.text).toContain('20 mm of Compost on Long Bank: 0.20 m³.</textarea>')
  const wrong = await trial.keeper.get(
    `${trial.base}/decide/compost/layer?${all.replace('depthMm=2+cm', 'depthMm=thick')}`,
  )
  expect([wrong.status, plain(wrong.text)]).toEqual([422, expect.stringContaining(catalogue.fields.notLength)])
})

it('compost: manure and hay are products of their own, with their own price, weight and analysis', async () => {
  const other = await setUpTrial(place)
  const send = (fields: Record<string, unknown>) =>
    other.keeper.post(`${other.base}/inputs/deliveries`, {
      ...{ id: newId(), unit: 'm3', ownMade: 'bought', usefulLifeSeasons: '1', quantityThousandths: '2' },
      ...{ orderedOn: '2025-07-01', deliveredOn: '2025-08-10', deliveryPriceMinor: '0', surely: 'yes' },
      ...fields,
    })
  await send({ name: 'Horse manure', kind: 'manure', rawManure: 'raw', priceMinor: '20', densityKgPerM3: '475' })
  await send({ name: 'Hay', kind: 'mulch', priceMinor: '100' })
  const first = await other.keeper.get(`${other.base}/decide/compost/layer`)
  const products = choicesIn(first.text)('product')
  expect(Object.keys(products)).toEqual(['Hay', 'Horse manure'])
  const manured = `product=${products['Horse manure']}&area=20+m2&depthMm=50+mm&moisture=60&nitrogen=2`
  const { text } = await other.keeper.get(`${other.base}/decide/compost/layer?${manured}`)
  expect(rowOf(text, 'Cost with carriage')[1]).toBe('$10.00')
  // 1 m3 at 475 kg, 40 per cent dry, 2 per cent N: 3.8 kg on 20 m2 are 190 g/m2, far over 17.
  expect(rowOf(text, 'Nitrogen in it')[1]).toBe('3.8 kg, 190 g per m²')
  const directive = '170 kg of nitrogen a hectare and year from manure (Directive 91/676/EEC, annex III)'
  expect(plain(text)).toContain(words.compost.overLimit('1 900', directive))
  const hay = (await other.keeper.get(`${other.base}/decide/compost/layer?product=${products.Hay}&depthMm=10+cm`)).text
  expect(rowOf(hay, 'Weight as it comes')[1]).toBe(words.unknown)
  expect(plain(hay)).toContain(words.compost.from.analysisTable(catalogue.ledger.sources.memory))
})

it('compost: without a load of one’s own the usual figures say whose they are', async () => {
  const other = await place.keeper()
  expect(plain((await other.get(`/g/${other.slug}/decide/compost/layer`)).text)).toContain(words.compost.none)
  const trialTwo = await setUpTrial(place)
  const { text } = await trialTwo.keeper.get(`${trialTwo.base}/decide/compost/layer`)
  expect(plain(text)).toContain(words.compost.from.analysisTable(catalogue.ledger.sources.CalRecycle))
  expect(plain(text)).toContain(words.compost.balanceNone)
  // 10 m2 x 2 at 10 mm: 0.2 m3, 119 kg at 593 and 190 kg at 949.
  expect(rowOf(text, 'Weight as it comes')).toEqual(['Weight as it comes', '119 kg', '190 kg'])
  // Half water and 1.53 per cent of N in the rest: 4.54 g of N in each of 10 L.
  expect(rowOf(text, 'Nitrogen in it')[1]).toBe('0.9 kg, 45 g per m²')
})

/** Ten rows of low, middle and high in one address. */
const assumed = (rows: Record<string, readonly [string, string, string]>) =>
  Object.entries(rows)
    .flatMap(([key, [low, middle, high]]) => [`${key}-low=${low}`, `${key}-middle=${middle}`, `${key}-high=${high}`])
    .join('&')

/** 5 h of hoeing, 4 h of covering for one season, 20 kg for 5 h of work: the worked example of the public page. */
const certain = assumed({
  covered: ['1', '1', '1'],
  coverMinutes: ['4', '4', '4'],
  hoeMinutes: ['5', '5', '5'],
  falls: ['0', '0', '0'],
  lostToWeed: ['0', '0', '0'],
  comesBack: ['0', '0', '0'],
  ownG: ['20', '20', '20'],
  ownMinutes: ['5', '5', '5'],
  transplantMinutes: ['0', '0', '0'],
  transplantLost: ['0', '0', '0'],
})

it('restart: the bed’s weeding and harvest come from the record, and the break-even comes after what no patch says', async () => {
  const first = await trial.keeper.get(`${trial.base}/decide/restart`)
  const bed = choicesIn(first.text)('bed')['Long Bank, Bed 1'] ?? ''
  const { text } = await trial.keeper.get(`${trial.base}/decide/restart?bed=${bed}`)
  const value = (name: string) => new RegExp(`name="${name}"[^>]*value="([^"]*)"`).exec(text)?.[1]
  // Half of 3 h of weeding, which no clean bed tells apart; six minutes a m2 on 15 m2.
  expect(['area', 'hoeMinutes-middle', 'coverMinutes-middle'].map(value)).toEqual(['15 m2', '90 min', '90 min'])
  expect(plain(text)).toContain(words.restart.from.hoeAll('2025/26'))
  const decided = await trial.keeper.get(`${trial.base}/decide/restart?bed=${bed}&seasons=3&${certain}`)
  expect(plain(decided.text)).toContain(words.restart.answer.pays('1.33 h', '5.00 h'))
  expect(plain(/<p class="answer">[^<]*/.exec(decided.text)?.[0] ?? '')).toBe(words.restart.rests.noPatch)
  expect(plain(decided.text)).toContain(words.restart.chance(100, words.restart.how.nearlyAlways, '3'))
  expect(rowOf(decided.text, words.restart.middleRows.gain)).toEqual([words.restart.middleRows.gain, '', '11.00 h'])
  const priced = `${certain}&wage=20&pricePerKg=8&materials=50`
  const money = await trial.keeper.get(`${trial.base}/decide/restart?bed=${bed}&seasons=3&${priced}`)
  // 15 h x 20 = 300; 4 h x 20 + 20 kg x 8 - 5 h x 20 + 50 = 190.
  expect(rowOf(money.text, words.restart.middleRows.gain)[2]).toBe('$110.00')
  const upsideDown = await trial.keeper.get(`${trial.base}/decide/restart?bed=${bed}&covered-low=3`)
  expect([upsideDown.status, plain(upsideDown.text)]).toEqual([422, expect.stringContaining(words.restart.upsideDown)])
})

it('restart: a garden as a whole, and part of a bed', async () => {
  const first = await trial.keeper.get(`${trial.base}/decide/restart`)
  const all = choicesIn(first.text)('bed')[words.restart.allBeds('Long Bank')] ?? ''
  const whole = await trial.keeper.get(`${trial.base}/decide/restart?bed=${all}`)
  expect(whole.text).toMatch(/name="area"[^>]*value="30 m2"/)
  const part = await trial.keeper.get(`${trial.base}/decide/restart?bed=${all}&area=5+m2`)
  expect(part.text).toMatch(/name="coverMinutes-middle"[^>]*value="30 min"/)
})

it('pay-back: establishing from the record, and what cannot be known from it', async () => {
  const { text } = await trial.keeper.get(`${trial.base}/decide/pay-back`)
  expect(plain(text)).toContain('0.10 h a m²')
  expect(plain(text)).toContain(words.payBack.noSeason)
  expect(plain(text)).toContain(words.payBack.cannotKnow)
  const thing = 'price=2000&salvage=200&years=15&rate=5&saved=20'
  const bought = (await trial.keeper.get(`${trial.base}/decide/pay-back?${thing}`)).text
  expect(rowOf(bought, words.payBack.thingRows.straight)[1]).toBe('$120.00')
  expect(rowOf(bought, words.payBack.thingRows.recovery)[1]).toBe('$183.42')
  expect(rowOf(bought, words.payBack.thingRows.perHour)[1]).toBe('$9.17')
  const wrong = await trial.keeper.get(`${trial.base}/decide/pay-back?price=2000&years=0&rate=5&saved=20`)
  expect([wrong.status, plain(wrong.text)]).toEqual([422, expect.stringContaining(catalogue.fields.atLeast(1))])
})

it('each page says that it is a scenario, and an address with odd ids opens all the same', async () => {
  for (const path of [
    'compost?product.x=abc',
    'compost/layer?garden=abc',
    'restart?bed=abc',
    'pay-back?own=abc&other[]=x',
  ]) {
    const answer = await trial.keeper.get(`${trial.base}/decide/${path}`)
    expect([path, answer.status, plain(answer.text).includes(words.scenario)]).toEqual([path, 200, true])
  }
})

it('the public page says how each of these figures is made, with its source', async () => {
  for (const entry of words.howMade) {
    const { text } = await place.guest().get(`/figures/${entry.key}`)
    expect(text).toContain('<h1>')
    expect(plain(text)).toContain(plain(entry.source))
  }
})

it('the same scenarios stand in JSON, unrounded, and a wrong figure is answered with its sentence', async () => {
  const compost = await trial.keeper.json<Record<string, Record<string, unknown>>>(
    `${trial.base}/decide/compost/layer.json`,
  )
  expect(compost.layer).toMatchObject({ volumeMl: 1_500_000, freshG: 900_000, costMinor: 12_000 })
  expect(compost.phosphorus).toMatchObject({ kind: 'answer' })
  expect(Number(compost.phosphorus?.seasonsCarried)).toBeCloseTo((60 * 30) / 7, 8)
  const restart = await trial.keeper.json<{ middle: { gainOfCovering: number; breakEvenMinutes: number } }>(
    `${trial.base}/decide/restart.json?seasons=3&${certain}`,
  )
  expect([restart.middle.gainOfCovering, restart.middle.breakEvenMinutes]).toEqual([660, 80])
  const paid = await trial.keeper.json<{ thing: { cost: { straightMinor: number } } }>(
    `${trial.base}/decide/pay-back.json?price=2000&salvage=200&years=15&rate=5&saved=20`,
  )
  expect(paid.thing.cost.straightMinor).toBe(12_000)
  const wrong = await trial.keeper.get(`${trial.base}/decide/compost/layer.json?depthMm=thick`)
  expect([wrong.status, JSON.parse(wrong.text)]).toEqual([422, { errors: { depthMm: catalogue.fields.notLength } }])
})
