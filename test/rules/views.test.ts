import { readdirSync, readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'

const widest = 160

/** What makes a view hard to read: a line that is too wide, two tags in one, work that belongs to the page. */
function faultsOf(text: string): string[] {
  const lines = text.split('\n')
  const wide = lines.some((line) => line.length > widest)
  const markup = lines.map((line) => line.replace(/<%[\s\S]*?%>/g, ''))
  const crowded = markup.some(
    (line) => (line.match(/<(tr|td|th|li|p|h[1-6]|table|thead|tbody|form|section|div|ul|ol)\b/g) ?? []).length > 1,
  )
  const work = /\.(map|filter|concat|reduce)\(/.test(text)
  return [wide ? 'wide' : '', crowded ? 'several tags a line' : '', work ? 'work' : ''].filter((fault) => fault !== '')
}

const views = readdirSync('views', { recursive: true, encoding: 'utf8' })
  .filter((path) => path.endsWith('.eta'))
  .sort()

describe('a view', () => {
  it('with a planted fault each is seen', () => {
    expect(faultsOf(`<p>${'long '.repeat(40)}</p>`)).toEqual(['wide'])
    expect(faultsOf('<tr><td>1</td></tr>')).toEqual(['several tags a line'])
    expect(faultsOf('<% page.rows.map((row) => row.name) %>')).toEqual(['work'])
    expect(faultsOf('<p><%= page.said %></p>')).toEqual([])
  })

  it('has one tag a line, at most 160 characters, and no work of its own', () => {
    expect(views.length).toBeGreaterThan(100)
    expect(views.filter((path) => faultsOf(readFileSync(`views/${path}`, 'utf8')).length > 0)).toEqual([])
  })
})
