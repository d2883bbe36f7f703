import { mkdirSync } from 'node:fs'
import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { addDays, dayIn } from '../../src/quantities/dates.ts'
import { plain } from '../support/page-checks.ts'
import { press, typeIn } from './keyboard.ts'
import { checkAccess, launch, type Service, startService } from './service.ts'

let browser: Browser
beforeAll(async () => {
  browser = await launch()
})
afterAll(() => browser.close())

const today = dayIn('Pacific/Auckland', new Date())
/** Set to a folder, the pages of the first hour are kept there as pictures. */
const pictures = process.env.PICTURES

/** From the front page to the first weight and the first like-for-like figure, on a phone's screen, with keys alone. */
describe.each([
  { scripts: true, name: 'with scripts' },
  { scripts: false, name: 'with scripts off' },
])('the first hour by keyboard, $name', ({ scripts }) => {
  let service: Service
  let page: Page
  let loads = 0
  let fields = 0
  beforeAll(async () => {
    service = await startService()
    const context = await browser.newContext({
      ...{ javaScriptEnabled: scripts, viewport: { width: 390, height: 844 }, locale: 'en-US' },
    })
    page = await context.newPage()
    page.on('load', () => loads++)
    if (pictures) mkdirSync(pictures, { recursive: true })
  })
  afterAll(() => service.stop())

  let taken = 0
  const look = async () => {
    if (scripts) await checkAccess(page)
    if (pictures && scripts)
      await page.screenshot({ path: `${pictures}/${String(++taken).padStart(2, '0')}.png`, fullPage: true })
  }
  const fill = async (action: string, typed: Readonly<Record<string, string>>, button?: string) => {
    fields += Object.keys(typed).length
    await typeIn(page, action, typed, button)
    await look()
  }

  /** On the sheet of the week: a weight in the first row, in the column of a garden. */
  const weigh = async (weight: string, garden: number, button: string) => {
    const field = page.locator('form#week [data-weight]').nth(garden)
    const name = (await field.getAttribute('name')) ?? ''
    await fill(new URL(page.url()).pathname.replace(/^.*\/weeks/, '/weeks'), { [name]: weight }, button)
  }

  it('takes eight pages and twenty fields at most to the first weight, and two more to a comparison', async () => {
    await page.goto(service.base)
    await press(page, 'a[href="/sign-up"]')
    await look()
    await fill('/sign-up', { name: 'Ada Rook', email: 'ada@example.org', password: 'long enough to keep' })
    await fill('/groups', { name: 'Quern Hill Growers', country: 'New Zealand' })
    expect(plain(await page.content())).toContain('prices in NZD, days as in Pacific/Auckland, numbers as in en-NZ')
    await fill('/setting-up/gardens', {
      ...{ 'rows[0][name]': 'Lower Terrace', 'rows[0][method]': 'Dug every spring' },
      ...{ 'rows[0][grossAreaCm2]': 'about 70', 'rows[0][beds]': '6 of 8 m2' },
      ...{ 'rows[1][name]': 'Long Bank', 'rows[1][method]': 'Compost mulch, never dug' },
      ...{ 'rows[1][grossAreaCm2]': '7 x 10', 'rows[1][beds]': '6 of 8 m2' },
      ground: 'one',
    })
    await fill('/setting-up/season', {
      ...{ startsOn: addDays(today, -120), endsOn: addDays(today, 180) },
      ...{ 'rows[0][crop]': 'carrot', 'rows[0][cultivar]': 'Kestrel', 'rows[0][sownOn]': addDays(today, -90) },
    })
    expect(plain(await page.content())).toContain('This is the week')
    // One garden at a time on a phone.
    await weigh('2.4', 0, '#save-next')
    const first = { loads, fields }
    await weigh('3.1', 1, '[value="save"]')
    await press(page, '.head-parts a[href$="/compare"]')
    await look()
    const compared = { loads, fields }
    process.stdout.write(`To the first weight: ${said(first)}; to the first like-for-like figure: ${said(compared)}\n`)
    expect(first.loads).toBeLessThanOrEqual(8)
    expect(first.fields).toBeLessThanOrEqual(20)
    expect(compared.loads - first.loads).toBeLessThanOrEqual(2)
    expect(compared.fields - first.fields).toBeLessThanOrEqual(2)
    // 2.4 kg and 3.1 kg on six beds of 8 m2 each; no hour was written, and none is claimed.
    const told = plain(await page.content())
    for (const said of [
      'kg per m² of bed, so far',
      'reference 0.05',
      'Long Bank Compost mulch, never dug 0.06',
      'none yet',
    ])
      expect(told).toContain(said)
    expect(told).not.toContain('0.00')
  })
})

const said = ({ loads, fields }: { loads: number; fields: number }) => `${loads} pages, ${fields} fields`
