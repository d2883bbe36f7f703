import type { Browser, BrowserContext, Page } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { accessFaults, fillIn, launch, type Service, startService } from './service.ts'

let browser: Browser
let service: Service
let context: BrowserContext
let page: Page
let group: string
let shared: string
/** A phone of 320 px: what a screen of 640 px shows at 200 % zoom. */
const narrow = { width: 320, height: 640 }

beforeAll(async () => {
  service = await startService()
  browser = await launch()
  context = await browser.newContext({ viewport: narrow })
  page = await context.newPage()
  await page.goto(`${service.base}/sign-up`)
  await fillIn(page, '/sign-up', { name: 'Ada Rook', email: 'ada@example.org', password: 'long enough to keep' })
  await fillIn(page, '/demo/copy', {})
  group = new URL(page.url()).pathname
  await page.goto(`${service.base}${group}/reports`)
  await fillIn(page, '/reports', { title: 'Three seasons', season: 'All seasons', 'sections[]': 'all of them' })
  await fillIn(page, '/links', {})
  shared = new URL(((await page.locator('.notice code').textContent()) ?? '').trim()).pathname
})
afterAll(async () => {
  await browser.close()
  await service.stop()
})

/** Pages of one kind have one shape: ids, weeks and days in an address are set aside, and so is what stands after "?". */
const shapeOf = (path: string) =>
  path
    .replace(/[0-9a-f]{8}-[0-9a-f-]{27}/g, ':id')
    .replace(/\d{4}-W\d\d/g, ':week')
    .replace(/\/r\/[^/]+/, '/r/:token')

/** Every page that links lead to from where it starts, one of each shape, in the order in which they are met. */
async function* pagesFrom(...starts: string[]): AsyncGenerator<string> {
  const met = new Set(starts.map(shapeOf))
  const waiting = [...starts]
  for (let path = waiting.shift(); path !== undefined; path = waiting.shift()) {
    await page.goto(`${service.base}${path}`)
    const links = await page.$$eval('a[href]', (all) => all.map((one) => (one as unknown as { href: string }).href))
    // An address may lead to a page that has its turn by its own.
    const shown = shapeOf(new URL(page.url()).pathname)
    if (shown === shapeOf(path.replace(/\?.*/, '')) || !met.has(shown)) yield path
    met.add(shown)
    for (const link of links.map((one) => new URL(one))) {
      const isPage = link.origin === service.base && !/\.(csv|json|zip|svg|png|R)$|\/pictures\//.test(link.pathname)
      const shape = shapeOf(link.pathname)
      if (!isPage || met.has(shape)) continue
      met.add(shape)
      waiting.push(link.pathname + link.search)
    }
  }
}

/** Of a long table the rows that axe looks at: what follows is made by the same lines, and took half of its time. */
const rowsLooked = 60
const leaveOut = `for (const body of document.querySelectorAll('tbody'))
  for (const row of [...body.rows].slice(${rowsLooked})) row.remove()`

/** What is wrong with the page that is open, in light and in dark; its width is that of all its rows. */
async function faultsHere(): Promise<object[]> {
  const faults: object[] = []
  const wide = (await page.evaluate('document.documentElement.scrollWidth > window.innerWidth + 1')) as boolean
  if (wide) faults.push({ at: page.url(), wide })
  await page.evaluate(leaveOut)
  for (const colorScheme of ['light', 'dark'] as const) {
    await page.emulateMedia({ colorScheme })
    const found = await accessFaults(page, colorScheme === 'light' ? 'all' : 'colours')
    if (found.findings.length > 0 || found.wide) faults.push({ ...found, colorScheme })
  }
  return faults
}

it('in a reader’s own colours what stands out, what is chosen and where the keyboard stands are seen', async () => {
  await page.setViewportSize({ width: 1280, height: 900 })
  await page.emulateMedia({ forcedColors: 'active', colorScheme: 'dark' })
  await page.goto(`${service.base}${group}/compare?season=all`)
  const seen = (await page.evaluate(`(() => {
    const look = (of) => getComputedStyle(document.querySelector(of))
    const { color: text, backgroundColor: ground } = getComputedStyle(document.documentElement)
    return {
      apart: text !== ground,
      ring: look('.side-table .ratio-mark.ring').fill === ground && look('.side-table .ratio-mark.ring').stroke === text,
      core: look('.side-table .ratio-core').fill === text,
      chosen: look('.choices [aria-current]').borderBottomColor !== look('.choices a:not([aria-current])').borderBottomColor,
    }
  })()`)) as Record<string, boolean>
  expect(seen).toEqual({ apart: true, ring: true, core: true, chosen: true })
  await page.keyboard.press('Tab')
  expect(await page.evaluate('getComputedStyle(document.activeElement).outlineStyle')).not.toBe('none')
  expect(await accessFaults(page)).toMatchObject({ findings: [], wide: false })
  await page.emulateMedia({ forcedColors: 'none', colorScheme: 'light' })
  await page.setViewportSize(narrow)
})

it('every page passes axe at 320 px, light and dark, and none scrolls sideways', async () => {
  const faults: object[] = []
  const seen: string[] = []
  for await (const path of pagesFrom(group, `${group}/compare?season=all`, shared)) {
    seen.push(shapeOf(path).replace(group, ''))
    faults.push(...(await faultsHere()))
  }
  await context.clearCookies()
  for (const path of ['/', '/sign-in', '/sign-up', '/figures', shared, '/nothing-here']) {
    await page.goto(`${service.base}${path}`)
    faults.push(...(await faultsHere()))
  }
  expect(faults).toEqual([])
  expect(seen.length).toBeGreaterThan(75)
  expect(seen).toEqual(expect.arrayContaining(['/weeks/:week', '/correct/harvests/:id', '/reports/:id', '/r/:token']))
}, 600_000)

it('a screen reader hears the table of methods row by row, each cell under its heading', async () => {
  await page.goto(`${service.base}${shared}`)
  // On a phone the parts of a report are folds.
  for (const fold of await page.locator('main details:not([open]) > summary').all()) {
    if (await fold.isVisible()) await fold.click()
  }
  const methods = page.locator('main table', { hasText: 'Marketable, kg per m² of bed' }).first()
  const tree = (await methods.ariaSnapshot()).split('\n')
  const heard = tree.flatMap(
    (line) => /(columnheader|rowheader|cell) "([^"]*)"/.exec(line)?.slice(1, 3).join(' ') ?? [],
  )
  const names = ['Dug every spring', 'Broadfork, no inversion', 'Compost mulch, never dug']
  const heads = ['Measure', ...names, 'Deep hay mulch', 'Living clover between rows']
  expect(heard.slice(0, 6)).toEqual(heads.map((name) => `columnheader ${name}`))
  expect(heard.length).toBeGreaterThan(6 * 10)
  const rows = Array.from({ length: heard.length / 6 - 1 }, (_, row) => heard.slice(6 * (row + 1), 6 * (row + 2)))
  const kinds = rows.map((row) => row.map((one) => one.split(' ')[0]).join(' '))
  expect(new Set(kinds)).toEqual(new Set(['rowheader cell cell cell cell cell']))
  expect(rows[0]?.[0]).toBe('rowheader Marketable, kg per m² of bed')
})
