import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { fillIn, launch, type Service, startService } from './service.ts'

/** Words that are seen with every fold shut; screens of 1280 x 900 and of 390 x 844. */
type Budget = readonly [words: number, desk: number, phone: number]

interface Measured {
  readonly own: Budget
  /** Words with all folds open: without those of tables, and of the fields that a cell opens into. */
  readonly open: number
  /** Folds of the page itself, none within another. */
  readonly folds: number
  /** Of the smallest text, in pixels. */
  readonly smallest: number
}

const endless = Number.POSITIVE_INFINITY

const budgets: Readonly<Record<string, Budget>> = {
  '/': [300, 1.5, 4.5],
  '/g/quern-hill': [250, 1.5, 3.5],
  '/g/quern-hill/compare': [450, 2, 5.5],
  '/g/quern-hill/weeks/:week': [350, 2, 3],
  // A ledger is as long as its rows: all of a week on one page, with a way to find one.
  '/g/quern-hill/weeks/:week/ledger': [endless, endless, endless],
}
const anyOther: Budget = [500, 2.5, 5]
const [mostOpened, mostFolds, leastText] = [2.5, 6, 16]

/** Long ledgers, what is meant for paper, and whole reports, whose first sheet is held to one of paper. */
const exempt = [/\/weather$/, /\/sheet(\/typed)?$/, /\/labels$/, /\/reports\/:id$/, /\/history$/, /\/rows$/]

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

async function newPage(): Promise<Page> {
  const page = await (await browser.newContext()).newPage()
  page.setDefaultTimeout(240_000)
  return page
}

/** Pages of one kind have one shape, in whichever group they stand. */
const shapeOf = (path: string) =>
  path
    .replace(/^\/g\/quern-hill[\w-]*/, '/g/quern-hill')
    .replace(/[0-9a-f]{8}-[0-9a-f-]{27}/g, ':id')
    .replace(/\d{4}-W\d\d/g, ':week')

const desk = { width: 1280, height: 900 }
const phone = { width: 390, height: 844 }

/**
 * One page of each shape that whoever looks meets in a group, and the parts of Compare over all seasons; each is open, as
 * at a desk, while it is the turn of it.
 */
async function* pagesOf(page: Page, group: string): AsyncGenerator<readonly [shape: string, path: string]> {
  const met = new Map<string, string>()
  const waiting = ['/', group]
  for (let path = waiting.shift(); path !== undefined; path = waiting.shift()) {
    const shape = shapeOf(path)
    if (met.has(shape) || exempt.some((one) => one.test(shape))) continue
    await page.setViewportSize(desk)
    const answer = await page.goto(`${service.base}${path}`)
    if (answer?.headers()['content-type']?.includes('text/html') !== true) continue
    met.set(shape, path)
    const links = await page.$$eval('a[href]', (all) => all.map((one) => (one as unknown as { href: string }).href))
    const within = links.map((one) => new URL(one).pathname)
    if (path !== '/')
      waiting.push(...within.filter((one) => (one === group || one.startsWith(`${group}/`)) && !one.includes('.')))
    yield [shape, path]
  }
  for (const [shape, path] of [...met].filter(([one]) => /\/compare(\/\w+)?$/.test(one))) {
    await page.setViewportSize(desk)
    await page.goto(`${service.base}${path}?season=all`)
    yield [`${shape}?season=all`, `${path}?season=all`]
  }
}

