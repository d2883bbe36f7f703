import type { Browser, BrowserContext, Page } from 'playwright-core'
import { afterAll, afterEach, beforeAll, beforeEach, expect, it } from 'vitest'
import { dayIn } from '../../src/quantities/dates.ts'
import { weekAfter, weekOf } from '../../src/quantities/iso-week.ts'
import { plain } from '../support/page-checks.ts'
import { checkAccess, launch, type Service, startService } from './service.ts'
import { twoGardens } from './setting-up.ts'

const thisWeek = weekOf(dayIn('Pacific/Auckland', new Date()))
const ada = { email: 'ada@example.org', password: 'long enough to keep' }
const [lower, bank] = ['Lower Terrace', 'Long Bank']

let service: Service
let browser: Browser
let page: Page
let group = ''
let signedIn: Awaited<ReturnType<BrowserContext['storageState']>>
const newPage = async (more: { storageState?: typeof signedIn } = {}) =>
  (await browser.newContext({ viewport: { width: 1280, height: 900 }, locale: 'en-NZ', ...more })).newPage()
beforeAll(async () => {
  service = await startService()
  browser = await launch()
  page = await newPage()
  group = await twoGardens(page, { base: service.base, who: ada, crops: ['carrot', 'potato'] })
  signedIn = await page.context().storageState()
})
// A device of its own each: nothing half typed is kept on it.
beforeEach(async () => {
  page = await newPage({ storageState: signedIn })
})
afterEach(() => page.context().close())
afterAll(async () => {
  await browser.close()
  await service.stop()
})

const open = (week: string) => page.goto(`${service.base}/g/${group}/weeks/${week}`)
/** A field of weights, by what it is called for those who do not see it. */
const weight = (crop: string, garden: string) => page.getByLabel(`${crop}, Kestrel, ${garden}`, { exact: true })
const time = (task: string, garden: string) => page.getByLabel(`${task}, ${garden}`, { exact: true })
const save = () => Promise.all([page.waitForEvent('load'), page.locator('.week-save [value="save"]').click()])

/** What stands beside the name of a garden: "2.90 · before 3.25". */
async function beside(part: 'weights' | 'hours', garden: string): Promise<string> {
  const heads = page.locator(`section[aria-labelledby="${part}"] .week-table`).first().locator('thead th')
  return plain(await heads.filter({ hasText: garden }).innerHTML()).replace(`${garden} `, '')
}

it('sums stand beside the gardens, follow what is typed, and go where it is taken away', async () => {
  await open(weekAfter(thisWeek, -1))
  await weight('carrot', lower).fill('2.75')
  await weight('potato', lower).fill('0.5')
  await time('weeding', lower).fill('1:15')
  await save()
  await open(thisWeek)
  expect(await beside('weights', lower)).toBe('– · before 3.25')
  expect(await beside('hours', lower)).toBe('– · before 1:15')
  await weight('carrot', lower).fill('2.5 / 0.4 forked')
  await expect.poll(() => beside('weights', lower)).toBe('2.90 · before 3.25')
  expect(await page.locator('output[data-echo]:visible').allInnerTexts()).toEqual(['2.90 picked: 2.50 good, 0.40 not'])
  await weight('potato', lower).fill('Tu 1.2; 5 May 900 g; -30% pest')
  await weight('potato', bank).fill('2 kg 200 g+0.3')
  await expect.poll(() => beside('weights', lower)).toBe('5.00 · before 3.25')
  expect(await beside('weights', bank)).toBe('2.50 · before –')
  await weight('potato', bank).fill('')
  await expect.poll(() => beside('weights', bank)).toBe('– · before –')
})

it('hours follow too: two people, minutes, days and several stretches', async () => {
  await open(thisWeek)
  await time('weeding', lower).fill('1:30')
  await time('harvest', lower).fill('2 x 0:45; Tu 30 min; 5.5. 1 h 15')
  await time('weeding', bank).fill('5 May 0.5')
  await expect.poll(() => beside('hours', lower)).toBe('4:45 · before 1:15')
  expect(await beside('hours', bank)).toBe('0:30 · before –')
})

it('on a phone the unit, what is not good, and quarters of an hour are in the sums', async () => {
  await page.setViewportSize({ width: 390, height: 844 })
  await open(thisWeek)
  await weight('carrot', lower).fill('850')
  await page.getByLabel(`unit, carrot, Kestrel, ${lower}`).selectOption('g')
  await page.getByLabel(`not good, carrot, Kestrel, ${lower}`).fill('50')
  await expect.poll(() => beside('weights', lower)).toContain('0.90 · ')
  for (let taps = 0; taps < 5; taps++) await page.locator('td.here [data-quarter]').first().click()
  await expect.poll(() => beside('hours', lower)).toContain('1:15 · ')
})

it('what is unlikely is asked once, in its cell; what is right beside it is stored', async () => {
  await open(thisWeek)
  await weight('carrot', lower).fill('300')
  await weight('carrot', bank).fill('1.7')
  await save()
  const cell = page.locator('td').filter({ has: weight('carrot', lower) })
  expect(await cell.locator('.wrong').innerText()).toContain('is a great deal')
  expect(await page.locator('.errors li').allInnerTexts()).toHaveLength(1)
  expect(await weight('carrot', lower).inputValue()).toBe('300')
  expect(await page.locator('[name$="[surely]"]').count()).toBe(1)
  expect(await beside('weights', bank)).toBe('1.70 · before –')
  await checkAccess(page)
  await cell.locator('[name$="[surely]"]').check()
  await save()
  expect(await page.locator('.errors, .wrong').count()).toBe(0)
  expect(await beside('weights', lower)).toBe('300.00 · before 3.25')
  expect(await beside('weights', bank)).toBe('1.70 · before –')
})

/** Another page of the device writes to what is kept, and goes on until it is told to let go. */
const holdDrafts = `new Promise((held) => {
  const asked = indexedDB.open('evenground', 1)
  asked.onsuccess = () => {
    const drafts = asked.result.transaction(['drafts'], 'readwrite').objectStore('drafts')
    const again = () => { if (!window.letGo) drafts.count().onsuccess = again }
    again()
    held()
  }
})`
const draftOnDevice =
  "kept.draft(document.getElementById('week').dataset).then((draft) => draft?.fields.map(([, value]) => value))"

it('a half-typed sheet that the device gives back late leaves what was typed meanwhile', async () => {
  await open(thisWeek)
  await weight('carrot', lower).fill('1.1')
  await weight('carrot', bank).fill('8')
  await expect.poll(() => page.evaluate(draftOnDevice)).toEqual(expect.arrayContaining(['1.1', '8']))
  const other = await page.context().newPage()
  await other.goto(`${service.base}/g/${group}/people`)
  await other.evaluate(holdDrafts)
  await open(thisWeek)
  await weight('carrot', bank).fill('9')
  expect(await weight('carrot', lower).inputValue()).toBe('')
  await other.evaluate('void (window.letGo = true)')
  await expect.poll(() => weight('carrot', lower).inputValue()).toBe('1.1')
  expect(await weight('carrot', bank).inputValue()).toBe('9')
  await expect.poll(() => page.evaluate(draftOnDevice)).toEqual(expect.arrayContaining(['1.1', '9']))
})
