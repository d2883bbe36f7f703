import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { plainRules } from '../../src/comparison/matched/matched-season.ts'
import { trialRecord } from '../../src/comparison/record/trial-record.queries.ts'
import type { TrialRecord } from '../../src/comparison/record/trial-record.ts'
import { rowsPage } from '../../src/comparison/rows/rows.page.ts'
import { methodsIn, rowsBehind } from '../../src/comparison/rows/rows-behind.ts'
import { scopeOf } from '../../src/comparison/rows/rows-scope.ts'
import { pageOfSection, sectionsInPages } from '../../src/comparison/rows/sections-in-pages.ts'
import { plainMeasureRules } from '../../src/comparison/totals/measures.ts'
import type { Database } from '../../src/db/database.ts'
import { asMember } from '../../src/db/transaction.ts'
import { catalogue } from '../../src/words/catalogue.ts'
import { oddGroup } from '../benchmark/odd-group.ts'
import { type Client, openPlace, type Place } from '../support/app.ts'
import { openTestDatabase } from '../support/database.ts'
import { plain } from '../support/page-checks.ts'

const numbers = (count: number) => Array.from({ length: count }, (_, i) => i + 1)
const overview = { section: null, page: 1 }

describe('rows in pages', () => {
  it.each([
    [0, 1, [1, 0, 1]],
    [1, 1, [1, 1, 1]],
    [100, 1, [1, 100, 1]],
    [101, 1, [1, 100, 1]],
    [101, 2, [101, 101, 2]],
    [250, 3, [201, 250, 3]],
    [250, 9, [201, 250, 3]],
  ] as const)('of %i the page %i', (count, page, [from, to, is]) => {
    const found = pageOfSection(numbers(count), 'hours', { section: 'hours', page })
    expect([found.from, found.to, found.page, found.of]).toEqual([from, to, is, count])
    expect(found.rows).toEqual(numbers(count).slice(from - 1, to))
  })

  it('another section stays at its first page', () => {
    expect(pageOfSection(numbers(300), 'hours', { section: 'costs', page: 3 }).page).toBe(1)
    expect(pageOfSection(numbers(300), 'hours', overview).rows).toHaveLength(100)
  })
})

