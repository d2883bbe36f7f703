import { readdirSync, readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import type { SourceFile } from './import-rules.ts'
import { countsOf, exportedForNobody, namesOfTwo, pluralsByHand } from './written.ts'

const read = (folder: string): SourceFile[] =>
  readdirSync(folder, { recursive: true, encoding: 'utf8' })
    .filter((path) => path.endsWith('.ts'))
    .map((path) => ({ path: `${folder}/${path}`, text: readFileSync(`${folder}/${path}`, 'utf8') }))

const house = read('src')
const all = [...house, ...read('test')]

describe('the rules see a planted breach', () => {
  it('a name that nobody imports', () => {
    const beds = { path: 'src/gardens/beds.ts', text: 'export const beds = 1\nexport interface Bed { id: string }' }
    const reader = { path: 'test/gardens/beds.test.ts', text: "import { beds } from '../../src/gardens/beds.ts'" }
    expect(exportedForNobody([beds, reader])).toEqual(['src/gardens/beds.ts Bed'])
  })

  it('a cast, a zero and a blank for what is not known, a spread that saves a line', () => {
    const text = "const a = { ...{ b: c as Grams, d: e ?? 0 }, ...f, g: h ?? '', i: ['j'] as const }"
    expect(countsOf({ path: 'src/a.ts', text })).toEqual({ casts: 1, zeros: 1, blanks: 1, spreads: 1 })
    const reasoned = `// Nothing was picked.\nconst picked = sum ?? 0\nconst names = given ?? ''`
    expect(countsOf({ path: 'src/a.ts', text: reasoned })).toMatchObject({ zeros: 0, blanks: 1 })
  })
})

it('what is exported is imported somewhere', () => {
  expect(exportedForNobody(all)).toEqual([])
})

/** Words too: a long one is cut between two words, and joined by a plus. */
const widestLine = 120
const wideLines = ({ path, text }: SourceFile) =>
  text.split('\n').flatMap((line, i) => (line.length > widestLine ? [`${path}:${i + 1}`] : []))

it('a line is at most 120 wide', () => {
  expect(wideLines({ path: 'src/a.ts', text: `${'a'.repeat(120)}\n${'b'.repeat(121)}` })).toEqual(['src/a.ts:2'])
  expect(house.flatMap(wideLines)).toEqual([])
})

it('one and several are told apart by the rules of the language', () => {
  const planted = {
    path: 'src/words/en/beds.ts',
    text: `const beds = (n: number) =>\n  n === 1 ? '1 bed' : \`\${n} beds\``,
  }
  expect(pluralsByHand(planted)).toEqual(['src/words/en/beds.ts:2'])
  const words = house.filter(({ path }) => path.startsWith('src/words/'))
  expect(words.flatMap(pluralsByHand)).toEqual([])
})

/** Words and the truth of the example are called as the tables are that they are of. */
const ofOneNoun = (path: string) => !/^src\/(words\/(en|de)|demo\/truth)/.test(path)
it('an exported name means one thing', () => {
  const barrow = { path: 'src/inputs/barrow.ts', text: 'export interface Measure { litres: number }' }
  const figure = {
    path: 'src/comparison/totals/figure.ts',
    text: "export type Measure = 'kg/m2'\nexport const one = 1",
  }
  expect(namesOfTwo([barrow, figure])).toEqual(['Measure: src/inputs/barrow.ts, src/comparison/totals/figure.ts'])
  expect(namesOfTwo(house.filter(({ path }) => ofOneNoun(path)))).toEqual([])
})

/** Whoever takes some away lowers the number; nobody raises it. */
const most = { casts: 138, spreads: 0 }

it('there are fewer and fewer casts, and spreads that save a line', () => {
  const sums = { casts: 0, spreads: 0 }
  const keys = Object.keys(sums) as (keyof typeof sums)[]
  for (const counts of house.map(countsOf)) for (const key of keys) sums[key] += counts[key]
  expect(keys.filter((key) => sums[key] > most[key]).map((key) => `${key}: ${sums[key]}`)).toEqual([])
})

it('where what is not known becomes nothing a line above says why, or a name of lookups/unsaid.ts does', () => {
  const unreasoned = house.flatMap((file) => {
    const { zeros, blanks } = countsOf(file)
    return zeros + blanks > 0 ? [`${file.path}: ${zeros} zeros, ${blanks} blanks`] : []
  })
  expect(unreasoned).toEqual([])
})
