import { expect, it } from 'vitest'
import { FinishedPages } from '../../src/web/finished-pages.ts'

const shown = (pages: FinishedPages, ...names: string[]) => names.map((name) => pages.get(name)?.toString() ?? null)

it('pages are kept up to their bytes, and what was given last stays', () => {
  const pages = new FinishedPages(10)
  expect(pages.keep('a', 'grün').length).toBe(5)
  pages.keep('b', 'green')
  expect(shown(pages, 'a', 'b')).toEqual(['grün', 'green'])
  expect(shown(pages, 'a')).toEqual(['grün'])
  pages.keep('c', '1')
  expect(shown(pages, 'a', 'b', 'c')).toEqual(['grün', null, '1'])
})

it('a page that is kept anew counts once, and one larger than all is not kept', () => {
  const pages = new FinishedPages(10)
  for (const text of ['one', 'two', 'six', 'ten']) pages.keep('a', text)
  pages.keep('b', '1234567')
  expect(shown(pages, 'a', 'b')).toEqual(['ten', '1234567'])
  expect(pages.keep('c', '12345678901').toString()).toBe('12345678901')
  expect(shown(pages, 'a', 'b', 'c')).toEqual(['ten', '1234567', null])
})
