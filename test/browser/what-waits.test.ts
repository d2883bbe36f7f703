import type { Browser, BrowserContext, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { dayIn } from '../../src/quantities/dates.ts'
import { weekOf } from '../../src/quantities/iso-week.ts'
import { fillIn, launch, type Service, startService } from './service.ts'
import { twoGardens } from './setting-up.ts'
import { openSignal, type Signal } from './signal.ts'

const ada = { email: 'ada@example.org', password: 'long enough to keep' }
const week = weekOf(dayIn('Pacific/Auckland', new Date()))

let browser: Browser
let service: Service
let signal: Signal
let first: Page
let second: Page
let address = ''
beforeAll(async () => {
  browser = await launch()
  service = await startService()
  signal = await openSignal(service.base)
  first = await (await phone()).newPage()
  const group = await twoGardens(first, { base: signal.base, who: ada, crops: ['carrot', 'potato'] })
  address = `${signal.base}/g/${group}/weeks/${week}`
  second = await (await phone()).newPage()
  await second.goto(`${signal.base}/sign-in`)
  await fillIn(second, '/sign-in', ada)
})
afterAll(async () => {
  await browser.close()
  await signal.stop()
  await service.stop()
})

const phone = (): Promise<BrowserContext> => browser.newContext({ viewport: { width: 1280, height: 900 } })
const cell = (page: Page, at: number) => page.locator('form#week [data-weight]').nth(at)
const kept = (page: Page) => page.locator('#kept')
const press = (page: Page) => page.locator('form#week button[value="save"]').click()
const saved = async () => {
  await first.goto(address)
  const texts = await first.locator('form#week .week-saved a').allTextContents()
  return texts.map((text) => text.replace(/\s.*$/s, '')).sort()
}

/** Types a weight on a page that is open, and saves it without a signal. */
async function typeWithout(page: Page, at: number, weight: string) {
  await page.goto(address)
  signal.set('off')
  await cell(page, at).fill(weight)
  await press(page)
  await expect.poll(() => kept(page).locator('li').count()).toBe(1)
  signal.set('fair')
}

describe('what waits on a phone', () => {
  it('is added to what another phone wrote in the same cell; the same weight again is asked once, and kept until then', async () => {
    await typeWithout(first, 0, '1.25')
    await typeWithout(second, 0, '1.5')
    await first.goto(address)
    await first.waitForSelector('.notice')
    await second.goto(address)
    await second.waitForSelector('.notice')
    expect(await saved()).toEqual(['1.25', '1.50'])

    await typeWithout(second, 0, '1.25')
    await second.goto(address)
    await expect.poll(() => kept(second).textContent()).toContain('Is this another?')
    expect(await saved()).toEqual(['1.25', '1.50'])
    await Promise.all([second.waitForEvent('load'), second.getByRole('button', { name: 'Put back' }).click()])
    await expect.poll(() => cell(second, 0).inputValue()).toBe('1.25')
    await Promise.all([second.waitForEvent('load'), press(second)])
    await second.waitForSelector('[name$="[surely]"]')
    await second.locator('[name$="[surely]"]').check()
    await Promise.all([second.waitForEvent('load'), press(second)])
    await second.waitForSelector('.notice')
    expect(await saved()).toEqual(['1.25', '1.25', '1.50'])
  })

  it('stores what is right of a sheet, and keeps the rest with its sentence', async () => {
    await first.goto(`${address}?rows=all`)
    signal.set('off')
    await cell(first, 1).fill('2.75')
    await cell(first, 2).fill('three crates')
    await press(first)
    await expect.poll(() => kept(first).locator('li').count()).toBe(1)
    signal.set('fair')
    await first.goto(address)
    await expect.poll(() => kept(first).locator('.wrong').count()).toBe(1)
    expect(await kept(first).locator('li').textContent()).toContain('one entry')
    expect(await saved()).toContain('2.75')
    first.once('dialog', (dialog) => void dialog.accept())
    await first.getByRole('button', { name: 'Throw away' }).click()
    await expect.poll(() => kept(first).isHidden()).toBe(true)
  })

  it('is said to have no room where the device is full, and Save stores it with a signal all the same', async () => {
    const page = await (await phone()).newPage()
    const refused =
      "IDBObjectStore.prototype.put = IDBObjectStore.prototype.add = () => { throw new DOMException('', 'QuotaExceededError') }"
    await page.addInitScript(refused)
    await page.goto(`${signal.base}/sign-in`)
    await fillIn(page, '/sign-in', ada)
    await page.goto(`${address}?rows=all`)
    await cell(page, 3).fill('4.5')
    await expect.poll(() => kept(page).textContent()).toContain('no room')
    await Promise.all([page.waitForEvent('load'), press(page)])
    await page.waitForSelector('.notice')
    expect(await saved()).toContain('4.50')
  })
})
