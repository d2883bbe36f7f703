import { expect, it } from 'vitest'
import { type CropRow, cropsPage } from '../../src/seasons/crops.page.ts'

const crop = (id: string, source: string | null): CropRow => ({
  ...{ id, name: id, family: null, askAboveGPerM2: 2500, priceMinorPerKg: 120, touchesSoil: 1, source },
  weighedAs: null,
  countsWhenPicked: 0,
})
const telling = { locale: 'en', currency: 'EUR' }

it('what was planted comes first, and what most sources begin with is said once', () => {
  const crops = [crop('leek', 'A handbook, number 12'), crop('kale', 'A handbook, number 7'), crop('oca', 'by mouth')]
  const page = cropsPage(crops, { ...telling, planted: new Set(['kale', 'oca']) })
  expect([page.first, page.others].map((rows) => rows.map((row) => row.name))).toEqual([['kale', 'oca'], ['leek']])
  expect(page.sharedSource).toBe('A handbook')
  expect([...page.first, ...page.others].map((row) => row.source)).toEqual(['number 7', 'by mouth', 'number 12'])
})

it('all of them stand open where nothing was planted, and sources that share nothing are left whole', () => {
  const page = cropsPage([crop('leek', 'A, 1'), crop('kale', null)], { ...telling, planted: new Set() })
  expect([page.first.length, page.others.length, page.sharedSource]).toEqual([2, 0, ''])
  expect(page.first.map((row) => row.source)).toEqual(['A, 1', ''])
})
