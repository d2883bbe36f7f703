import { afterAll, beforeAll, expect, it } from 'vitest'
import { newId } from '../../src/db/new-id.ts'
import { toLog } from '../../src/decisions/to-log.ts'
import { openPlace, type Place } from '../support/app.ts'
import { plain } from '../support/page-checks.ts'
import { choicesIn } from '../support/trial.ts'

let place: Place
let base: string
let keeper: Awaited<ReturnType<Place['keeper']>>
beforeAll(async () => {
  place = await openPlace()
  keeper = await place.keeper()
  const copied = await keeper.post('/demo/copy')
  base = copied.location ?? ''
})
afterAll(() => place.close())

const fieldsOf = (href: string) => new URL(href, 'http://here').searchParams
const handedBy = (text: string) =>
  /href="([^"]*decisions\?form=decisions[^"]*)"/.exec(text)?.[1]?.replaceAll('&amp;', '&') ?? ''

it.each([
  ['decide/pay-back', 'hoursPerBed'],
  ['decide/next-season', null],
  ['decide/restart', 'workOnGround'],
  ['decide/compost', 'spread'],
  ['decide/compost/layer', 'spread'],
  ['soil/balance', null],
  ['soil/against-tests', null],
  ['soil/organic-matter', null],
])('%s is written down: its question, answer, assumptions and address stand in the log', async (page, measure) => {
  const { text } = await keeper.get(`${base}/${page}`)
  const handed = fieldsOf(handedBy(text))
  const [finding, question] = [handed.get('finding') ?? '', handed.get('question') ?? '']
  expect([handed.get('address'), handed.get('measure')]).toEqual([page, measure])
  // What the page says is what is written down.
  expect(plain(text)).toContain(finding.slice(0, 40))
  expect(plain(text)).toContain(question)
  expect(handed.get('assumptions')?.split('\n').length).toBeGreaterThan(2)
  const fields = Object.fromEntries(handed)
  const season = choicesIn((await keeper.get(handedBy(text))).text)('seasonId')['2025/26']
  const given = { ...fields, id: newId(), seasonId: season, decidedOn: '2026-06-10', decision: `As ${page} says.` }
  const saved = await keeper.post(`${base}/decisions`, { expected: 'That it comes.', ...given })
  expect([saved.status, plain(saved.text)]).toEqual([303, ''])
  const log = (await keeper.get(`${base}/decisions`)).text
  const own = log.split(`As ${page} says.</h3>`)[1]?.split('<h3')[0] ?? ''
  expect(plain(own)).toContain(question)
  expect(own).toContain(`href="${base}/${page}"`)
  if (measure) expect(plain(own)).toContain('Expected, in figures')
})

it('what a page does not know is not offered to be written down', async () => {
  // The example prices no crop, so no hour has a worth yet.
  const { text } = await keeper.get(`${base}/decide/value`)
  expect(handedBy(text)).toBe('')
})

it('the address with its assumptions is kept whole or not at all, and is one of these pages', async () => {
  const whose = { slug: 'quern-hill', currency: 'NZD' }
  const given = { question: 'Cover it?', finding: 'word '.repeat(200) }
  const handed = (from: string) => fieldsOf(toLog(whose, { ...given, from }))
  const long = `/g/quern-hill/decide/restart?${'seasons=5&'.repeat(20)}`
  expect(handed(long).get('address')).toBe(long.slice('/g/quern-hill/'.length))
  expect(handed(long).get('finding')).toHaveLength(500)
  expect(handed(`/g/quern-hill/decide/restart?${'seasons=5&'.repeat(300)}`).get('address')).toBeNull()
  const form = { id: newId(), decidedOn: '2026-06-10', decision: 'a', finding: 'b', expected: 'c' }
  const wrong = await keeper.post(`${base}/decisions`, { ...form, address: 'javascript:alert(1)' })
  expect([wrong.status, plain(wrong.text).includes('no address of these pages')]).toEqual([422, true])
})
