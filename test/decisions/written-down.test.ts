import { afterAll, beforeAll, expect, it } from 'vitest'
import { toLog } from '../../src/decisions/to-log.ts'
import { openPlace, type Place } from '../support/app.ts'
import { plain } from '../support/page-checks.ts'

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

it.each(['decide/pay-back', 'decide/next-season', 'decide/restart'])(
  '%s can be written down: its answer and its address stand in the form of the log',
  async (page) => {
    const address = `${base}/${page}`
    const { text } = await keeper.get(address)
    const href = /href="([^"]*decisions\?form=decisions[^"]*)"/.exec(text)?.[1]?.replaceAll('&amp;', '&') ?? ''
    const finding = fieldsOf(href).get('finding') ?? ''
    expect(finding.endsWith(`(${address})`)).toBe(true)
    // What the page says is what is written down.
    expect(plain(text)).toContain(finding.slice(0, 40))
    const log = (await keeper.get(href)).text
    expect(plain(log)).toContain(finding.slice(0, 40))
  },
)

it('what a page does not know is not offered to be written down', async () => {
  // The example prices no crop, so no hour has a worth yet.
  const { text } = await keeper.get(`${base}/decide/value`)
  expect(text).not.toContain('decisions?form=decisions')
})

it('the address with its assumptions stays whole where the answer is long', () => {
  const from = `/g/quern-hill/decide/restart?${'seasons=5&'.repeat(20)}`
  const finding = fieldsOf(toLog('quern-hill', { finding: 'word '.repeat(200), from })).get('finding') ?? ''
  expect(finding.length).toBeLessThanOrEqual(500)
  expect(finding.endsWith(`(${from})`)).toBe(true)
})
