import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { addDays, dayIn } from '../../src/quantities/dates.ts'
import { weekOf } from '../../src/quantities/iso-week.ts'
import { plain } from '../support/page-checks.ts'
import { typeIn } from './keyboard.ts'
import { fillIn, launch, type Service, startService } from './service.ts'

const today = dayIn('Pacific/Auckland', new Date())
const gardens = ['Lower Terrace', 'Orchard Edge', 'Long Bank', 'Hay Meadow', 'Clover Strip']
const crops = ['carrot', 'potato', 'onion', 'leek', 'beetroot']
/** What was weighed: crops down, gardens across. */
const weightOf = (crop: number, garden: number) => `${1 + crop}.${garden + 1}5`
/** Twelve lines of hours: two tasks in five gardens, a third in two. */
const hours = [
  ['weeding', ['1:30', '0:45', '1:10', '0:50', '2:15']],
  ['harvest', ['0:40', '0:35', '0:30', '0:45', '0:55']],
  ['watering', ['0:20', '0:25']],
] as const
/** Of potato in the first garden, of leek in the second, of beetroot in the last. */
const losses = [
  { crop: 1, garden: 0, percent: '30', cause: 'pest' },
  { crop: 3, garden: 1, percent: '15', cause: 'weather' },
  { crop: 4, garden: 4, percent: '50', cause: 'animals' },
]
const delivery = { quantity: '3', price: '120' }
const spreading = { quantity: '2' }

let browser: Browser
beforeAll(async () => {
  browser = await launch()
})
afterAll(() => browser.close())

