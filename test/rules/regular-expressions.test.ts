import { readdirSync } from 'node:fs'
import { check } from 'recheck'
import { describe, expect, it } from 'vitest'
import { type Expression, expressionsOf } from './regular-expressions.ts'

/** A busy machine finds the same. */
const whateverTheTime = { timeout: null, seedingTimeout: null, incubationTimeout: null, attackTimeout: null }

/** Why an expression could keep the service busy: what it answers slower than in proportion to the length. */
async function slow({ file, line, source, flags }: Expression): Promise<string[]> {
  if (source === '') return [`${file}:${line} is put together from parts: write it out, or look the text up`]
  const found = await check(source, flags, whateverTheTime)
  return found.status === 'safe' ? [] : [`${file}:${line} /${source}/${flags} ${found.status}`]
}

describe('no text that somebody sends keeps a regular expression busy', () => {
  it('sees planted ones: exponential, of a power, and put together from parts', async () => {
    const planted = String.raw`
      export const a = /^(a+)+$/
      export const b = (text: string) => text.replace(/^\s*(.+?)\s*lbs?\s+(.+?)\s*oz\s*$/i, '')
      export const c = new RegExp('(\\d*)*x$', 'u')
      export const d = (word: string) => new RegExp(word)
      export const fine = /^\d{4}-\d{2}$/`
    const found = expressionsOf('planted.ts', planted)
    expect(found.map(({ line }) => line)).toEqual([2, 3, 4, 5, 6])
    const wrong = (await Promise.all(found.map(slow))).flat()
    expect(wrong.map((one) => one.split(' ')[0])).toEqual([
      'planted.ts:2',
      'planted.ts:3',
      'planted.ts:4',
      'planted.ts:5',
    ])
  })

  it('every one in src is linear', { timeout: 600_000 }, async () => {
    const paths = readdirSync('src', { recursive: true, encoding: 'utf8' })
    const files = paths.filter((path) => path.endsWith('.ts')).map((path) => `src/${path}`)
    const all = files.flatMap((file) => expressionsOf(file))
    expect(all.length).toBeGreaterThan(100)
    const once = [...new Map(all.map((one) => [`${one.source}/${one.flags}`, one])).values()]
    const wrong: string[] = []
    for (const one of once) wrong.push(...(await slow(one)))
    expect(wrong).toEqual([])
  })
})