describe('the rows of all seasons of the example', () => {
  let place: Place
  let guest: Client
  let address: string
  beforeAll(async () => {
    place = await openPlace()
    guest = place.guest()
    await guest.post('/demo')
    const compare = (await guest.get('/g/quern-hill/compare?season=all')).text
    address = plain(/href="([^"#]*compare\/rows\?[^"#]*season=all[^"#]*)/.exec(compare)?.[1] ?? '')
  })
  afterAll(() => place.close())

  const w = { ...catalogue.rowsBehind, ...catalogue.turning }
  const partOf = (html: string, section: string) => html.split(`<h2 id="${section}"`)[1]?.split('</section>')[0] ?? ''
  const rowsIn = (html: string) =>
    (/<tbody>([\s\S]*?)<\/tbody>/.exec(html)?.[1]?.match(/<th scope="row"/g) ?? []).length
  const rangeIn = (html: string) => {
    const pager = /<nav class="pager"[\s\S]*?<\/nav>/.exec(html)?.[0] ?? ''
    const numbersIn = /([\d,]+) to ([\d,]+) of ([\d,]+)/.exec(plain(pager)) ?? []
    return numbersIn.slice(1).map((one) => Number(one.replace(',', '')))
  }
  const next = (html: string) => plain(new RegExp(`href="([^"#]*)#\\w+">${w.after}`).exec(html)?.[1] ?? '')

  it('no table of them has more than a hundred, and its sums are those of all', async () => {
    const { text } = await guest.get(address)
    let long = 0
    for (const section of sectionsInPages) {
      const part = partOf(text, section)
      const [, to = rowsIn(part), of = to] = rangeIn(part)
      expect([section, rowsIn(part)]).toEqual([section, to])
      expect(to).toBeLessThanOrEqual(100)
      if (of > 100) long += 1
    }
    expect(long).toBeGreaterThan(1)
  })

  it('the hours are walked through page by page to the last, each row once, under the same sums', async () => {
    const json = await guest.json<{ hours: unknown[] }>(address.replace('/rows?', '/rows.json?'))
    const first = (await guest.get(address)).text
    expect(partOf(first, 'hours')).toContain(w.togetherAll(String(json.hours.length)))
    const foot = (html: string) => plain(/<tfoot>[\s\S]*?<\/tfoot>/.exec(partOf(html, 'hours'))?.[0] ?? '')
    let seen = rowsIn(partOf(first, 'hours'))
    for (let at = next(partOf(first, 'hours')), turns = 0; at !== ''; turns++) {
      expect(turns).toBeLessThan(50)
      const { text } = await guest.get(at)
      const part = partOf(text, 'hours')
      const [from, to] = rangeIn(part)
      expect([from, to]).toEqual([seen + 1, seen + rowsIn(part)])
      expect(foot(text)).toBe(foot(first))
      expect(text).not.toContain('<h2 id="costs"')
      expect(part).toContain(w.before)
      seen += rowsIn(part)
      at = next(part)
    }
    expect(seen).toBe(json.hours.length)
    expect(seen).toBeGreaterThan(200)
  })

  it('a planting is a page of its own with its weighings, its hours and costs', async () => {
    const all = await guest.json<{ plantings: { planting: string; marketable_g: number }[] }>(
      address.replace('/rows?', '/rows.json?'),
    )
    const one = all.plantings.find((row) => row.marketable_g > 0)
    const to = `${address}&planting=${one?.planting}`
    const own = (await guest.get(to)).text
    const count = Number(/(\d+) weighing/.exec(plain(partOf(own, 'plantings')))?.[1])
    expect(partOf(own, 'plantings').match(/weeks\/\d{4}-W\d\d#weights/g)).toHaveLength(count)
    expect(rowsIn(partOf(own, 'plantings'))).toBe(1)
    expect(plain(own)).toMatch(new RegExp(`Only [^.]+ · [^.]+\\. ${w.all}`))
    expect(plain(own)).toContain(w.cropSay)
    const json = await guest.json<{ plantings: unknown[]; weighings: { marketable_g: number }[] }>(
      to.replace('/rows?', '/rows.json?'),
    )
    expect([json.plantings.length, json.weighings.length]).toEqual([1, count])
    expect(json.weighings.reduce((sum, { marketable_g: grams }) => sum + grams, 0)).toBe(one?.marketable_g)
    expect((await guest.get(to.replace(/planting=[^&]*/, 'planting=none'))).status).toBe(404)
  })
})

describe('weighings that are too many for one page', () => {
  let database: Database
  let record: TrialRecord
  beforeAll(async () => {
    database = await openTestDatabase()
    const { groupId } = await oddGroup(database, { seasons: 1, harvests: 1500, labour: 10 }, 3)
    const who = { personId: null, groupId, readOnly: true }
    record = await asMember(database, who, (tx) => trialRecord(tx, groupId, 'rows'))
  })
  afterAll(() => database.close())

  it('stand on the pages of their plantings', () => {
    const seasonIds = record.seasons.map(({ id }) => id)
    const [method] = methodsIn(record, seasonIds)
    const scope = scopeOf(record, { method })
    if (!scope) throw new Error('There is no such method.')
    const all = rowsBehind(record, seasonIds, scope.id)
    const of = { scope, seasonIds, all, rules: plainMeasureRules, matchedRules: plainRules, besideId: null }
    const shown = (planting?: string) =>
      rowsPage({ ...of, kept: { planting }, counted: false, shown: overview, locale: 'en-GB', currency: 'EUR' })
    const { rows } = shown().plantings
    expect(rows.reduce((sum, one) => sum + one.weighings, 0)).toBeGreaterThan(300)
    expect(rows.flatMap((one) => one.weighed)).toEqual([])
    for (const one of rows) {
      const [own, ...others] = shown(one.id).plantings.rows
      expect([own?.weighed.length, others]).toEqual([one.weighings, []])
    }
  })
})
