import { sql } from 'drizzle-orm'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { constraintOf } from '../../src/db/constraint.ts'
import { newId } from '../../src/db/new-id.ts'
import { openPlace, type Place } from '../support/app.ts'
import { plain } from '../support/page-checks.ts'
import { setUpTrial, type Trial } from '../support/trial.ts'

let place: Place
let trial: Trial
beforeAll(async () => {
  place = await openPlace()
  trial = await setUpTrial(place)
})
afterAll(() => place.close())

it.each([
  ['9999-01-01', '9999-12-31', 'This is not a day of the calendar'],
  ['2030-01-01', '2032-01-03', 'A season lasts two years at most'],
])('a season from %s to %s is refused in words', async (startsOn, endsOn, sentence) => {
  const answer = await trial.keeper.post(`${trial.base}/seasons`, { id: newId(), name: 'Long', startsOn, endsOn })
  expect(answer.status).toBe(422)
  expect(plain(answer.text)).toContain(sentence)
})

it('a season of two years is taken, and cannot be made longer', async () => {
  const id = newId()
  const fields = { name: 'Two years', startsOn: '2030-01-01', endsOn: '2032-01-01' }
  expect((await trial.keeper.post(`${trial.base}/seasons`, { id, ...fields })).status).toBe(303)
  const longer = { ...fields, endsOn: '2032-06-01', version: '1' }
  const answer = await trial.keeper.post(`${trial.base}/correct/seasons/${id}`, longer)
  expect(answer.status).toBe(422)
  expect(plain(answer.text)).toContain('A season lasts two years at most')
})

it.each([
  ['2040-01-01', '2042-01-03'],
  ['9999-01-01', '9999-12-31'],
  ['0001-01-01', '0001-12-31'],
])('the record itself refuses one from %s to %s, however it comes in', async (startsOn, endsOn) => {
  const insert = sql`insert into seasons (group_id, id, name, starts_on, ends_on)
    select id, ${newId()}, ${startsOn}, ${startsOn}, ${endsOn} from groups where slug = ${trial.keeper.slug}`
  const refused = await place.database.drizzle.execute(insert).catch(constraintOf)
  expect(refused).toBe('seasons_last_two_years_at_most')
})
