import { afterAll, beforeAll, expect, it } from 'vitest'
import { newId } from '../../src/db/new-id.ts'
import { openPlace, type Place } from '../support/app.ts'
import { plain } from '../support/page-checks.ts'
import { choicesIn, setUpTrial, type Trial } from '../support/trial.ts'

let place: Place
let trial: Trial
const ids: Record<string, string> = { load: newId() }
beforeAll(async () => {
  place = await openPlace()
  trial = await setUpTrial(place)
  const load = { id: ids.load, name: 'Hay', kind: 'mulch', unit: 'bale', ownMade: 'bought', rawManure: 'no' }
  const price = { quantityThousandths: '10', priceMinor: '40', deliveryPriceMinor: '', usefulLifeSeasons: '1' }
  expect((await post('inputs/deliveries', { ...load, ...price, deliveredOn: '2026-02-02' })).status).toBe(303)
  const at = { deliveryId: ids.load, place: `garden:${trial.gardens.bank}`, quantityThousandths: '4' }
  expect((await post('inputs/spreadings', { ...at, appliedOn: '2026-03-03' })).status).toBe(303)
  ids.input = /correct\/inputs\/([0-9a-f-]{36})/.exec((await trial.keeper.get(`${trial.base}/inputs`)).text)?.[1] ?? ''
  ids.bank = trial.gardens.bank ?? ''
  const beds = choicesIn((await trial.keeper.get(`${trial.base}/gardens/${ids.bank}/ground`)).text)('bedId')
  ids.bed = Object.entries(beds).find(([label]) => label.startsWith('Bed 2,'))?.[1] ?? ''
  const methods = choicesIn((await trial.keeper.get(`${trial.base}/seasons/${trial.season}`)).text)('methodId')
  ids.method = methods['Compost mulch'] ?? ''
  const closing = `${trial.base}/seasons/${trial.season}/close`
  expect((await trial.keeper.post(closing, { version: await versionAt(closing) })).status).toBe(303)
})
afterAll(() => place.close())

const post = (path: string, fields: Record<string, unknown>) =>
  trial.keeper.post(`${trial.base}/${path}`, { id: newId(), ...fields })
const versionAt = async (page: string) =>
  /name="version" value="(\d+)"/.exec((await trial.keeper.get(page)).text)?.[1] ?? ''
const correct = async (kind: string, fields: Record<string, string>) => {
  const page = `${trial.base}/correct/${kind}`
  return trial.keeper.post(page, { version: await versionAt(page), ...fields })
}
const figures = async () => (await trial.keeper.get(`${trial.base}/compare.json?season=${trial.season}`)).text

const hay = { name: 'Hay', kind: 'mulch', unit: 'bale', ownMade: 'bought', usefulLifeSeasons: '1', rawManure: 'no' }
const load = { quantityThousandths: '10', deliveredOn: '2026-02-02', priceMinor: '40', deliveryPriceMinor: '0' }
const bank = { name: 'Long Bank', grossAreaCm2: '40', position: '2' }

it.each<[string, () => string, Record<string, string>, Record<string, string>]>([
  ['the kind of an input', () => `inputs/${ids.input}`, { ...hay, basis: 'element' }, { kind: 'compost' }],
  ['whether it is their own', () => `inputs/${ids.input}`, { ...hay, basis: 'element' }, { ownMade: 'own' }],
  ['whether it is raw manure', () => `inputs/${ids.input}`, { ...hay, basis: 'element' }, { rawManure: 'raw' }],
  ['the price of a load', () => `deliveries/${ids.load}`, load, { priceMinor: '45' }],
  ['the quantity of a load', () => `deliveries/${ids.load}`, load, { quantityThousandths: '12' }],
  ['the area of a bed', () => `beds/${ids.bed}`, { name: 'Bed 2', areaCm2: '15' }, { areaCm2: '14' }],
  [
    'since when a bed is there',
    () => `beds/${ids.bed}`,
    { name: 'Bed 2', areaCm2: '15' },
    { thereSince: '2025-09-01' },
  ],
  ['the gross area of a garden', () => `gardens/${ids.bank}`, bank, { grossAreaCm2: '44' }],
  [
    'over how many seasons first work is spread',
    () => `methods/${ids.method}`,
    { name: 'Compost mulch', workingRules: '' },
    { establishingSeasons: '5' },
  ],
])(
  '%s, on which a closed season rests, is corrected with a reason and not without',
  async (_name, at, stands, change) => {
    const before = await figures()
    const asked = await correct(at(), { ...stands, ...change })
    expect([asked.status, plain(asked.text)]).toEqual([
      422,
      expect.stringContaining('This is closed. Say why it is corrected, or leave it as it stands.'),
    ])
    expect(await figures()).toBe(before)
    const told = await correct(at(), { ...stands, ...change, closedReason: 'read again from the bill' })
    expect(told.status).toBe(303)
    const history = plain((await trial.keeper.get(`${trial.base}/history`)).text)
    expect(history).toContain('read again from the bill')
    expect((await correct(at(), { ...stands, closedReason: 'and back' })).status).toBe(303)
  },
)

it('what no figure of it rests on needs no reason: a supplier, a name, another load', async () => {
  expect((await correct(`deliveries/${ids.load}`, { ...load, supplier: 'Mill' })).status).toBe(303)
  expect((await correct(`inputs/${ids.input}`, { ...hay, name: 'Old hay', basis: 'element' })).status).toBe(303)
  expect((await correct(`beds/${ids.bed}`, { name: 'East', areaCm2: '15' })).status).toBe(303)
})

it('ground that becomes another on a day of a closed season asks why; on a later day it does not', async () => {
  const before = await figures()
  const less = { bedId: ids.bed, areaCm2: '12' }
  const at = `gardens/${ids.bank}/ground/resized`
  const asked = await post(at, { ...less, fromDay: '2026-04-01' })
  expect([asked.status, await figures()]).toEqual([422, before])
  expect(asked.text).toContain('name="closedReason"')
  const told = await post(at, { ...less, fromDay: '2026-04-01', closedReason: 'the path was moved then' })
  expect([told.status, (await figures()) === before]).toEqual([303, false])
  const then = await figures()
  expect((await post(at, { bedId: ids.bed, areaCm2: '11', fromDay: '2026-07-01' })).status).toBe(303)
  expect(await figures()).toBe(then)
  const ground = (await trial.keeper.get(`${trial.base}/gardens/${ids.bank}/ground`)).text
  const rows = [...ground.matchAll(/correct\/bed-areas\/([0-9a-f-]{36})/g)].map((found) => found[1])
  const [first = '', second = ''] = [...new Set(rows)].sort()
  expect((await correct(`bed-areas/${first}`, { fromDay: '2026-04-01', areaCm2: '13' })).status).toBe(422)
  expect((await correct(`bed-areas/${second}`, { fromDay: '2026-07-01', areaCm2: '10' })).status).toBe(303)
  expect(await figures()).toBe(then)
})
