import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { plain } from '../support/page-checks.ts'
import { checkAccess, fillIn, launch, type Service, startService } from './service.ts'

let browser: Browser
beforeAll(async () => {
  browser = await launch()
})
afterAll(() => browser.close())

/** On a phone's screen, in a copy of the example: the next season is planned, rows come in, a row is corrected. */
describe.each([
  { scripts: true, name: 'with scripts' },
  { scripts: false, name: 'with scripts off' },
])('the record of a year, $name', ({ scripts }) => {
  let service: Service
  let page: Page
  let group: string
  beforeAll(async () => {
    service = await startService({ EVENGROUND_DEMO_DAY: '2026-11-28' })
    const context = await browser.newContext({ javaScriptEnabled: scripts, viewport: { width: 390, height: 844 } })
    page = await context.newPage()
    await page.goto(`${service.base}/sign-up`)
    await fillIn(page, '/sign-up', { name: 'Ada Rook', email: 'ada@example.org', password: 'long enough to keep' })
    await fillIn(page, '/demo/copy', {})
    group = new URL(page.url()).pathname
  })
  afterAll(() => service.stop())

  const look = () => (scripts ? checkAccess(page) : Promise.resolve())
  const open = async (path: string) => {
    await page.goto(`${service.base}${path}`)
    await look()
  }
  const text = async () => plain(await page.locator('main').innerHTML())
  it('plans a season: one sowing after another in every garden, and the running season carried over', async () => {
    await open(`${group}/seasons`)
    await fillIn(page, '/seasons', { name: '2027/28', startsOn: '2027-07-01', endsOn: '2028-06-30' })
    await open(`${group}/seasons`)
    const season = (await page.getByRole('link', { name: '2027/28' }).first().getAttribute('href')) ?? ''
    expect(season).toContain('/seasons/')
    await open(`${season}/plan`)
    const form = page.locator('form[action$="/plan/successions"]')
    const beds = await form.locator('select[name^="beds["]').all()
    expect(beds.length).toBe(5)
    const inEvery: [string, string][] = []
    for (const bed of beds) {
      const last = await bed.locator('option').nth(1).getAttribute('value')
      inEvery.push([(await bed.getAttribute('name')) ?? '', `=${last}`])
    }
    await fillIn(page, '/plan/successions', {
      ...{ cropId: 'lettuce, cos', cultivar: 'Dunlin', areaCm2: '1', how: '=direct' },
      ...{ firstOn: '2027-09-01', everyDays: '21', standsDays: '60', times: '2' },
      ...Object.fromEntries(inEvery),
    })
    await look()
    expect((await text()).match(/1 September 2027[^.]*lettuce, cos, Dunlin/g)).toHaveLength(5)
    expect((await text()).match(/22 September 2027[^.]*lettuce, cos, Dunlin/g)).toHaveLength(5)

    await open(`${season}/plan/carried`)
    const offered = await page.locator('input[name="t"]').count()
    expect(offered).toBeGreaterThan(50)
    for (const box of (await page.locator('input[name="t"]').all()).slice(10)) await box.uncheck()
    await Promise.all([
      page.waitForEvent('load'),
      page.locator('form[action$="/carried"][method="get"] button').click(),
    ])
    await look()
    expect(await text()).toContain('10 plantings would be added.')
    await Promise.all([
      page.waitForEvent('load'),
      page.locator('form[action$="/carried"][method="post"] button').click(),
    ])
    await open(season)
    expect(await page.locator('[aria-label="Plantings"] tbody tr').count()).toBe(10 + 10)
  })

  it('reads hours from a file: the wrong line is listed, and nothing is stored until it is right', async () => {
    // Hours of these weeks were never closed in that garden of the example.
    const week = `${group}/weeks/2025-W02/ledger`
    const read = async (second: string) => {
      await open(`${group}/exchange/rows`)
      await page.locator('select[name="kind"]').selectOption('labour')
      const lines = ['day,garden,task,time,note', '2025-01-07,Orchard Edge,weeding,1:45,', second]
      await page.locator('textarea[name="lines"]').fill(lines.join('\n'))
      await Promise.all([page.waitForEvent('load'), page.getByRole('button', { name: 'Read' }).first().click()])
      await settled()
    }
    const settled = async () => {
      for (let tries = 0; tries < 50 && (await page.content()).includes('looks again by itself'); tries++) {
        await page.waitForTimeout(200)
        await page.reload()
      }
      await look()
    }
    const hoursOfWeek = async () => {
      await open(week)
      return await page
        .locator('tr')
        .filter({ hasText: /weeding/ })
        .filter({ hasText: /1[.:]75|1:45/ })
        .count()
    }
    await read('2025-01-08,Orchard Edge,weeding,a while,')
    const wrong = await page.locator('[aria-label="Lines that are not right"] tbody tr').allInnerTexts()
    expect(wrong).toHaveLength(1)
    expect(wrong[0]).toMatch(/^3\s+time\s/)
    expect(await page.locator('form[action$="/confirm"]').count()).toBe(0)
    expect(await hoursOfWeek()).toBe(0)

    await read('2025-01-08,Orchard Edge,weeding,0:43,')
    expect(await page.locator('[aria-label="Lines that are not right"]').count()).toBe(0)
    await Promise.all([page.waitForEvent('load'), page.locator('form[action$="/confirm"] button').click()])
    await settled()
    expect(await text()).toContain('Stored: 2 rows.')
    expect(await hoursOfWeek()).toBe(1)
  })

  it('corrects a row and takes it away with a reason, and its history tells all of it', async () => {
    await open(`${group}/weeks/2025-W02/ledger`)
    const entry = page
      .locator('tr')
      .filter({ hasText: /weeding/ })
      .filter({ hasText: /1[.:]75|1:45/ })
    await Promise.all([page.waitForEvent('load'), entry.locator('a[href*="/correct/labour/"]').first().click()])
    await look()
    const correction = new URL(page.url()).pathname
    // Its season is closed by then: a correction says why.
    await fillIn(page, correction, { time: '1:15', closedReason: 'read again off the paper' })
    await open(correction)
    const history = page.locator('main a[href*="/history/labour_entries/"]')
    const address = new URL((await history.getAttribute('href')) ?? '', service.base).pathname
    await fillIn(page, `${correction}/removal`, { reason: 'written down twice' })
    await open(address)
    const told = await text()
    for (const said of ['read from a file', 'read again off the paper', 'written down twice']) {
      expect(told).toContain(said)
    }
    expect(told).toMatch(/1[.:]75|1:45/)
    expect(told).toMatch(/1[.:]25|1:15/)
  })
})
