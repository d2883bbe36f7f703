import { mkdirSync } from 'node:fs'
import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { addDays, dayIn } from '../../src/quantities/dates.ts'
import { plain } from '../support/page-checks.ts'
import { press, tabTo, typeIn } from './keyboard.ts'
import { checkAccess, fillIn, launch, type Service, startService } from './service.ts'

let browser: Browser
beforeAll(async () => {
  browser = await launch()
})
afterAll(() => browser.close())

const today = dayIn('Pacific/Auckland', new Date())
/** Set to a folder, the pages of the first hour are kept there as pictures. */
const pictures = process.env.PICTURES

/** From an empty group to the first week, on a phone's screen, by the path on Home, with keys alone. */
describe.each([
  { scripts: true, name: 'with scripts' },
  { scripts: false, name: 'with scripts off' },
])('the first hour by keyboard, $name', ({ scripts }) => {
  let service: Service
  let page: Page
  beforeAll(async () => {
    service = await startService()
    const context = await browser.newContext({
      ...{ javaScriptEnabled: scripts, viewport: { width: 390, height: 844 }, locale: 'en-US' },
    })
    page = await context.newPage()
    if (pictures) mkdirSync(pictures, { recursive: true })
  })
  afterAll(() => service.stop())

  let taken = 0
  const look = async () => {
    if (scripts) await checkAccess(page)
    if (pictures && scripts)
      await page.screenshot({ path: `${pictures}/${String(++taken).padStart(2, '0')}.png`, fullPage: true })
  }
  const home = async () => {
    await press(page, '.head-name a')
    await look()
  }
  /** The link that Home offers next. */
  const next = async () => {
    await home()
    const words = (await page.locator('main p strong a').textContent()) ?? ''
    await press(page, 'main p strong a')
    return words
  }

  it('leads from nothing to the first entries, and says what is missing until nothing is', async () => {
    await page.goto(service.base)
    await press(page, 'a[href="/sign-up"]')
    await typeIn(page, '/sign-up', { name: 'Ada Rook', email: 'ada@example.org', password: 'long enough to keep' })
    await press(page, 'a[href="/groups/new"]')
    await look()
    await typeIn(page, '/groups', {
      name: 'Quern Hill Growers',
      currency: 'NZD',
      timeZone: 'Pacific/Auckland',
      locale: 'en-NZ',
    })
    const group = new URL(page.url()).pathname

    expect(await next()).toContain('a site')
    await look()
    await typeIn(page, '/gardens/sites', { name: 'Quern Hill', soil: 'silt loam' })
    expect(await next()).toContain('Two methods')
    await typeIn(page, '/gardens/methods', { name: 'Dug every spring', workingRules: 'One spit deep, each spring.' })
    await typeIn(page, '/gardens/methods', {
      name: 'Compost mulch',
      workingRules: 'Two centimetres a year, never dug.',
    })
    expect(await next()).toContain('Two gardens')
    for (const [name, area] of [
      ['Lower Terrace', '30'],
      ['Long Bank', '5 x 8'],
    ] as const) {
      await typeIn(page, '/gardens/gardens', { siteId: 'Quern Hill', name, grossAreaCm2: area })
    }
    expect(await next()).toContain('Beds')
    for (const garden of ['Lower Terrace', 'Long Bank']) {
      await typeIn(page, '/gardens/beds', { gardenId: garden, count: '2', areaCm2: '1,2 x 8', name: 'Bed' })
    }
    await look()
    expect(await next()).toContain('A season')
    await typeIn(page, '/seasons', { name: 'This year', startsOn: addDays(today, -60), endsOn: addDays(today, 200) })
    await look()
    expect(await next()).toContain('Which method')
    await look()
    expect(plain(await page.content())).toContain('What each choice would allow')
    const hand = await page
      .locator('select[name^="to-"]')
      .evaluateAll((nodes) => nodes.map((node) => node.getAttribute('name')))
    const [first = '', second = ''] = hand.map((name) => name ?? '')
    await typeIn(page, '/layout', {
      way: 'As it is or by choice, garden by garden',
      [first]: 'Dug every spring',
      [second]: 'Compost mulch',
    })
    expect(plain(await page.content())).toContain('One garden a method.')
    await look()
    await press(page, 'section form button')
    expect(await next()).toContain('A first planting')
    const beds = await page
      .locator('select[name^="beds["]')
      .evaluateAll((nodes) => nodes.map((node) => node.getAttribute('name')))
    await typeIn(page, '/plantings', {
      ...{ cropId: 'carrot', cultivar: 'Kestrel', areaCm2: '4', sownOn: addDays(today, -30) },
      ...Object.fromEntries(beds.map((name) => [name ?? '', 'Bed 1'])),
    })
    await look()
    expect(await next()).toContain('The question of the season')
    await typeIn(page, '/question', {
      ...{ question: 'Does the mulch give another weight?', referenceMethodId: 'Dug every spring' },
      ...{ seasonsToLookAt: '3', sentenceIfSeen: 'It did.', sentenceIfNotSeen: 'We could not tell.' },
    })
    await look()
    expect(await next()).toContain('Someone else')
    await typeIn(page, '/people/invitations', { role: 'recorder' })
    await look()
    const invitation = /\/invitations\/[\w-]+/.exec(await page.content())?.[0] ?? ''
    const other = await (await browser.newContext({ javaScriptEnabled: scripts })).newPage()
    await other.goto(`${service.base}/sign-up`)
    await fillIn(other, '/sign-up', { name: 'Ben Marsh', email: 'ben@example.org', password: 'long enough to keep' })
    await other.goto(`${service.base}${invitation}`)
    await fillIn(other, invitation, {})

    await home()
    expect(plain(await page.content())).toContain('Everything that a comparison needs is in place')
    await press(page, `main a[href="${group}/weeks"]`)
    await look()
    await typeIn(page, '/hours', { place: 'Lower Terrace', task: 'weeding', time: '2 x 0:45' })
    expect(plain(await page.content())).toContain('1.50 h')
    await tabTo(page, 'form[action$="/removals"] button')
    await look()
  })
})
