import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { dayIn } from '../../src/quantities/dates.ts'
import { weekOf } from '../../src/quantities/iso-week.ts'
import { fillIn, launch, type Service, startService } from './service.ts'

let browser: Browser
let service: Service
let page: Page
let weeks = ''
beforeAll(async () => {
  browser = await launch()
  service = await startService()
  page = await (await browser.newContext({ viewport: { width: 1280, height: 900 } })).newPage()
  await page.goto(`${service.base}/sign-up`)
  await fillIn(page, '/sign-up', { name: 'Ada Rook', email: 'ada@example.org', password: 'long enough to keep' })
  await fillIn(page, '/demo/copy', {})
  weeks = `${service.base}${new URL(page.url()).pathname}/weeks`
})
afterAll(async () => {
  await browser.close()
  await service.stop()
})

/** Heads of the rows of weights and hours, in order, and the gardens across. */
const asItStands = async () => ({
  rows: await page.locator('.sheet tbody th, form#week .week-table:not(.week-closing) tbody th').allInnerTexts(),
  gardens: (await page.locator('main table').first().locator('thead th').allInnerTexts()).map(
    (text) => text.split('\n')[0],
  ),
})

const pagesIn = (pdf: Buffer) => pdf.toString('latin1').match(/\/Type\s*\/Page\b(?!s)/g)?.length ?? 0

it('the printed week has the order of the screen, on two pages of A4 in a full week of the example', async () => {
  const wide: string[] = []
  for (const week of ['2026-W02', weekOf(dayIn('Pacific/Auckland', new Date()))]) {
    await page.goto(`${weeks}/${week}/sheet`)
    const paper = await asItStands()
    expect(paper.rows.length).toBeGreaterThan(25)
    expect(pagesIn(await page.pdf({ format: 'A4' }))).toBe(2)
    await page.emulateMedia({ media: 'print' })
    await page.setViewportSize({ width: 687, height: 1040 })
    if (await page.evaluate('document.documentElement.scrollWidth > 687')) wide.push(week)
    await page.emulateMedia({ media: null })
    await page.setViewportSize({ width: 1280, height: 900 })
    await page.goto(`${weeks}/${week}?from=paper`)
    expect(await asItStands()).toEqual(paper)
  }
  expect(wide).toEqual([])
})

it('a filled sheet is typed back in one go', async () => {
  const week = weekOf(dayIn('Pacific/Auckland', new Date()))
  await page.goto(`${weeks}/${week}?from=paper`)
  const weights = page.locator('form#week [data-weight]')
  const times = page.locator('form#week [data-time]:not([name^="h[all]"])')
  const [manyWeights, manyTimes] = [await weights.count(), 30]
  expect(manyWeights).toBeGreaterThan(5)
  for (let i = 0; i < manyWeights; i++) await weights.nth(i).fill(`0.${20 + i}`)
  for (let i = 0; i < manyTimes; i++) await times.nth(i).fill(`0:${10 + i}`)
  const before = await page.locator('.week-saved a').count()
  await Promise.all([page.waitForEvent('load'), page.locator('form#week button[value="save"]').click()])
  expect(await page.locator('.errors').allInnerTexts()).toEqual([])
  await page.goto(`${weeks}/${week}?from=paper`)
  expect((await page.locator('.week-saved a').count()) - before).toBe(manyWeights + manyTimes)
  await page.goto(`${weeks}/${week}/ledger`)
  const own = await page.locator('a[href*="/correct/harvests/"]').first().getAttribute('href')
  await page.goto(`${service.base}${own?.replace('/correct/', '/history/')}`)
  expect(await page.locator('main').textContent()).toContain('read off paper')
})