/** In the browser: of a select only what is chosen is seen. */
const looked = `(() => {
  const wordsIn = (text) => text.trim().split(/\\s+/).filter((one) => one !== '').length
  const isSeen = (one) => one.checkVisibility({ visibilityProperty: true }) && !one.closest('details:not([open])')
  const rest = (all) => [...all].filter(isSeen).reduce((sum, one) => sum + wordsIn(one.innerText), 0)
  const unchosen = () => [...document.querySelectorAll('option:not(:checked)')]
    .filter((one) => isSeen(one.closest('select') ?? one.parentElement))
    .reduce((sum, one) => sum + wordsIn(one.textContent), 0)
  const folds = [...document.querySelectorAll('details')]
  for (const fold of folds) fold.open = false
  const { scrollHeight, scrollWidth } = document.documentElement
  const shut = wordsIn(document.body.innerText) - unchosen()
  const ofPage = folds.filter((one) => !one.closest('header') && !one.parentElement.closest('details, td, th'))
  for (const fold of folds) fold.open = !fold.closest('td, th')
  const tables = [...document.querySelectorAll('details table')].filter((one) => !one.parentElement.closest('table'))
  const inTables = [...document.querySelectorAll('details table option:not(:checked)')]
    .filter((one) => isSeen(one.closest('select')))
    .reduce((sum, one) => sum + wordsIn(one.textContent), 0)
  const open = wordsIn(document.body.innerText) - unchosen() - rest(tables) + inTables
  const texts = [...document.querySelectorAll('header *, main *')].filter((one) =>
    !one.closest('svg, sup, sub') && isSeen(one) && [...one.childNodes].some((node) => node.nodeType === 3 && node.data.trim() !== ''))
  const smallest = Math.min(...texts.map((one) => parseFloat(getComputedStyle(one).fontSize)))
  return { shut, open, folds: ofPage.length, smallest, high: scrollHeight, sideways: scrollWidth - innerWidth }
})()`

interface Looked {
  readonly shut: number
  readonly open: number
  readonly folds: number
  readonly smallest: number
  readonly high: number
  readonly sideways: number
}

/** Of a page that is open as at a desk, and is opened anew as on a phone. */
async function measured(page: Page, path: string): Promise<Measured> {
  const atDesk = (await page.evaluate(looked)) as Looked
  await page.setViewportSize(phone)
  await page.goto(`${service.base}${path}`)
  const onPhone = (await page.evaluate(looked)) as Looked
  expect([path, atDesk.sideways, onPhone.sideways]).toEqual([path, 0, 0])
  return {
    own: [Math.max(atDesk.shut, onPhone.shut), atDesk.high / desk.height, onPhone.high / phone.height],
    open: Math.max(atDesk.open, onPhone.open),
    folds: Math.max(atDesk.folds, onPhone.folds),
    smallest: Math.min(atDesk.smallest, onPhone.smallest),
  }
}

const within = ({ own, open, folds, smallest }: Measured, most: Measured) =>
  own.every((value, i) => value <= (most.own[i] ?? 0)) &&
  open <= most.open &&
  folds <= most.folds &&
  smallest >= most.smallest

async function holds(page: Page, group: string, who: string): Promise<void> {
  const over: string[] = []
  let pages = 0
  for await (const [shape, path] of pagesOf(page, group)) {
    pages += 1
    const seen = await measured(page, path)
    const own = budgets[shape.replace(/\?.*/, '')] ?? anyOther
    const budget = { own, open: mostOpened * own[0], folds: mostFolds, smallest: leastText }
    const screens = `${seen.own[1].toFixed(2)} and ${seen.own[2].toFixed(2)} screens`
    const said = `${who} ${shape}: ${seen.own[0]} words, ${screens}, ${seen.open} opened, ${seen.folds} folds, ${seen.smallest} px`
    process.stdout.write(`${said}${within(seen, budget) ? '' : ' (over)'}\n`)
    if (!within(seen, budget)) over.push(said)
  }
  expect(pages).toBeGreaterThan(35)
  expect(over).toEqual([])
}

it('pages of the example keep to their words, screens and folds for a guest', async () => {
  const page = await newPage()
  await page.goto(service.base)
  await page.locator('form[action="/demo"] button').click()
  await page.waitForURL(/\/g\/quern-hill/)
  await holds(page, '/g/quern-hill', 'guest')
}, 1_800_000)

it('and for the keeper of a full copy', async () => {
  const page = await newPage()
  await page.goto(`${service.base}/sign-up`)
  await fillIn(page, '/sign-up', { name: 'Ada Rook', email: 'ada@example.org', password: 'long enough to keep' })
  await fillIn(page, '/demo/copy', {})
  await holds(page, new URL(page.url()).pathname, 'keeper')
}, 1_800_000)
