import { afterAll, beforeAll, expect, it } from 'vitest'
import { languageOfPage } from '../../src/words/locales.ts'
import { openPlace, type Place } from '../support/app.ts'

let place: Place
beforeAll(async () => {
  place = await openPlace()
})
afterAll(() => place.close())

const tagOf = (html: string, tag: string) => new RegExp(`<${tag}[^>]*>`).exec(html)?.[0]

it('a page that is not translated yet says that it is in English, what stands around it does not', async () => {
  const keeper = await place.keeper({ locale: 'de-AT', timeZone: 'Europe/Vienna', currency: 'EUR' })
  const { text } = await keeper.get(`/g/${keeper.slug}/notes`)
  expect(tagOf(text, 'html')).toBe('<html lang="de-AT" dir="ltr">')
  expect(tagOf(text, 'main')).toBe('<main id="page" lang="en">')
  expect(tagOf(text, 'nav class="choices"')).toBe('<nav class="choices" lang="de-AT" aria-label="Seiten dieses Teils">')
  const home = await keeper.get(`/g/${keeper.slug}`)
  expect(tagOf(home.text, 'main')).toBe('<main id="page">')
})

it('is told in the language of its own chapter', () => {
  expect(languageOfPage('de-AT', 'notes/notes')).toBe('en')
  expect(languageOfPage('de-AT', 'diary/week')).toBe('de-AT')
  expect(languageOfPage('en-NZ', 'notes/notes')).toBe(languageOfPage('en-NZ', 'diary/week'))
  expect(languageOfPage('ar', 'notes/notes')).toBe('en')
})
