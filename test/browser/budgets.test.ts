import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { launch, type Service, startService } from './service.ts'

/** Words that are seen with every fold shut; screens of 1280 x 900 and of 390 x 844. */
type Budget = readonly [words: number, desk: number, phone: number]

const budgets: Readonly<Record<string, Budget>> = {
  '/': [300, 1.5, 4.5],
  '/g/quern-hill': [250, 1.5, 3.5],
  '/g/quern-hill/compare': [450, 2, 5.5],
  '/g/quern-hill/weeks/:week': [350, 2, 3],
}
const anyOther: Budget = [500, 2.5, 5]

/** Long ledgers, what is meant for paper, and whole reports, whose first sheet is held to one of paper. */
const exempt = [/\/weather$/, /\/sheet$/, /\/reports\/:id$/, /\/history/, /\/rows$/]

/** Not within its budget yet: what it may have for now. A page that is leaves this list. */
const notYet: Readonly<Record<string, Budget>> = {
  '/g/quern-hill/compare?season=all': [500, 2, 5.5],
}

let browser: Browser
let service: Service
beforeAll(async () => {
  service = await startService({ EVENGROUND_DEMO_DAY: '2026-11-28' })
  browser = await launch()
})
afterAll(async () => {
  await browser.close()
  await service.stop()
})

const shapeOf = (path: string) => path.replace(/[0-9a-f]{8}-[0-9a-f-]{27}/g, ':id').replace(/\d{4}-W\d\d/g, ':week')

/** One page of each shape that a guest of the example meets, and the parts of Compare over all seasons. */
async function pagesOf(page: Page): Promise<Map<string, string>> {
  const met = new Map<string, string>([['/', '/']])
  const waiting = ['/g/quern-hill']
  for (let path = waiting.shift(); path !== undefined; path = waiting.shift()) {
    const shape = shapeOf(path)
    if (met.has(shape) || exempt.some((one) => one.test(shape))) continue
    const answer = await page.goto(`${service.base}${path}`)
    if (answer?.headers()['content-type']?.includes('text/html') !== true) continue
    met.set(shape, path)
    const links = await page.$$eval('a[href]', (all) => all.map((one) => (one as unknown as { href: string }).href))
    waiting.push(...links.map((one) => new URL(one).pathname).filter((one) => /^\/g\/quern-hill\b[^.]*$/.test(one)))
  }
  for (const shape of [...met.keys()].filter((one) => /\/compare(\/\w+)?$/.test(one)))
    met.set(`${shape}?season=all`, `${met.get(shape)}?season=all`)
  return met
}

async function measured(page: Page, path: string): Promise<Budget> {
  const found: number[][] = []
  for (const [width, height] of [
    [1280, 900],
    [390, 844],
  ] as const) {
    await page.setViewportSize({ width, height })
    await page.goto(`${service.base}${path}`)
    found.push(
      (await page.evaluate(`(() => {
        for (const fold of document.querySelectorAll('details[open]')) fold.open = false
        const words = document.body.innerText.trim().split(/\\s+/).length
        return [words, document.documentElement.scrollHeight / ${height}, document.documentElement.scrollWidth - innerWidth]
      })()`)) as number[],
    )
  }
  const [desk = [], phone = []] = found
  expect([path, desk[2], phone[2]]).toEqual([path, 0, 0])
  return [Math.max(desk[0] ?? 0, phone[0] ?? 0), desk[1] ?? 0, phone[1] ?? 0]
}

const within = (own: Budget, budget: Budget) => own.every((value, i) => value <= (budget[i] ?? 0))

it('pages of the example keep to their words and screens', async () => {
  const page = await (await browser.newContext()).newPage()
  await page.goto(service.base)
  await page.locator('form[action="/demo"] button').click()
  await page.waitForURL(/\/g\/quern-hill/, { timeout: 240_000 })
  const pages = await pagesOf(page)
  expect(pages.size).toBeGreaterThan(35)
  const [over, put]: string[][] = [[], []]
  for (const [shape, path] of pages) {
    const own = await measured(page, path)
    const budget = budgets[shape.replace(/\?.*/, '')] ?? anyOther
    const said = `${shape}: ${own[0]} words, ${own[1].toFixed(2)} and ${own[2].toFixed(2)} screens`
    process.stdout.write(`${said}${within(own, budget) ? '' : ' (over)'}\n`)
    if (!within(own, notYet[shape] ?? budget)) over?.push(said)
    if (shape in notYet && within(own, budget)) put?.push(said)
  }
  expect(over).toEqual([])
  expect(put).toEqual([])
}, 600_000)
