import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { newId } from '../../src/db/new-id.ts'
import { told } from '../../src/reports/guesses.page.ts'
import { medianOf } from '../../src/reports/median.ts'
import { type Client, openPlace, type Place } from '../support/app.ts'
import { plain } from '../support/page-checks.ts'
import { plantingOf, setUpTrial, type Trial } from '../support/trial.ts'

let place: Place
let trial: Trial
let page: string
let method: string
beforeAll(async () => {
  place = await openPlace()
  trial = await setUpTrial(place)
  page = `${trial.base}/guesses/${trial.season}`
  method = /guesses\[([0-9a-f-]{36})\]\[way\]/.exec((await trial.keeper.get(page)).text)?.[1] ?? ''
  // 8 kg and 10 kg of carrots on 4 m² each: the second method gives a quarter more.
  for (const [garden, marketable] of [
    ['Lower', '8'],
    ['Long', '10'],
  ] as const) {
    const plantingId = plantingOf(trial, 'carrot', garden)
    const fields = { id: newId(), plantingId, harvestedOn: '2026-01-28', marketable }
    await trial.keeper.post(`${trial.base}/weeks/2026-W05/harvests`, fields)
    for (const crop of ['carrot', 'potato']) {
      const cleared = { plantingId: plantingOf(trial, crop, garden), clearedOn: '2026-02-20' }
      await trial.keeper.post(`${trial.base}/seasons/${trial.season}/clearings`, cleared)
    }
  }
})
afterAll(() => place.close())

const guess = (client: Client, way: string, percent: string) =>
  client.post(page, { guesses: { [method]: { way, percent } } })
/** Method, own guess, middle of all, what was seen: of the row of the mulched method. */
const rowFor = async (client: Client) => {
  const html = (await client.get(page)).text
  const row = (html.match(/<tr>[\s\S]*?<\/tr>/g) ?? []).find((one) => one.includes('<td>Compost mulch')) ?? ''
  return [...row.matchAll(/<td>([\s\S]*?)<\/td>/g)].map((cell) => plain(cell[1] ?? ''))
}

it('a reader guesses, changes it while the season is open, and sees no result yet', async () => {
  const reader = await place.joined(trial.keeper, 'reader')
  expect(await rowFor(reader)).toEqual(['Compost mulch', 'none', 'none', 'the season is still open'])
  expect((await guess(reader, 'more', '50')).status).toBe(303)
  expect((await guess(reader, 'less', '10')).status).toBe(303)
  expect((await rowFor(reader)).slice(1)).toEqual(['10 % less', '10 % less of 1', 'the season is still open'])
  await guess(trial.keeper, 'more', '40')
  expect((await rowFor(trial.keeper)).slice(1, 3)).toEqual(['40 % more', '15 % more of 2'])
})

it('what cannot be is said at its field, with the rest still there', async () => {
  const wrong = await guess(trial.keeper, 'less', '120')
  expect(wrong.status).toBe(422)
  expect(wrong.text).toContain('It cannot be less by a hundred per cent or more.')
  expect(wrong.text).toContain('value="120"')
  expect((await guess(trial.keeper, 'more', '')).text).toContain('Please fill this in.')
  expect((await guess(trial.keeper, '', '3')).text).toContain('Please choose one of the list.')
})

describe('once the season is closed', () => {
  beforeAll(async () => {
    const closing = `${trial.base}/seasons/${trial.season}/close`
    const version = /name="version" value="(\d+)"/.exec((await trial.keeper.get(closing)).text)?.[1]
    await trial.keeper.post(closing, { version })
  })

  it('whoever guessed sees the result beside it, and cannot change the guess any more', async () => {
    expect((await rowFor(trial.keeper)).slice(1)).toEqual(['40 % more', '15 % more of 2', '25 % more'])
    const late = await guess(trial.keeper, 'more', '25')
    expect(late.status).toBe(422)
    expect(plain(late.text)).toContain('a guess that was written down stays as it is')
    expect((await rowFor(trial.keeper))[1]).toBe('40 % more')
  })

  it('whoever has not guessed sees no result until they have, and theirs is called late', async () => {
    const newcomer = await place.joined(trial.keeper, 'reader')
    expect((await rowFor(newcomer)).slice(1)).toEqual(['none', 'none', 'shown once you have guessed'])
    expect((await newcomer.get(page)).text).not.toContain('25 % more')
    expect((await guess(newcomer, 'alike', '')).status).toBe(303)
    const [, mine, all, seen] = await rowFor(newcomer)
    expect([mine, all, seen]).toEqual(['alike', 'alike of 3, 1 after the season was closed', '25 % more'])
  })
})

it('a visitor of the demo guesses nothing and is shown no result', async () => {
  const visitor = place.guest()
  const demo = (await visitor.post('/demo')).location
  const list = (await visitor.get(`${demo}/reports`)).text
  const address = /href="([^"]+\/guesses\/[^"]+)"/.exec(list)?.[1] ?? ''
  const seen = await visitor.get(address)
  expect(seen.status).toBe(200)
  expect(plain(seen.text)).toContain('Make an account and a group of your own to guess along.')
  expect(seen.text).not.toMatch(/\d % (more|less)/)
  expect((await visitor.post(address, { guesses: {} })).status).toBe(403)
})

it('the middle of guesses and how a difference is told', () => {
  expect([[], [5], [9, 1], [3, -10, 40]].map(medianOf)).toEqual([null, 5, 5, 3])
  expect([0.4, -0.4, 12.6, -33.3].map((percent) => told(percent, 'en-NZ'))).toEqual([
    { way: 'alike', percent: '0' },
    { way: 'alike', percent: '0' },
    { way: 'more', percent: '13' },
    { way: 'less', percent: '33' },
  ])
})
