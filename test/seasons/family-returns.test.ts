import { describe, expect, it } from 'vitest'
import type { IsoDate } from '../../src/quantities/dates.ts'
import { familyReturns, type Rotated } from '../../src/seasons/family-returns.ts'
import { aDay } from '../support/calendar.ts'

const seasons = [2022, 2023, 2024, 2025].map((year) => ({ id: `s${year}`, startsOn: aDay(`${year}-08-01`) }))
const crops = [
  { id: 'carrot', family: 'Apiaceae' },
  { id: 'parsnip', family: ' apiaceae' },
  { id: 'kale', family: 'Brassicaceae' },
  { id: 'radish', family: 'Brassicaceae' },
  { id: 'oca', family: null },
]

/** "kale 2023 bed": sown on 1 October of the season unless said otherwise. */
function stood(words: string, { sown = '', cleared = null as IsoDate | null } = {}): Rotated {
  const [cropId = '', year = '', bedId = ''] = words.split(' ')
  const sownOn = aDay(sown || `${year}-10-01`)
  return {
    ...{ id: words, cropId, bedId, seasonId: `s${year}`, how: 'direct', plantedOn: null },
    sownOn,
    clearedOn: cleared,
  }
}
const found = (plantings: readonly Rotated[], years?: number) =>
  familyReturns(plantings, crops, seasons, years).map((one) => `${one.plantingId} < ${one.earlierId}: ${one.years}`)

describe('a family that returns to a bed', () => {
  it('within three years is told with the latest that stood there, and in the fourth season no more', () => {
    const carrots = stood('carrot 2022 a')
    expect(found([carrots, stood('parsnip 2023 a')])).toEqual(['parsnip 2023 a < carrot 2022 a: 1'])
    expect(found([carrots, stood('carrot 2024 a')])).toEqual(['carrot 2024 a < carrot 2022 a: 2'])
    expect(found([carrots, stood('carrot 2025 a')])).toEqual([])
    const all = [carrots, stood('parsnip 2023 a'), stood('carrot 2025 a')]
    expect(found(all)).toEqual(['parsnip 2023 a < carrot 2022 a: 1', 'carrot 2025 a < parsnip 2023 a: 2'])
  })

  it('goes by the number of years that is asked', () => {
    const carrots = [stood('carrot 2022 a'), stood('carrot 2025 a')]
    expect(found(carrots, 4)).toEqual(['carrot 2025 a < carrot 2022 a: 3'])
    expect(found([stood('carrot 2022 a'), stood('carrot 2023 a')], 1)).toEqual([])
  })

  it('is none in another bed, of another family, or of a crop without one', () => {
    expect(found([stood('carrot 2022 a'), stood('carrot 2023 b')])).toEqual([])
    expect(found([stood('carrot 2022 a'), stood('kale 2023 a')])).toEqual([])
    expect(found([stood('oca 2022 a'), stood('oca 2023 a')])).toEqual([])
  })

  it('within one season follows what was cleared, and is none beside what stands', () => {
    const kale = stood('kale 2023 a', { sown: '2023-12-01' })
    expect(found([stood('radish 2023 a', { cleared: '2023-11-15' }), kale])).toEqual(['kale 2023 a < radish 2023 a: 0'])
    expect(found([stood('radish 2023 a', { cleared: '2023-12-02' }), kale])).toEqual([])
    expect(found([stood('radish 2023 a'), kale])).toEqual([])
  })

  it('goes by season and not by the day: what was sown late in one is a year older in the next', () => {
    const early = { ...stood('kale 2024 a'), sownOn: '2024-08-02' } as const
    expect(found([stood('kale 2022 a', { sown: '2023-05-20' }), early])).toEqual(['kale 2024 a < kale 2022 a: 2'])
  })
})
