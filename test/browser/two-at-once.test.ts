import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { dayIn } from '../../src/quantities/dates.ts'
import { weekOf } from '../../src/quantities/iso-week.ts'
import { fillIn, launch, type Service, startService } from './service.ts'
import { twoGardens } from './setting-up.ts'

const ada = { email: 'ada@example.org', password: 'long enough to keep' }
const week = weekOf(dayIn('Pacific/Auckland', new Date()))

let browser: Browser
beforeAll(async () => {
  browser = await launch()
})
afterAll(() => browser.close())

describe.each([{ scripts: true }, { scripts: false }])('two phones, scripts $scripts', ({ scripts }) => {
  let service: Service
  let first: Page
  let second: Page
  let address = ''
  const phone = async () => {
    const more = { javaScriptEnabled: scripts, hasTouch: true, locale: 'en-US' }
    const context = await browser.newContext({ viewport: { width: 390, height: 844 }, ...more })
    return context.newPage()
  }
  beforeAll(async () => {
    service = await startService()
    // Set up by keys, which the helper needs scripts for; the phones then sign in as they are.
    const desk = await (await browser.newContext({ viewport: { width: 1280, height: 900 } })).newPage()
    const group = await twoGardens(desk, { base: service.base, who: ada, crops: ['carrot', 'potato'] })
    address = `${service.base}/g/${group}/weeks/${week}`
    first = await phone()
    second = await phone()
    for (const page of [first, second]) {
      await page.goto(`${service.base}/sign-in`)
      await fillIn(page, '/sign-in', ada)
    }
  })
  afterAll(() => service.stop())

  const cell = (page: Page, at: number) => page.locator('form#week .here [data-weight]').nth(at)
  const press = async (page: Page) => {
    await Promise.all([page.waitForEvent('load'), page.locator('form#week button[value="save"]').click()])
    await page.waitForSelector('.notice, [role=alert]')
  }
  const links = async (page: Page) => {
    await page.goto(address)
    return (await page.locator('form#week .week-saved a').allTextContents())
      .map((one) => one.trim().split(/\s/)[0])
      .sort()
  }

  it('save one week at the same moment: both are stored, none twice, and a second press stores nothing more', async () => {
    await Promise.all([first.goto(address), second.goto(address)])
    await cell(first, 0).fill('1.25')
    await cell(second, 1).fill('2.5')
    await Promise.all([press(first), press(second)])
    expect(await links(first)).toEqual(['1.25', '2.50'])

    await first.goto(address)
    await cell(first, 0).fill('3.75')
    await Promise.all([
      first.waitForEvent('load'),
      first.locator('form#week button[value="save"]').dblclick({ noWaitAfter: true }),
    ])
    await first.waitForSelector('.notice')
    expect(await links(second)).toEqual(['1.25', '2.50', '3.75'])
  })

  it('close the same week at the same moment: it is closed once, and what the slower one typed comes back at its cell', async () => {
    await Promise.all([first.goto(address), second.goto(address)])
    const garden = (await first.locator('form#week [name="garden"]').inputValue()) as string
    await first.locator(`[name="closeHours[]"][value="${garden}"]`).check()
    await press(first)
    await second.locator('.here [name$="[weeding][h]"]').fill('1')
    await second.locator('.here [name$="[weeding][m]"]').fill('20')
    await second.locator(`[name="closeHours[]"][value="${garden}"]`).check()
    await press(second)
    expect(await second.locator('[role=alert]').textContent()).toMatch(/closed/)
    expect(await second.locator('.here [name$="[weeding][h]"]').inputValue()).toBe('1')
    expect(await second.locator('.here [name$="[weeding][m]"]').inputValue()).toBe('20')

    // Without a reason it stays closed, and the tick and all that was typed stay.
    const tick = second.locator(`[name="reopenHours[]"][value="${garden}"]`)
    await tick.check()
    await press(second)
    expect(await tick.isChecked()).toBe(true)
    expect(await second.locator('.here [name$="[weeding][h]"]').inputValue()).toBe('1')
    await second.locator('[name="reason"]').fill('A line was left over')
    await press(second)
    expect(await second.locator('.notice').textContent()).toContain('1:20')
    expect(await links(second)).toContain('1:20')
  })

  it('correct one row: the slower one sees both versions, and nothing that was typed is lost', async () => {
    await Promise.all([first.goto(address), second.goto(address)])
    const at = await first.locator('form#week .week-saved a', { hasText: '1.25' }).getAttribute('href')
    for (const page of [first, second]) await page.goto(new URL(at ?? '', service.base).href)
    const correct = async (page: Page, weight: string) => {
      await page.locator('[name="marketable"]').fill(weight)
      await Promise.all([
        page.waitForEvent('load'),
        page.locator('form:has([name="marketable"]) button').first().click(),
      ])
    }
    await correct(first, '1.35')
    await correct(second, '1.45')
    const conflict = (await second.locator('main').textContent()) ?? ''
    expect(conflict).toContain('1.35')
    expect(conflict).toContain('1.45')
    expect(await second.locator('[name="marketable"]').inputValue()).toContain('1.45')
    await Promise.all([
      second.waitForEvent('load'),
      second.locator('form:has([name="marketable"]) button').first().click(),
    ])
    expect(await links(first)).toContain('1.45')
  })
})
