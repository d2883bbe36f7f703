import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { addDays, dayIn } from '../../src/quantities/dates.ts'
import { plain } from '../support/page-checks.ts'
import { fillIn, launch, type Service, startService } from './service.ts'
import { twoGardens } from './setting-up.ts'

/**
 * The ten tasks that a year of a trial brings oftenest, each from the page that a grower has before them, Home, until the record
 * holds it: how many pages are loaded on the way. Which they are is common practice, from the scenario of this project.
 */
const today = dayIn('Pacific/Auckland', new Date())
const gardens = ['Lower Terrace', 'Long Bank']

let browser: Browser
let service: Service
let page: Page
let home = ''
let loads = 0
const counted: string[] = []

beforeAll(async () => {
  service = await startService()
  browser = await launch()
  page = await (await browser.newContext({ viewport: { width: 1280, height: 900 }, locale: 'en-US' })).newPage()
  const who = { email: 'ada@example.org', password: 'long enough to keep' }
  home = `/g/${await twoGardens(page, { base: service.base, who, crops: ['carrot', 'potato', 'garlic', 'leek'] })}`
  await page.goto(`${service.base}${home}/inputs`)
  await fillIn(page, '/inputs/deliveries', {
    ...{ name: 'Compost', kind: 'compost', unit: 'm3', quantityThousandths: '3', priceMinor: '120' },
    ...{ ownMade: 'bought', usefulLifeSeasons: '1', deliveredOn: addDays(today, -30) },
  })
  page.setDefaultTimeout(8000)
  page.on('load', () => loads++)
})
afterAll(async () => {
  process.stdout.write(`Page loads of the year's ten commonest tasks:\n${counted.join('\n')}\n`)
  await browser.close()
  await service.stop()
})

/** Does a task from Home, and holds the pages that it loads to what was found when this was written. */
function task(name: string, most: number, work: () => Promise<void>) {
  it(name, async () => {
    await page.goto(`${service.base}${home}`)
    loads = 0
    await work()
    counted.push(`${String(loads).padStart(3)} ${name}`)
    expect(loads).toBeGreaterThan(0)
    expect([name, loads <= most, loads]).toEqual([name, true, loads])
  })
}

const loaded = (act: Promise<unknown>) => Promise.all([page.waitForEvent('load'), act])
/** Follows a link by its words, in the head or on the page. */
const follow = (words: string | RegExp, within = 'body') =>
  loaded(
    page
      .locator(within)
      .getByRole('link', { name: words, exact: typeof words === 'string' })
      .first()
      .click(),
  )
const unfold = async (selector: string) => {
  if (!(await page.locator(selector).evaluate((one) => (one as unknown as { open: boolean }).open)))
    await page.locator(`${selector} > summary`).click()
}
const text = async () => plain(await page.locator('main').innerHTML())
const save = async () => {
  await loaded(page.locator('.week-save [value="save"]').click())
  expect(await page.locator('.errors, .wrong').allInnerTexts()).toEqual([])
  return plain(await page.locator('.notice').innerHTML())
}
const thisWeek = () => follow('Week')

task('a week is written and closed in all gardens', 2, async () => {
  await thisWeek()
  const cells = await page.locator('form#week [data-weight]').all()
  for (const cell of cells.slice(0, 4)) await cell.fill('1.2')
  const times = await page.locator('[name$="[weeding][time]"]').all()
  for (const time of times.slice(0, 2)) await time.fill('0:45')
  for (const what of ['closeWeights', 'closeHours']) await page.locator(`[name="${what}[]"][value="all"]`).check()
  expect(await save()).toContain('4 closings')
})

task('hail takes a fifth of all that stands', 2, async () => {
  await thisWeek()
  await unfold('details:has(> summary:text("Several at once"))')
  for (const box of await page.locator('[name="many[plantings][]"]').all()) await box.check()
  await page.locator('[name="many[percent]"]').fill('20')
  await page.locator('[name="many[cause]"]').fill('weather')
  expect(await save()).toContain('Lower Terrace 4 losses; Long Bank 4 losses')
})