describe.each([
  { at: 'the desk by keyboard alone', phone: false },
  { at: 'a phone by taps', phone: true },
])('a whole week, at $at', ({ phone }) => {
  let service: Service
  let page: Page
  let group = ''
  beforeAll(async () => {
    service = await startService()
    const size = phone ? { width: 390, height: 844 } : { width: 1280, height: 900 }
    const context = await browser.newContext({ viewport: size, hasTouch: phone, locale: 'en-US' })
    page = await context.newPage()
    await page.goto(`${service.base}/sign-up`)
    await typeIn(page, '/sign-up', { name: 'Ada Rook', email: 'ada@example.org', password: 'long enough to keep' })
    await typeIn(page, '/groups', { name: 'Quern Hill Growers', country: 'New Zealand' })
    group = new URL(page.url()).pathname.split('/')[2] ?? ''
    await moreLines('gardens')
    const ground = gardens.flatMap((name, i) => [
      ...[
        [`rows[${i}][name]`, name],
        [`rows[${i}][method]`, `Method ${i + 1}`],
      ],
      ...[
        [`rows[${i}][grossAreaCm2]`, '70'],
        [`rows[${i}][beds]`, '6 of 8 m2'],
      ],
    ])
    await typeIn(page, '/setting-up/gardens', { ...Object.fromEntries(ground), ground: 'one' })
    await moreLines('season')
    const sown = crops.flatMap((name, i) => [
      ...[
        [`rows[${i}][crop]`, name],
        [`rows[${i}][cultivar]`, 'Kestrel'],
      ],
      [`rows[${i}][sownOn]`, addDays(today, -90)],
    ])
    await typeIn(page, '/setting-up/season', {
      ...{ startsOn: addDays(today, -120), endsOn: addDays(today, 180), ...Object.fromEntries(sown) },
    })
    await page.goto(`${service.base}/g/${group}/inputs`)
    await fillIn(page, '/inputs/deliveries', {
      ...{ name: 'Compost', kind: 'compost', unit: 'm3', quantityThousandths: '1' },
      ...{ ownMade: 'bought', usefulLifeSeasons: '1', deliveredOn: addDays(today, -30) },
    })
    page.on('load', () => count.loads++)
  })
  afterAll(() => service.stop())

  async function moreLines(step: string) {
    if ((await page.locator('[name="rows[4][name]"], [name="rows[4][crop]"]').count()) > 0) return
    const more = page.locator(`form[action$="/setting-up/${step}"] [name="more"]`)
    await Promise.all([page.waitForEvent('load'), more.click()])
  }

  const count = { loads: 0, taps: 0, keys: 0, characters: 0, cells: 0 }
  const address = () => `${service.base}/g/${group}/weeks/${weekOf(today)}`

  it('is entered, closed and saved as it was said', async () => {
    await page.goto(address())
    expect(await page.locator('form#week [data-weight]').count()).toBe(25)
    await (phone ? byTaps() : byKeys())
    await page.waitForSelector('.notice')
    process.stdout.write(`${phone ? 'A phone' : 'The desk'}: ${said()}\n`)
    await asItWasSaid()
    expect(count.loads).toBeLessThanOrEqual(3)
    if (phone) expect(count.taps).toBeLessThan(120)
    else expect(count.keys).toBeLessThanOrEqual(1.3 * (count.characters + count.cells))
  })

  const said = () => {
    const { loads, taps, keys, characters, cells } = count
    const each = (keys / characters).toFixed(2)
    return `${loads} loads, ${taps} taps, ${keys} key strokes for ${characters} characters in ${cells} cells (${each})`
  }

  async function asItWasSaid() {
    const text = plain(await page.locator('.notice').innerHTML())
    for (const [i, garden] of gardens.entries()) {
      const grams = crops.reduce((sum, _, crop) => sum + Number(weightOf(crop, i)), 0)
      expect(text).toContain(`${garden} 5 weights, ${grams.toFixed(3)}`)
    }
    expect(text).toContain('10 closings')
    expect(text).toContain('2 loads')
    expect(text.match(/one loss/g)).toHaveLength(3)
    const shown = await page.locator('form#week .week-saved a').allTextContents()
    expect(shown.filter((one) => one.includes(':'))).toHaveLength(12)
    expect(shown.filter((one) => one.startsWith('-'))).toHaveLength(3)
    expect(await page.locator('form#week [data-weight], form#week [data-time]').count()).toBe(0)
  }

  // By keys: what is typed are the figures and their words; everything else only goes from one to the next.
  const key = async (name: string, times = 1) => {
    for (let i = 0; i < times; i++) await page.keyboard.press(name)
    count.keys += times
  }
  const figure = async (text: string) => {
    await page.keyboard.type(text)
    count.keys += text.length
    count.characters += text.length
    count.cells++
  }
  const tabTo = async (selector: string) => {
    for (let i = 0; i < 60; i++) {
      if (await page.evaluate(`document.activeElement.matches(${JSON.stringify(selector)})`)) return
      await key('Tab')
    }
    expect.fail(`The tabulator never came to ${selector}`)
  }

  async function byKeys() {
    await tabTo('a[href^="#c-w-"]')
    await key('Enter')
    await page.waitForSelector('[data-weight]:focus')
    for (const [garden] of gardens.entries()) {
      for (const [crop] of crops.entries()) {
        const lost = losses.find((one) => one.crop === crop && one.garden === garden)
        await figure(weightOf(crop, garden) + (lost ? `;-${lost.percent}%${lost.cause}` : ''))
        await key('Enter')
      }
    }
    await tabTo('[name$="[weeding][time]"]')
    for (const [garden] of gardens.entries()) {
      // In the order of the rows.
      for (const task of ['weeding', 'watering', 'harvest']) {
        const time = hours.find(([name]) => name === task)?.[1][garden]
        if (time) await figure(time)
        await key('Enter')
      }
    }
    await tabTo('#load > summary')
    await key('Enter')
    await tabTo('[name="came[input]"]')
    await figure('C')
    await key('Tab')
    await figure(delivery.quantity)
    await key('Tab')
    await figure(delivery.price)
    await tabTo('[name="spread[load]"]')
    await figure('w')
    await key('Tab')
    await figure('L')
    await tabTo('[name="spread[quantity]"]')
    await figure(spreading.quantity)
    await tabTo('[name="closeWeights[]"][value="all"]')
    await key('Space')
    await tabTo('[name="closeHours[]"][value="all"]')
    await key('Space')
    await key('Control+Enter')
  }

  // By taps: a field, a link, a box is one; a choice from a list is two.
  const tap = async (selector: string) => {
    await page.locator(selector).first().tap()
    count.taps++
  }
  const digits = async (selector: string, text: string) => {
    await tap(selector)
    await page.keyboard.type(text)
    count.characters += text.length
    count.keys += text.length
    count.cells++
  }
  const choose = async (selector: string, label: string | RegExp) => {
    const field = page.locator(selector).first()
    const options = await field.locator('option').allTextContents()
    const wanted = options.findIndex((one) => (typeof label === 'string' ? one.trim() === label : label.test(one)))
    await field.selectOption({ index: wanted })
    count.taps += 2
  }

  async function byTaps() {
    for (const [garden, name] of gardens.entries()) {
      if (garden > 0) await tap(`.week-gardens a >> text=${name}`)
      const cell = (crop: number) => `.week-table tbody tr:nth-child(${crop + 1}) td.here`
      for (const [crop] of crops.entries()) {
        await digits(`${cell(crop)} [data-weight]`, weightOf(crop, garden))
        const lost = losses.find((one) => one.crop === crop && one.garden === garden)
        if (!lost) continue
        await tap(`${cell(crop)} .week-more > summary`)
        await digits(`${cell(crop)} [name$="[part]"]`, lost.percent)
        await choose(`${cell(crop)} [name$="[lost]"]`, lost.cause)
      }
      for (const [task, times] of hours) {
        const [h = '', m = ''] = (times[garden] ?? '').split(':')
        if (h === '') continue
        const at = `td.here:has([name$="[${task}][h]"])`
        if (h !== '0') await digits(`${at} [data-hours]`, h)
        await digits(`${at} [data-minutes]`, m)
      }
    }
    await tap('#load > summary')
    await choose('[name="came[input]"]', /^Compost/)
    await digits('[name="came[quantity]"]', delivery.quantity)
    await digits('[name="came[price]"]', delivery.price)
    await choose('[name="spread[load]"]', 'what came above')
    await choose('[name="spread[place]"]', 'Lower Terrace')
    await digits('[name="spread[quantity]"]', spreading.quantity)
    await tap('[name="closeWeights[]"][value="all"]')
    await tap('[name="closeHours[]"][value="all"]')
    await tap('.week-save [value="save"]')
  }
})
