import { gunzipSync } from 'node:zlib'
import { expect, it } from 'vitest'
import { FinishedPages } from '../../src/web/finished-pages.ts'
import { bothOf } from '../../src/web/packed-answers.ts'

const shown = (pages: FinishedPages, ...names: string[]) =>
  names.map((name) => pages.get(name)?.plain.toString() ?? null)

/** How much a page takes, as it is and compressed. */
const bytesOf = async (...texts: string[]) => {
  const all = await Promise.all(texts.map(bothOf))
  return all.reduce((sum, { plain, gzip }) => sum + plain.length + gzip.length, 0)
}

it('pages are kept up to their bytes, and what was given last stays', async () => {
  const pages = new FinishedPages(await bytesOf('grün', 'green'))
  expect((await pages.keep('a', 'grün')).plain.length).toBe(5)
  await pages.keep('b', 'green')
  expect(shown(pages, 'a', 'b')).toEqual(['grün', 'green'])
  expect(shown(pages, 'a')).toEqual(['grün'])
  await pages.keep('c', '1')
  expect(shown(pages, 'a', 'b', 'c')).toEqual(['grün', null, '1'])
})

it('a page that is kept anew counts once, and one larger than all is not kept', async () => {
  const pages = new FinishedPages(await bytesOf('ten', '1234567'))
  for (const text of ['one', 'two', 'six', 'ten']) await pages.keep('a', text)
  await pages.keep('b', '1234567')
  expect(shown(pages, 'a', 'b')).toEqual(['ten', '1234567'])
  const larger = 'neither of them and more than both'
  expect((await pages.keep('c', larger)).plain.toString()).toBe(larger)
  expect(shown(pages, 'a', 'b', 'c')).toEqual(['ten', '1234567', null])
})

it('both are the same page', async () => {
  const page = await new FinishedPages(1000).keep('a', 'grün '.repeat(100))
  expect(gunzipSync(page.gzip).toString()).toBe('grün '.repeat(100))
  expect(page.gzip.length).toBeLessThan(page.plain.length / 5)
})
