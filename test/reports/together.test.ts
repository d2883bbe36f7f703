import { expect, it } from 'vitest'
import { together } from '../../src/reports/together.ts'

const soon = () => new Promise((done) => setTimeout(done, 5))

it('many who ask at once are answered by two runs, and nobody by one that was begun before they asked', async () => {
  let runs = 0
  let stands = 'open'
  const ask = together(async () => {
    runs += 1
    const seen = stands
    for (let waits = 0; waits < 20; waits++) await soon()
    return seen
  })
  const first = ask('link')
  while (runs === 0) await soon()
  stands = 'revoked'
  const later = Array.from({ length: 200 }, () => ask('link'))
  expect(await first).toBe('open')
  expect(new Set(await Promise.all(later))).toEqual(new Set(['revoked']))
  expect(runs).toBe(2)
  expect(await ask('link')).toBe('revoked')
  expect(runs).toBe(3)
})

it('other links do not wait for each other, and a run that fails does not stay', async () => {
  let fails = true
  const ask = together(async (key) => {
    if (key === 'bad' && fails) throw new Error('gone')
    return key
  })
  await expect(Promise.all([ask('good'), ask('bad')])).rejects.toThrow('gone')
  const [one, two] = [ask('bad'), ask('bad')]
  await expect(one).rejects.toThrow('gone')
  await expect(two).rejects.toThrow('gone')
  fails = false
  expect(await ask('bad')).toBe('bad')
  expect(await ask('good')).toBe('good')
})
