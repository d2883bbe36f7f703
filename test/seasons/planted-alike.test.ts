import { expect, it } from 'vitest'
import { type BedLaid, plantedAlike } from '../../src/seasons/planted-alike.ts'

const laid = (garden: string, more: Partial<BedLaid> = {}): BedLaid => ({
  ...{ cultivarId: 'kestrel', day: '2025-10-20', garden, bed: 'Bed 1', areaCm2: 40_000, clearedOn: '2026-03-24' },
  ...more,
})

it('what is alike in every garden is one line, and nothing is told apart', () => {
  const [line, ...others] = plantedAlike([laid('Lower Terrace'), laid('Long Bank'), laid('Hay Meadow')])
  expect(others).toEqual([])
  expect(line).toMatchObject({ bed: 'Bed 1', areaCm2: 40_000, clearedOn: '2026-03-24', apart: [] })
  expect(line?.gardens).toEqual(['Lower Terrace', 'Long Bank', 'Hay Meadow'])
})

it.each([{ bed: 'Bed 3' }, { areaCm2: 20_000 }, { clearedOn: null }])('one that differs by %j is named', (more) => {
  const odd = laid('Long Bank', more)
  const [line] = plantedAlike([odd, laid('Lower Terrace'), laid('Hay Meadow')])
  expect(line).toMatchObject({ bed: 'Bed 1', areaCm2: 40_000, clearedOn: '2026-03-24' })
  expect(line?.apart).toEqual([odd])
})

it('another day or another cultivar is another line, and lines come by their day', () => {
  const lines = plantedAlike([
    laid('Lower Terrace'),
    laid('Lower Terrace', { day: '2025-09-01' }),
    laid('Lower Terrace', { cultivarId: 'heron', day: '2025-09-30' }),
  ])
  expect(lines.map((line) => line.day)).toEqual(['2025-09-01', '2025-09-30', '2025-10-20'])
})

it('a second bed in one garden counts that garden once', () => {
  const [line] = plantedAlike([laid('Long Bank'), laid('Long Bank', { bed: 'Bed 2' })])
  expect(line?.gardens).toEqual(['Long Bank'])
  expect(line?.apart.map((one) => one.bed)).toEqual(['Bed 2'])
})
