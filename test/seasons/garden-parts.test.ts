import { expect, it } from 'vitest'
import { gardenParts } from '../../src/seasons/garden-parts.ts'

const rows = {
  gardens: [
    { id: 'terrace', name: 'Lower Terrace' },
    { id: 'bank', name: 'Long Bank' },
  ],
  beds: ['t1', 't2', 'b1', 'b2', 'b3'].map((id) => ({
    ...{ id, name: `Bed ${id.slice(1)}`, gardenId: id.startsWith('t') ? 'terrace' : 'bank' },
  })),
  methods: [
    { id: 'dug', name: 'Dug' },
    { id: 'mulch', name: 'Mulched' },
  ],
}
const laid = [
  { gardenId: 'terrace', bedId: null, methodId: 'dug' },
  { gardenId: 'bank', bedId: null, methodId: 'dug' },
  { gardenId: 'bank', bedId: 'b2', methodId: 'mulch' },
]

it('a garden under one method is one part, and one that is split has a part for each method it holds', () => {
  const parts = gardenParts({ ...rows, laid }).map((one) => [one.key, one.name, one.beds.map((bed) => bed.value)])
  expect(parts).toEqual([
    ['terrace', 'Lower Terrace', ['t1', 't2']],
    ['bank-dug', 'Long Bank, Dug', ['b1', 'b3']],
    ['bank-mulch', 'Long Bank, Mulched', ['b2']],
  ])
})

it('beds under no method are a part of their own only where others are under one', () => {
  expect(gardenParts({ ...rows, laid: [] }).map((one) => one.key)).toEqual(['terrace', 'bank'])
  const alone = gardenParts({ ...rows, laid: laid.slice(2) }).filter((one) => one.gardenId === 'bank')
  expect(alone.map((one) => [one.name, one.beds.length])).toEqual([
    ['Long Bank', 2],
    ['Long Bank, Mulched', 1],
  ])
})
