import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { parts } from '../support/compare.ts'
import { rowOf, rowsOf } from '../support/page-checks.ts'
import { checkAccess, fillIn, launch, type Service, startService } from './service.ts'

let browser: Browser
beforeAll(async () => {
  browser = await launch()
})
afterAll(() => browser.close())

/** The main job on a phone's screen, from an empty data folder to a link that opens without cookies. */
describe.each([
  { scripts: true, name: 'with scripts' },
  { scripts: false, name: 'with scripts off' },
])('the main job, $name', ({ scripts }) => {
  let service: Service
  let page: Page
  beforeAll(async () => {
    service = await startService()
    const context = await browser.newContext({ javaScriptEnabled: scripts, viewport: { width: 390, height: 844 } })
    page = await context.newPage()
  })
  afterAll(() => service.stop())

  const look = () => (scripts ? checkAccess(page) : Promise.resolve())
  const open = async (path: string) => {
    await page.goto(path.startsWith('http') ? path : `${service.base}${path}`)
    await look()
  }

  it('goes from an account to a shared link, and its figures are those worked by hand', async () => {
    await open('/')
    await open('/sign-up')
    await fillIn(page, '/sign-up', { name: 'Ada Rook', email: 'ada@example.org', password: 'long enough to keep' })
    await fillIn(page, '/groups', { name: 'Quern Hill Growers', country: 'New Zealand' })
    const group = new URL(page.url()).pathname.replace(/\/setting-up.*$/, '')
    await open(`${group}/gardens`)
    await fillIn(page, '/gardens/sites', { name: 'Quern Hill' })
    await fillIn(page, '/gardens/methods', { name: 'Dug every spring', workingRules: 'One spit deep, each spring.' })
    await fillIn(page, '/gardens/methods', { name: 'Compost mulch' })
    for (const [name, gross, bed] of [
      ['Lower Terrace', '30', '10'],
      ['Long Bank', '5 x 8', '15'],
    ] as const) {
      await fillIn(page, '/gardens/gardens', { siteId: 'Quern Hill', name, grossAreaCm2: gross })
      await fillIn(page, '/gardens/beds', { gardenId: name, count: '2', areaCm2: bed, name: 'Bed' })
    }
    await look()
    await open(`${group}/seasons`)
    // Three whole weeks, 2026-W02 to W04, so that every week of the season can be closed.
    await fillIn(page, '/seasons', { name: 'Summer', startsOn: '2026-01-05', endsOn: '2026-01-25' })
    const season = new URL(page.url()).pathname
    for (const [garden, method] of [
      ['Lower Terrace', 'Dug every spring'],
      ['Long Bank', 'Compost mulch'],
    ] as const) {
      await fillIn(page, '/assignments', { place: garden, methodId: method, yearOfMethod: '3' })
    }
    const beds = await page.locator('select[name^="beds["]').all()
    const names = await Promise.all(beds.map((bed) => bed.getAttribute('name')))
    await fillIn(page, '/plantings', {
      ...{ cropId: 'carrot', cultivar: 'Kestrel', areaCm2: '4', sownOn: '2026-01-05' },
      ...Object.fromEntries(names.map((name) => [name ?? '', 'Bed 1'])),
    })
    await look()

    await open(`${group}/inputs`)
    await fillIn(page, '/inputs/deliveries', {
      ...{ name: 'Green waste compost', quantityThousandths: '3', unit: 'm3', deliveredOn: '2026-01-06' },
      ...{ priceMinor: '60', usefulLifeSeasons: '1' },
    })
    const load = page.locator('select[name="deliveryId"] option').filter({ hasText: 'Green waste compost' }).first()
    const wholeBank = page.locator('select[name="place"] option').filter({ hasText: 'Long Bank' }).first()
    await fillIn(page, '/inputs/spreadings', {
      deliveryId: `=${await load.getAttribute('value')}`,
      ...{ place: `=${await wholeBank.getAttribute('value')}`, quantityThousandths: '3' },
      ...{ appliedOn: '2026-01-06', seasonId: 'Summer' },
    })
    await look()

    const weeks = [
      { week: '2026-W02', day: '2026-01-05', lower: '6', bank: '9,5 kg', weeding: '2' },
      { week: '2026-W03', day: '2026-01-12', lower: '4000 g', bank: '7', weeding: '1:30' },
      { week: '2026-W04', day: '2026-01-19', lower: '2', bank: '4.5', weeding: '90 min' },
    ]
    for (const { week, day, lower, bank, weeding } of weeks) {
      await open(`${group}/weeks/${week}/ledger`)
      for (const [garden, kg] of [
        ['Lower Terrace', lower],
        ['Long Bank', bank],
      ] as const) {
        const select = page.locator('form[action$="/harvests"] select[name="plantingId"]').first()
        const value = await select.locator('option').filter({ hasText: garden }).getAttribute('value')
        await fillIn(page, '/harvests', { plantingId: `=${value}`, harvestedOn: `=${day}`, marketable: kg })
      }
      await fillIn(page, '/hours', { place: 'Lower Terrace', task: 'weeding', time: weeding })
      await fillIn(page, '/hours', { place: 'Long Bank', task: 'weeding', time: '1' })
      if (week === '2026-W04') {
        await fillIn(page, '/hours', { place: 'Lower Terrace', task: 'harvest', time: '2 x 0:30' })
        await fillIn(page, '/hours', { place: 'Long Bank', task: 'harvest', time: '1:12' })
        const select = page.locator('form[action$="/losses"] select[name="plantingId"]')
        const value = await select.locator('option').filter({ hasText: 'Lower Terrace' }).getAttribute('value')
        await fillIn(page, '/losses', {
          plantingId: `=${value}`,
          lostOn: `=${day}`,
          percent: '50',
          cause: 'pest',
          outside: 'no',
          alsoNextDoor: 'no',
        })
      }
      for (let left = await page.locator('form[action$="/closings"]').count(); left > 0; left--) {
        await fillIn(page, '/closings', {})
      }
      expect(await page.locator('form[action$="/closings"]').filter({ hasText: 'Close' }).count()).toBe(0)
    }
    await look()
    await open(season)
    for (const garden of ['Lower Terrace', 'Long Bank']) {
      const select = page.locator('form[action$="/clearings"] select[name="plantingId"]')
      const value = await select.locator('option').filter({ hasText: garden }).getAttribute('value')
      await fillIn(page, '/clearings', { plantingId: `=${value}`, clearedOn: '2026-01-25' })
    }

    let compared = ''
    for (const part of ['', ...parts]) {
      await open(`${group}/compare/${part}`.replace(/\/$/, ''))
      compared += await page.content()
    }
    const rows = (start: string) => rowOf(compared, start)
    expect(compared).toContain('one garden a method, so ground and method come together')
    // 12 kg on 20 m2 and 21 kg on 30 m2 of bed; gross 30 and 40 m2.
    expect(rows('Marketable, kg per m² of bed')).toMatchObject(
      ['', /^0\.60 on 20\.0 m²/, /^0\.70 on 30\.0 m²/].map((cell) =>
        cell === '' ? 'Marketable, kg per m² of bed' : expect.stringMatching(cell),
      ),
    )
    const starts = (row: string) =>
      rows(row)
        .slice(1)
        .map((cell) => cell.split(' on ')[0]?.split(' ')[0])
    expect(starts('Marketable, kg per m² gross')).toEqual(['0.40', '0.53'])
    // 5 h of weeding on 20 m2, 3 h on 30 m2; with harvest 6 h for 12 kg, 4.2 h for 21 kg.
    expect(starts('Hours per m² of bed, without harvest work')).toEqual(['0.25', '0.10'])
    expect(starts('Hours per marketable kg, with harvest work')).toEqual(['0.50', '0.20'])
    // 60 dollars of compost, all on Long Bank: over 21 kg and over 30 m2.
    expect(starts('Inputs, NZD per marketable kg')).toEqual(['$0.00', '$2.86'])
    expect(starts('Inputs, NZD per m² of bed')).toEqual(['$0.00', '$2.00'])
    // Half of 4 m2 lost.
    expect(starts('Planted area lost')).toEqual(['50', '0'])
    expect(rows('Weeks with hours closed').slice(1)).toEqual(['3 of 3', '3 of 3'])
    // Matched crop: 12 kg and 21 kg on 4 m2 each.
    expect(rowsOf(compared, 'carrot, Kestrel')).toContainEqual(['carrot, Kestrel', '3.00', '5.25'])

    await open(`${group}/reports`)
    await fillIn(page, '/reports', { title: 'Three weeks of summer', words: 'A dry fortnight.', season: 'Summer' })
    await look()
    await fillIn(page, '/links', { endsOn: '' })
    const link = ((await page.locator('.notice code').textContent()) ?? '').trim()
    const guest = await (await browser.newContext({ javaScriptEnabled: scripts })).newPage()
    await guest.goto(link)
    if (scripts) await checkAccess(guest)
    const shared = await guest.content()
    expect(rowsOf(shared, 'carrot, Kestrel')).toContainEqual(['carrot, Kestrel', '3.00', '5.25'])
    expect(shared).not.toContain('Ada Rook')
    expect(await guest.context().cookies()).toEqual([])
    for (const path of ['/people', '/settings', '/crops', '']) await open(`${group}${path}`)
    await open(`${season}/close`)
    await open(`${group}/gardens`)
    const garden = await page.locator('table a').first().getAttribute('href')
    await open(garden ?? '')
    await open((await page.locator('a[href*="/correct/"]').first().getAttribute('href')) ?? '')
    await open(`${group}/weeks/2026-W03/ledger`)
    await open((await page.locator('a[href*="/correct/harvests/"]').first().getAttribute('href')) ?? '')
    await open('/figures')
  })
})
