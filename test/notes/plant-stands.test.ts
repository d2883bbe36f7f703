import { expect, it } from 'vitest'
import { plantStands, type StandCounted } from '../../src/notes/plant-stands.ts'
import type { IsoDate } from '../../src/quantities/dates.ts'

const planting = (id: string, sownOn: IsoDate, clearedOn: IsoDate | null = null) => ({
  ...{ id, bedId: 'bed', areaCm2: 1, how: 'direct', sownOn, plantedOn: null, clearedOn, interplanted: 0 },
})
const counted = (
  countedOn: IsoDate,
  standing: number,
  sown: number,
  more: Partial<StandCounted> = {},
): StandCounted => ({
  ...{ plantingId: null, bedId: 'bed', countedOn, standing, sown },
  ...more,
})

it('the largest share is what came up', () => {
  const counts = [counted('2025-10-10', 20, 100), counted('2025-10-20', 44, 50), counted('2025-11-20', 80, 100)]
  expect(plantStands(counts, [planting('carrot', '2025-10-01')])).toEqual([
    { plantingId: 'carrot', countedOn: '2025-10-20', standing: 44, sown: 50 },
  ])
})

it('a count of a bed belongs to the one planting that stood there on its day, and otherwise to none', () => {
  const one = planting('radish', '2025-09-01', '2025-10-15')
  const next = planting('kale', '2025-10-15')
  const days = (counts: readonly StandCounted[], plantings = [one, next]) =>
    plantStands(counts, plantings).map((stand) => `${stand.plantingId} ${stand.countedOn}`)
  expect(days([counted('2025-10-14', 9, 10), counted('2025-10-15', 5, 10)])).toEqual([
    'radish 2025-10-14',
    'kale 2025-10-15',
  ])
  expect(days([counted('2025-08-01', 9, 10)])).toEqual([])
  expect(days([counted('2025-10-14', 9, 10)], [one, planting('carrot', '2025-10-01')])).toEqual([])
  expect(
    days([counted('2025-10-14', 9, 10, { plantingId: 'radish' })], [one, planting('carrot', '2025-10-01')]),
  ).toEqual(['radish 2025-10-14'])
})

it('nothing sown is no share, and nothing come up is one', () => {
  const carrot = [planting('carrot', '2025-10-01')]
  expect(plantStands([counted('2025-10-14', 3, 0)], carrot)).toEqual([])
  expect(plantStands([counted('2025-10-14', 0, 40)], carrot)).toMatchObject([{ standing: 0, sown: 40 }])
})
