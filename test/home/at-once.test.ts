import { sql } from 'drizzle-orm'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { newId } from '../../src/db/new-id.ts'
import { sectionKeys } from '../../src/reports/sections.ts'
import { openPlace, type Place } from '../support/app.ts'
import { plain, rowOf } from '../support/page-checks.ts'
import { choicesIn, plantingOf, setUpTrial, type Trial } from '../support/trial.ts'

let place: Place
let trial: Trial
const season = () => `${trial.base}/seasons/${trial.season}`
beforeAll(async () => {
  place = await openPlace()
  trial = await setUpTrial(place)
})
afterAll(() => place.close())

const statuses = async (sent: readonly Promise<{ status: number }>[]) =>
  (await Promise.all(sent)).map((answer) => answer.status).sort()
const rowsOf = async (query: ReturnType<typeof sql>) =>
  ((await place.database.drizzle.execute(query)) as unknown as { rows: Record<string, unknown>[] }).rows

it('one bed parted three times at once keeps its ground', async () => {
  const beds = choicesIn((await trial.keeper.get(`${season()}/layout`)).text)('bedId')
  const part = (name: string) => ({ id: newId(), bedId: beds['Lower Terrace, Bed 2'], name, areaCm2: '2' })
  const sent = ['a', 'b', 'c'].map((name) => trial.keeper.post(`${season()}/layout/split-beds`, part(name)))
  expect(await statuses(sent)).toEqual([303, 303, 303])
  expect(rowOf((await trial.keeper.get(`${trial.base}/gardens`)).text, 'Lower Terrace')[4]).toBe('20.0 m²')
})

it('of several who begin the question of a season at once one has begun it, and the others see it', async () => {
  const address = `${season()}/question`
  const methods = choicesIn((await trial.keeper.get(address)).text)('referenceMethodId')
  const draft = (question: string) => ({
    ...{ id: newId(), version: '', question, primaryMeasure: 'matched yield', seasonsToLookAt: '1', marginPercent: '' },
    ...{
      weights: 'marketable',
      mix: 'equal parts',
      outsideLosses: 'counted',
      referenceMethodId: methods['Compost mulch'],
    },
    ...{ sentenceIfSeen: 'It gave another weight.', sentenceIfNotSeen: 'We could not tell.' },
  })
  const sent = ['Does it pay?', 'Does it grow?', 'Does it last?'].map((one) => trial.keeper.post(address, draft(one)))
  expect(await statuses(sent)).toEqual([303, 409, 409])
  expect(await rowsOf(sql`select id from season_questions`)).toHaveLength(1)
})

it('a question that was written over meanwhile is shown beside what was typed, and can be put in its place', async () => {
  const address = `${season()}/question`
  const { text } = await trial.keeper.get(address)
  const hidden = (name: string, html = text) => new RegExp(`name="${name}" value="([^"]*)"`).exec(html)?.[1]
  const methods = choicesIn(text)('referenceMethodId')
  const draft = (question: string, version = hidden('version')) => ({
    ...{
      id: hidden('id'),
      version,
      question,
      primaryMeasure: 'matched yield',
      seasonsToLookAt: '1',
      marginPercent: '',
    },
    ...{
      weights: 'marketable',
      mix: 'equal parts',
      outsideLosses: 'counted',
      referenceMethodId: methods['Compost mulch'],
    },
    ...{ sentenceIfSeen: 'It gave another weight.', sentenceIfNotSeen: 'We could not tell.' },
  })
  expect((await trial.keeper.post(address, draft('Is it heavier?'))).status).toBe(303)
  const told = await trial.keeper.post(address, draft('Is it lighter?'))
  expect([told.status, plain(told.text).includes('it asks: Is it heavier?')]).toEqual([409, true])
  expect(told.text).toContain('Is it lighter?')
  expect((await trial.keeper.post(address, draft('Is it lighter?', hidden('version', told.text)))).status).toBe(303)
  expect(plain((await trial.keeper.get(address)).text)).toContain('Is it lighter?')
})

it('two who say at once which method lies on a garden are both heard, and one method lies there', async () => {
  const methods = choicesIn((await trial.keeper.get(season())).text)('methodId')
  const assign = (methodId = '') => ({
    ...{
      id: newId(),
      place: `garden:${trial.gardens.lower}`,
      methodId,
      phase: 'established',
      yearOfMethod: '3',
      how: 'choice',
      surely: 'yes',
    },
  })
  const sent = [...Object.values(methods), ...Object.values(methods)].map((id) =>
    trial.keeper.post(`${season()}/assignments`, assign(id)),
  )
  expect(await statuses(sent)).toEqual([303, 303, 303, 303])
  const lying = await rowsOf(
    sql`select id from method_assignments where garden_id = ${trial.gardens.lower} and bed_id is null and removed_at is null`,
  )
  expect(lying).toHaveLength(1)
})

it('a draft of a report that is sent twice at once is kept once', async () => {
  // Built anew, a key is the last to be looked at: then another refuses before it.
  const { kind, drizzle } = place.database
  if (kind === 'server') await drizzle.execute(sql`reindex index concurrently reports_group_id_id_pk`)
  for (let round = 0; round < 3; round++) {
    const draft = {
      id: newId(),
      title: `Report ${round}`,
      words: '',
      season: 'all',
      sections: [...sectionKeys],
      keeps: 'frozen',
    }
    const send = () => trial.keeper.post(`${trial.base}/reports`, { ...draft, step: 'draft' })
    expect(await statuses([send(), send()])).toEqual([303, 303])
  }
  expect(await rowsOf(sql`select id from reports`)).toHaveLength(3)
})

it('nothing is weighed into a week behind its closing', async () => {
  const plantingId = plantingOf(trial, 'carrot', 'Long')
  for (let round = 0; round < 12; round++) {
    const day = new Date(Date.UTC(2025, 9, 8 + 7 * round)).toISOString().slice(0, 10)
    const week = (await trial.keeper.get(`${trial.base}/weeks?day=${day}`)).location
    const id = newId()
    const weighing = { id, plantingId, harvestedOn: day, marketable: String(1 + round / 10) }
    const [weighed, closed] = await Promise.all([
      trial.keeper.post(`${week}/harvests`, weighing),
      trial.keeper.post(`${week}/closings`, { gardenId: trial.gardens.bank, what: 'weights' }),
    ])
    expect([closed.status, [303, 422].includes(weighed.status)]).toEqual([303, true])
    const isoWeek = week.split('/').at(-1)
    const behind = await rowsOf(sql`select h.number from changes h join changes c on c.group_id = h.group_id
      where h.row_id = ${id} and c.table_name = 'week_closings' and c.after ->> 'iso_week' = ${isoWeek} and h.number > c.number`)
    expect(behind).toEqual([])
  }
})
