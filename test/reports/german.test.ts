import { afterAll, beforeAll, expect, it } from 'vitest'
import { pictureKeys } from '../../src/comparison/pictures/picture-keys.ts'
import { newId } from '../../src/db/new-id.ts'
import { sectionKeys } from '../../src/reports/sections.ts'
import { catalogue } from '../../src/words/catalogue.ts'
import { type Client, openPlace, type Place } from '../support/app.ts'
import { wholeCompare } from '../support/compare.ts'
import { plain, rowOf } from '../support/page-checks.ts'

let place: Place
let keeper: Client
let base: string
beforeAll(async () => {
  place = await openPlace()
  keeper = await place.person()
  base = (await keeper.post('/demo/copy')).location
  const settings = { name: 'Quern Hill Growers', currency: 'NZD', timeZone: 'Pacific/Auckland', locale: 'de-AT' }
  const version = /name="version" value="(\d+)"/.exec((await keeper.get(`${base}/settings`)).text)?.[1]
  const saved = await keeper.post(`${base}/settings`, { ...settings, weightUnit: 'kg', areaUnit: 'm2', version })
  expect(saved.status).toBe(303)
})
afterAll(() => place.close())

const share = async (season: string) => {
  const id = newId()
  // What a group decided stands in its own words, which in the example are English.
  const chosen = { sections: sectionKeys.filter((key) => key !== 'decided'), pictures: [...pictureKeys] }
  const fields = { id, title: 'Drei Saisonen', words: '', season, ...chosen, keeps: 'frozen' }
  const frozen = await keeper.post(`${base}/reports`, { ...fields, step: 'finish' })
  expect(frozen.status).toBe(303)
  const page = await keeper.post(`${base}/reports/${id}/links`, { endsOn: '', passphrase: '' })
  return /\/r\/[\w-]+/.exec(page.text)?.[0] ?? ''
}

it('the shared report of a group that writes numbers as in de-AT is in German, its findings too', async () => {
  const { text } = await place.guest().get(await share('all'))
  expect(text).toContain('<html lang="de-AT" dir="ltr">')
  const said = plain(text)
  expect(rowOf(text, 'Marktfähig, kg je m² Beet')[1]).toMatch(/^\d,\d\d (bisher )?auf \d+,\d m², \d+ Pflanzungen$/)
  expect(said).toMatch(
    /Über \d Saisonen \([^)]*\) waren .* nach Gewicht nicht zu unterscheiden, bei \d+ gepaarten Kulturen/,
  )
  expect(said).toContain('Wie sicher über diese Stücke Land:')
  expect(said).toContain('niemand hat sie vorher festgelegt')
  expect(said).toContain('Eingefroren am')
  expect(said).toMatch(/Vor Dug every spring und .* steht kein Jahr, in dem alle gleich bearbeitet wurden/)
  for (const english of [
    /\bWhat was seen\b/,
    /\bseasons?\b/,
    /\bplantings?\b/,
    /\binterval\b/,
    /\bfrozen\b/i,
    /\bthe gap\b/,
    /\bbought\b/,
    /\blie otherwise\b/,
    /\bclosed\b/,
  ]) {
    expect(said).not.toMatch(english)
  }
})

/** Whole sentences and labels of English that a page still shows. */
const englishOn = (html: string, ...trees: unknown[]) => {
  const said = plain(html)
  return trees.flatMap(leavesOf).filter((one) => one.length > 11 && said.includes(one))
}
const leavesOf = (tree: unknown): string[] => {
  if (typeof tree === 'string') return [tree]
  return typeof tree === 'object' && tree !== null ? Object.values(tree).flatMap(leavesOf) : []
}
const firstSeason = async () => /guesses\/([0-9a-f-]{36})/.exec((await keeper.get(`${base}/reports`)).text)?.[1] ?? ''

it('its pictures are in German, of several seasons and of one', async () => {
  const several = (await place.guest().get(await share('all'))).text
  const one = (await place.guest().get(await share(await firstSeason()))).text
  for (const html of [several, one]) expect(englishOn(html, catalogue.pictures)).toEqual([])
  expect(several).toMatch(/<title[^>]*>Broadfork, no inversion neben Dug every spring, Saison für Saison<\/title>/)
  expect(several).toContain('marktfähiges Gewicht, Kulturen nach ihrer Fläche, Ausfälle von außen mit')
  expect(one).toMatch(/<desc[^>]*>Das Wievielfache des Gewichts je bepflanztem m²\./)
  expect(one).toContain('Jäten und Pflegen')
})

it('a guess is asked for and shown in German', async () => {
  const address = `${base}/guesses/${await firstSeason()}`
  const asked = await keeper.get(address)
  const empty = await keeper.post(address, {})
  const methods = [...new Set([...asked.text.matchAll(/name="guesses\[([0-9a-f-]{36})\]\[way\]"/g)].map((m) => m[1]))]
  expect([methods.length, empty.status]).toEqual([4, 422])
  const guesses = Object.fromEntries(methods.map((id) => [id, { way: 'more', percent: '10' }]))
  const given = await keeper.post(address, { guesses })
  expect(given.status).toBe(303)
  const after = await keeper.get(address)
  for (const { text } of [asked, empty, after]) {
    expect(englishOn(text, catalogue.guesses)).toEqual([])
    expect(plain(text)).not.toMatch(/\b(you|your|guess|guesses|season|than|per cent|more|less)\b/i)
  }
  expect(plain(empty.text)).toContain('Bitte zu jeder Anbauweise eine Schätzung aufschreiben')
  expect(plain(after.text)).toContain('10 % mehr')
})

it('Compare tells the same findings in German, and the choices below them', async () => {
  const { text } = await wholeCompare(keeper, `${base}/compare?season=all&by=crop`)
  const { comparison, findings, pictures } = catalogue
  expect(englishOn(text, comparison, findings, pictures)).toEqual([])
  expect(plain(text)).toMatch(/Über 3 Saisonen (\(.*\) )?waren .* nach Gewicht nicht zu unterscheiden/)
  expect(plain(text)).toContain('Anders gezählt')
  expect(plain(text)).not.toMatch(/\b(seasons?|the ground|was seen|written)\b/)
}, 240_000)

it('and of one season, with why the gap', async () => {
  const season = await firstSeason()
  const said = plain((await place.guest().get(await share(season))).text)
  expect(said).toContain('Woher der Abstand kommt')
  expect(said).toMatch(/In dieser einen Saison gab .*-Fache des Gewichts/)
  expect(said).toContain('Eine Saison hat kein Intervall')
})

it('what is wrong is said in German at the field, and so is what stops a request', async () => {
  const wrong = await keeper.post(`${base}/reports`, {
    id: newId(),
    title: '',
    season: 'all',
    keeps: 'live',
    step: 'draft',
  })
  expect(wrong.status).toBe(422)
  expect(wrong.text).toContain('Bitte ausfüllen.')
  expect(wrong.text).toContain('Bitte mindestens einen Teil ankreuzen.')
  const long = { id: newId(), title: 'x'.repeat(121), season: 'all', sections: ['why'], keeps: 'live', step: 'draft' }
  expect((await keeper.post(`${base}/reports`, long)).text).toContain('Höchstens 120 Zeichen.')
  expect((await keeper.get(`${base}/seasons/${newId()}`)).text).toContain('<h1>Hier ist nichts</h1>')
})