task('compost is spread on a garden', 2, async () => {
  await thisWeek()
  await unfold('#load')
  const load = page.locator('[name="spread[load]"] option', { hasText: 'Compost' }).first()
  await page.locator('[name="spread[load]"]').selectOption((await load.getAttribute('value')) ?? '')
  await page.locator('[name="spread[place]"]').selectOption({ label: gardens[0] ?? '' })
  await page.locator('[name="spread[quantity]"]').fill('2')
  expect(await save()).toContain('one load')
})

task('garlic is cleared in both gardens at once', 2, async () => {
  await thisWeek()
  await unfold('details:has(> summary:text("Several at once"))')
  for (const box of await page.locator('label:has-text("garlic") [name="many[plantings][]"]').all()) await box.check()
  await page.locator('[name="many[cleared]"]').check()
  expect(await save()).toContain('2 cleared')
})

task('a cultivar was written wrong: it is corrected with all that hangs on it', 4, async () => {
  await follow('Season')
  await follow(/20\d\d/, 'main')
  await unfold('details:has(> summary:text("Each planting by itself"))')
  await loaded(page.locator('a[href*="/correct/plantings/"]').first().click())
  const at = new URL(page.url()).pathname
  await fillIn(page, at, { cultivar: 'Wren', together: '=together' })
  expect(await text()).toContain('Wren')
})

task('a bed is added on a day', 4, async () => {
  await follow('Ground')
  await follow(gardens[1] ?? '', 'main')
  await follow('The ground and its changes', 'main')
  await fillIn(page, '/ground/added', { name: 'New', areaCm2: '4', fromDay: addDays(today, -3) })
  expect(await text()).toContain('New was added')
})

task('one crop is sown in every garden and compared', 3, async () => {
  await follow('Season')
  await follow(/20\d\d/, 'main')
  const beds = await page.locator('form[action$="/plantings"] select[name^="beds["]').all()
  const names = await Promise.all(beds.map((one) => one.getAttribute('name')))
  await fillIn(page, '/plantings', {
    ...{ cropId: 'spinach', cultivar: 'Tern', areaCm2: '1', how: '=direct', sownOn: addDays(today, -10) },
    ...Object.fromEntries(names.map((name) => [name ?? '', 'Bed 6'])),
  })
  expect((await text()).match(/spinach, Tern/g)?.length).toBeGreaterThanOrEqual(2)
})

task('the next season is begun, laid as the last one, and its plantings carried over', 9, async () => {
  await follow('Season')
  await fillIn(page, '/seasons', { name: 'Next', startsOn: addDays(today, 181), endsOn: addDays(today, 540) })
  if (!/\/seasons\/[0-9a-f-]{36}$/.test(new URL(page.url()).pathname)) await follow('Next', 'main')
  await follow('Layout')
  await follow(/^Look at it as/, 'main')
  await fillIn(page, '/layout', {})
  expect(await text()).toContain('Compost mulch, never dug')
  await follow('Plan')
  await follow(/carr/i, 'main')
  await loaded(page.locator('form[action$="/carried"][method="get"] button').last().click())
  await loaded(page.locator('form[action$="/carried"][method="post"] button').last().click())
  const walked = loads
  await follow('Plantings')
  expect(await text()).toMatch(/carrot, (Wren|Kestrel) all 2/)
  loads = walked
})

task('what one method gave is looked up, down to the rows it rests on', 2, async () => {
  await follow('Compare')
  await loaded(page.locator('main a[href*="/compare/rows"]').first().click())
  expect(await text()).toContain('carrot')
})

task('the season is closed: its weeks, what still stands, and the season itself', 6, async () => {
  await follow('Season')
  await follow(/20\d\d/, 'main')
  await follow('Closing')
  await loaded(page.getByRole('button', { name: /^All that was done and weighed/ }).click())
  for (const fold of await page.locator('details.section:not([open]) > summary').all()) await fold.click()
  for (const day of await page.locator('[name^="days["]').all()) await day.fill(today)
  await loaded(page.getByRole('button', { name: 'Clear those with a day' }).first().click())
  expect(await text()).not.toContain('Plantings that still stand')
  await loaded(page.getByRole('button', { name: 'Close the season' }).click())
  expect(await text()).toContain('This season is closed')
})
