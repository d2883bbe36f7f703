import { afterAll, beforeAll, expect, it } from 'vitest'
import { demoSlug } from '../../src/demo/demo.queries.ts'
import { type Client, openPlace, type Place } from '../support/app.ts'
import { plantingOf, setUpTrial } from '../support/trial.ts'

let place: Place
let keeper: Client
let base: string
beforeAll(async () => {
  place = await openPlace()
  keeper = await place.person()
  base = (await keeper.post('/demo/copy')).location
  keeper.slug = base.split('/')[2] ?? ''
  // The notice that it was copied.
  await keeper.get(base)
})
afterAll(() => place.close())

/** How many transactions an opening takes; who asks is found without one, and a guest's group with one. */
async function transactionsOf(work: () => Promise<unknown>): Promise<number> {
  const { database } = place
  const asItIs = database.transaction
  let begun = 0
  Object.assign(database, {
    transaction: (...given: Parameters<typeof asItIs>) => {
      begun += 1
      return asItIs(...given)
    },
  })
  await work()
  Object.assign(database, { transaction: asItIs })
  return begun
}

const addressIn = async (of: string) =>
  `${base}/${new RegExp(`${of}/[0-9a-f-]{36}`).exec((await keeper.get(`${base}/${of}`)).text)?.[0]}`

const idsOf = (text: string) => [...text.matchAll(/name="id"\s+value="([^"]*)"/g)].map(([, id]) => id)
const tokensOf = (text: string) => [...text.matchAll(/name="_csrf" value="([^"]*)"/g)].map(([, token]) => token)
const alike = (text: string) => text.replaceAll(/value="[\w.-]{30,}"/g, 'value=""')

it.each([
  ['Home', async () => base],
  ['a week', async () => `${base}/weeks/2026-W05`],
  ['a season', () => addressIn('seasons')],
  ["a garden's year", () => addressIn('gardens')],
  ['Compare', async () => `${base}/compare?season=all`],
  ['a part of Compare', async () => `${base}/compare/why?season=all`],
])(
  '%s is made once for as long as nothing is written, with another token and other ids at each opening',
  async (_, of) => {
    const address = await of()
    const first = await keeper.get(address)
    const opened: string[] = []
    expect(await transactionsOf(async () => void opened.push((await keeper.get(address)).text))).toBe(0)
    expect(alike(opened[0] ?? '')).toBe(alike(first.text))
    const [before, now] = [first.text, opened[0] ?? ''].map((text) => [...idsOf(text), ...tokensOf(text)])
    expect(now).toHaveLength(before?.length ?? 0)
    expect(now?.filter((one) => before?.includes(one))).toEqual([])
  },
)

it('what is written is on the page at once, and its notice is said once', async () => {
  const trial = await setUpTrial(place)
  const week = `${trial.base}/weeks/2026-W05`
  const id = idsOf((await trial.keeper.get(week)).text)[0]
  const w = { [plantingOf(trial, 'carrot', 'Lower')]: { good: '4.321' } }
  expect((await trial.keeper.post(week, { id, to: 'save', w })).status).toBe(303)
  for (const isTold of [true, false, false]) {
    const { text } = await trial.keeper.get(week)
    expect(text).toContain('4.321')
    expect(text.includes('class="notice"')).toBe(isTold)
  }
})

it('two openings of one page that is kept are two forms: both entries are stored', async () => {
  const trial = await setUpTrial(place)
  const week = `${trial.base}/weeks/2026-W05`
  await trial.keeper.get(week)
  const openings = [await trial.keeper.get(week), await trial.keeper.get(week)]
  for (const [i, { text }] of openings.entries()) {
    const w = { [plantingOf(trial, 'carrot', 'Lower')]: { good: `${i + 1}.234` } }
    expect((await trial.keeper.post(week, { id: idsOf(text)[0], to: 'save', w })).status).toBe(303)
  }
  const ledger = (await trial.keeper.get(`${week}/ledger`)).text
  for (const kg of ['1.234', '2.234']) expect(ledger).toContain(kg)
})

it('who asks is on it, and nobody is given the page of another', async () => {
  const reader = await place.joined(keeper, 'reader')
  const season = await addressIn('seasons')
  await keeper.get(season)
  await keeper.get(season)
  const [theirs, again] = [await reader.get(season), await reader.get(season)]
  for (const page of [theirs, again]) {
    expect(page.text).toContain('Ben Marsh')
    expect(page.text).not.toContain('Ada Rook')
    expect(page.text).not.toContain('name="id"')
  }
  expect((await place.guest().get(season)).status).toBe(303)
})

it('a guest of the example is given what was made for another guest, with a token that opens a form', async () => {
  await place.guest().post('/demo')
  const [one, other] = [place.guest(), place.guest()]
  expect((await one.get(`/g/${demoSlug}/weeks/2026-W05`)).status).toBe(200)
  expect(await transactionsOf(() => other.get(`/g/${demoSlug}/weeks/2026-W05`))).toBe(1)
  const refused = await other.post(`/g/${demoSlug}/weeks/2026-W05`, { to: 'save' })
  expect(refused.text).toContain('<h1>This example is for looking at')
})

it('a group that changes its name and its language is shown under the new ones', async () => {
  const own = await place.keeper()
  const [home, settings] = [`/g/${own.slug}`, `/g/${own.slug}/settings`]
  for (const said of ['<html lang="en"', 'Quern Hill Growers']) {
    for (let i = 0; i < 2; i++) expect((await own.get(home)).text).toContain(said)
  }
  const version = /name="version" value="(\d+)"/.exec((await own.get(settings)).text)?.[1]
  const given = { currency: 'NZD', timeZone: 'Europe/London', weightUnit: 'kg', areaUnit: 'm2', version }
  expect((await own.post(settings, { ...given, name: 'Am Hang', locale: 'de-DE' })).status).toBe(303)
  await own.get(settings)
  for (const said of ['<html lang="de-DE"', 'Am Hang']) expect((await own.get(home)).text).toContain(said)
})
