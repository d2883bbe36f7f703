import { afterAll, beforeAll, expect, it } from 'vitest'
import { newId } from '../../src/db/new-id.ts'
import { asMember } from '../../src/db/transaction.ts'
import { fieldNotes } from '../../src/notes/notes.table.ts'
import { addDays } from '../../src/quantities/dates.ts'
import { type Client, openPlace, type Place } from '../support/app.ts'
import { plain } from '../support/page-checks.ts'
import { setUpTrial, type Trial } from '../support/trial.ts'

let place: Place
let trial: Trial
let reader: Client
beforeAll(async () => {
  place = await openPlace()
  trial = await setUpTrial(place)
  reader = await place.joined(trial.keeper, 'reader')
  const { rows } = (await place.database.drizzle.execute('select id from groups')) as unknown as {
    rows: { id: string }[]
  }
  const groupId = rows[0]?.id ?? ''
  const gardenId = String(trial.gardens.lower)
  await asMember(place.database, { personId: null, groupId }, (tx) =>
    tx.insert(fieldNotes).values(
      Array.from({ length: 205 }, (_, i) => ({
        ...{ groupId, id: newId(), createdBy: null, gardenId },
        ...{ seenOn: addDays('2024-01-01', i), kind: i % 2 === 0 ? 'pest' : 'weather', words: `Seen ${i} times.` },
      })),
    ),
  )
})
afterAll(() => place.close())

const seenIn = (html: string) => [...plain(html).matchAll(/Seen (\d+) times\./g)].map((found) => Number(found[1]))
const after = (html: string) => plain(/rel="next" href="([^"]*)"/.exec(html)?.[1] ?? '')

it('a hundred notes stand on a page, the latest first, and the next ones behind its end', async () => {
  const seen: number[] = []
  const pages: number[] = []
  for (let at = `${trial.base}/notes`; at !== ''; ) {
    const { text } = await reader.get(at)
    pages.push(seenIn(text).length)
    seen.push(...seenIn(text))
    at = after(text)
  }
  expect(pages).toEqual([100, 100, 5])
  expect(seen).toEqual(Array.from({ length: 205 }, (_, i) => 204 - i))
})

it('a page of one kind leads to others of that kind', async () => {
  const first = (await reader.get(`${trial.base}/notes?kind=pest`)).text
  expect(plain(first)).toContain('1 to 100 of 103')
  expect(seenIn((await reader.get(after(first))).text)).toEqual([4, 2, 0])
})

it.each(['0', '-1', 'x', '1e99', '1.5', '', '9'])('page=%s is a page of it', async (page) => {
  const { status, text } = await reader.get(`${trial.base}/notes?page=${page}`)
  expect([status, seenIn(text).length]).toEqual([200, page === '9' ? 5 : 100])
})

it('whoever may write finds the form before the notes', async () => {
  const { text } = await trial.keeper.get(`${trial.base}/notes`)
  expect(text.indexOf(`action="${trial.base}/notes/notes"`)).toBeGreaterThan(0)
  expect(text.indexOf(`action="${trial.base}/notes/notes"`)).toBeLessThan(text.indexOf('<dl class="days">'))
})
