import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { type Laid, readLayout } from '../../src/seasons/layout.ts'

/** Gardens written as "A A | B": one letter a bed, one garden between bars; a digit after a letter is the bed's block. */
function ground(gardens: string, { sites = [] as readonly string[], how = 'random' } = {}) {
  const rows = gardens.split('|').map((beds) => beds.trim().split(/\s+/))
  const beds = rows.flatMap((own, g) =>
    own.map((bed, b) => ({
      id: `bed ${g}.${b}`,
      gardenId: `garden ${g}`,
      blockId: bed[1] ?? null,
      methodId: bed[0] ?? '',
    })),
  )
  const laid: Laid[] = beds.map(({ id, gardenId, methodId }) => ({ gardenId, bedId: id, methodId, how }))
  return { ground: { gardens: rows.map((_, g) => ({ id: `garden ${g}`, siteId: sites[g] ?? 'one' })), beds }, laid }
}
const read = (gardens: string, more = {}) => {
  const made = ground(gardens, more)
  return readLayout(made.ground, made.laid)
}

describe('a layout is read from where the methods lie', () => {
  // Degrees of freedom as in the analysis of variance of each design (common textbooks: N - m; (b - 1)(m - 1)).
  it.each([
    ['A A', 'nothing laid', null, 'thesePlots'],
    ['A A | B B', 'one garden a method', null, 'thesePlots'],
    ['A | B | C', 'one garden a method', null, 'thesePlots'],
    ['A B', 'one bed a method', null, 'thesePlots'],
    ['A B A B', 'beds of one garden', 2, 'methodAtSite'],
    ['A1 B1 A2 B2 A3 B3', 'blocks of beds', 2, 'methodAtSite'],
    ['A1 B1 A2 C2 B3 C3', 'beds of one garden', 3, 'methodAtSite'],
    ['A | A | B | B', 'gardens', 2, 'methodElsewhere'],
    ['A A A | A | B B', 'gardens', 1, 'methodElsewhere'],
    ['A B | A B | B A | A B', 'split gardens', 3, 'methodElsewhere'],
    ['A A B B | A B B A | A B', 'split gardens', 2, 'methodElsewhere'],
    ['A B C | A B C | A B C', 'split gardens', 4, 'methodElsewhere'],
    ['A B | B C | A C', 'uneven', 1, 'methodElsewhere'],
    ['A B | C', 'uneven', null, 'thesePlots'],
    ['A B | C D', 'uneven', null, 'thesePlots'],
  ])('%s: %s', (gardens, kind, df, scope) => {
    expect(read(gardens)).toMatchObject({ kind, df, scope })
  })

  it('takes sites as blocks where each holds every method', () => {
    const sites = ['x', 'x', 'y', 'y', 'z', 'z']
    expect(read('A | B | A | B | A | B', { sites })).toMatchObject({ kind: 'gardens within sites', df: 2 })
    expect(read('A | A | A | B | B | B', { sites })).toMatchObject({ kind: 'gardens', df: 4 })
  })

  it('names a method that has one place only, and a draw only where every place was drawn', () => {
    const made = ground('A | A | B')
    expect(readLayout(made.ground, made.laid).alone).toEqual(['B'])
    const mixed = made.laid.map((one, i) => (i === 0 ? { ...one, how: 'choice' } : one))
    expect(readLayout(made.ground, mixed).how).toBe('choice')
    expect(read('A | A | B').how).toBe('random')
    expect(read('A | B', { how: 'rotation' }).how).toBe('rotation')
  })

  it("lets a bed's own method overrule its garden's", () => {
    const made = ground('A A | A A')
    const laid = [
      ...['garden 0', 'garden 1'].map((gardenId) => ({ gardenId, bedId: null, methodId: 'A', how: 'choice' })),
      ...['0', '1'].map((g) => ({ gardenId: `garden ${g}`, bedId: `bed ${g}.1`, methodId: 'B', how: 'choice' })),
    ]
    expect(readLayout(made.ground, laid)).toMatchObject({ kind: 'split gardens', df: 1 })
  })
})

it('one garden a method never has an error term, however many beds, blocks and sites it has', () => {
  const garden = fc.record({ beds: fc.integer({ min: 1, max: 8 }), site: fc.constantFrom('x', 'y') })
  fc.assert(
    fc.property(fc.array(garden, { minLength: 2, maxLength: 7 }), (gardens) => {
      const words = gardens.map(({ beds }, g) =>
        Array.from({ length: beds }, (_, b) => `${'ABCDEFG'[g]}${b % 3}`).join(' '),
      )
      const found = read(words.join('|'), { sites: gardens.map((one) => one.site) })
      expect(found).toMatchObject({ kind: 'one garden a method', df: null, scope: 'thesePlots', unit: null })
    }),
  )
})
