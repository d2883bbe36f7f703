import { sql } from 'drizzle-orm'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { newId } from '../../src/db/new-id.ts'
import { moneyColumns } from '../../src/inputs/money-written.queries.ts'
import { type Client, openPlace, type Place } from '../support/app.ts'
import { plain, rowOf } from '../support/page-checks.ts'
import { setUpTrial } from '../support/trial.ts'

let place: Place
beforeAll(async () => {
  place = await openPlace()
})
afterAll(() => place.close())

const usual = { name: 'Quern Hill Growers', timeZone: 'Pacific/Auckland', locale: 'en-NZ', weightUnit: 'kg' }
const versionIn = (html: string) => /name="version" value="(\d+)"/.exec(html)?.[1] ?? ''
const fieldIn = (html: string, name: string) => new RegExp(`name="${name}" type="text" value="([^"]*)"`).exec(html)?.[1]

async function save(keeper: Client, fields: Record<string, string>) {
  const address = `/g/${keeper.slug}/settings`
  const version = versionIn((await keeper.get(address)).text)
  return keeper.post(address, { ...usual, areaUnit: 'm2', currency: 'NZD', version, ...fields })
}

it('the currency is changed while nothing has a price', async () => {
  const keeper = await place.keeper()
  expect((await save(keeper, { currency: 'JPY' })).status).toBe(303)
  expect((await keeper.get(`/g/${keeper.slug}/settings`)).text).toContain('<option value="JPY" selected>')
})

it('and no more once a price is written down, of a delivery or of a crop', async () => {
  for (const kind of ['delivery', 'crop']) {
    const keeper = await place.keeper()
    const base = `/g/${keeper.slug}`
    if (kind === 'crop') {
      await place.database.drizzle.execute(
        sql`update crops set price_minor_per_kg = 350 where name = 'carrot' and group_id = (select id from groups where slug = ${keeper.slug})`,
      )
    } else {
      const ordered = { id: newId(), name: 'Compost', kind: 'compost', unit: 'm3', ownMade: 'bought' }
      const priced = { quantityThousandths: '4', deliveredOn: '2025-09-01', priceMinor: '320', usefulLifeSeasons: '1' }
      expect((await keeper.post(`${base}/inputs/deliveries`, { ...ordered, ...priced })).status).toBe(303)
    }
    const refused = await save(keeper, { currency: 'JPY' })
    expect([kind, refused.status, plain(refused.text).includes('Prices stand in this record')]).toEqual([
      kind,
      422,
      true,
    ])
    const stored = await place.database.drizzle.execute(sql`select currency from groups where slug = ${keeper.slug}`)
    expect((stored as unknown as { rows: object[] }).rows).toEqual([{ currency: 'NZD' }])
    expect((await save(keeper, { name: 'Quern Hill' })).status).toBe(303)
  }
})

it('every column of the record that holds money is looked at', async () => {
  const found = (await place.database.drizzle.execute(
    sql`select table_name || '.' || column_name as name from information_schema.columns
      where table_schema = 'public' and column_name like '%minor%' and table_name <> 'groups' order by 1`,
  )) as unknown as { rows: { name: string }[] }
  expect(found.rows.map((row) => row.name)).toEqual(moneyColumns)
})

it('the second of two keepers who save is told, and sees both', async () => {
  const keeper = await place.keeper()
  const other = await place.joined(keeper, 'keeper')
  const version = versionIn((await other.get(`/g/${keeper.slug}/settings`)).text)
  expect((await save(keeper, { name: 'Quern Hill North' })).status).toBe(303)
  const late = await save(other, { version, name: 'Quern Hill South' })
  expect(late.status).toBe(409)
  expect(rowOf(late.text, 'Name of the group')).toEqual(['Name of the group', 'Quern Hill North', 'Quern Hill South'])
  expect(fieldIn(late.text, 'name')).toBe('Quern Hill South')
  expect((await other.get(`/g/${keeper.slug}/settings`)).text).toContain('Quern Hill North')
  expect((await save(other, { version: versionIn(late.text), name: 'Quern Hill South' })).status).toBe(303)
  const blind = await other.post(`/g/${keeper.slug}/settings`, { ...usual, areaUnit: 'm2', currency: 'NZD' })
  expect(blind.status).toBe(409)
})

it('what an hour is worth is written down, and thinking a restart through begins with it', async () => {
  const trial = await setUpTrial(place)
  const { keeper, base } = trial
  const wage = async () => fieldIn((await keeper.get(`${base}/decide/restart`)).text, 'wage')
  expect(await wage()).toBe('')
  const wrong = await save(keeper, { labourRateMinorPerHour: 'a lot' })
  expect([wrong.status, plain(wrong.text).includes('no amount of money')]).toEqual([422, true])
  expect((await save(keeper, { labourRateMinorPerHour: '24,50' })).status).toBe(303)
  expect(fieldIn((await keeper.get(`${base}/settings`)).text, 'labourRateMinorPerHour')).toBe('24.50')
  expect(await wage()).toBe('24.50')
  // Read in the currency beside it: yen have no hundredths.
  expect((await save(keeper, { currency: 'JPY', labourRateMinorPerHour: '24.50' })).status).toBe(422)
  expect((await save(keeper, { currency: 'JPY', labourRateMinorPerHour: '2450' })).status).toBe(303)
  expect(await wage()).toBe('2450')
  expect((await save(keeper, { currency: 'JPY', labourRateMinorPerHour: '' })).status).toBe(303)
  expect(await wage()).toBe('')
})
