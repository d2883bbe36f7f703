import { expect, it } from 'vitest'
import { listed } from '../../src/words/listed.ts'

it('names are parted by commas, and by semicolons where one of them has a comma', () => {
  expect(listed([], 'and')).toBe('')
  expect(listed(['Long Bank'], 'and')).toBe('Long Bank')
  expect(listed(['Long Bank', 'Hay Meadow', 'Clover Strip'], 'and')).toBe('Long Bank, Hay Meadow and Clover Strip')
  expect(listed(['Compost mulch, never dug', 'Deep hay', 'Clover'], 'und')).toBe(
    'Compost mulch, never dug; Deep hay und Clover',
  )
})
