import { rmSync } from 'node:fs'
import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { dayIn } from '../../src/quantities/dates.ts'
import { weekAfter, weekOf } from '../../src/quantities/iso-week.ts'
import { checkAccess, fillIn, launch, type Service, startService } from './service.ts'
import { twoGardens } from './setting-up.ts'
import { newProfile, openPhone, openSignal, type Phone, type Signal } from './signal.ts'

const today = dayIn('Pacific/Auckland', new Date())
const thisWeek = weekOf(today)
const weekBefore = weekAfter(thisWeek, -1)
const crops = ['carrot', 'potato', 'onion', 'leek']
const tasks = ['weeding', 'harvest', 'watering', 'sowing', 'planting', 'feeding']
const ada = { email: 'ada@example.org', password: 'long enough to keep' }

let service: Service
let signal: Signal
let phone: Phone
let page: Page
let group = ''
const profile = newProfile()

beforeAll(async () => {
  service = await startService()
  signal = await openSignal(service.base)
  phone = await openPhone(profile)
  page = await phone.page()
  await page.setViewportSize({ width: 1280, height: 900 })
})
afterAll(async () => {
  await phone.kill()
  await signal.stop()
  await service.stop()
  rmSync(profile, { recursive: true, force: true })
})

const weekAt = (week: string) => `${signal.base}/g/${group}/weeks/${week}`
const kept = () => page.locator('#kept')
const waits = (count: number) => expect.poll(() => page.locator('#kept li').count(), { timeout: 30_000 }).toBe(count)

/** Everything in the browser's Cache storage. */
const everyFile = `(async () => {
  const caught = await Promise.all((await caches.keys()).map(async (name) => (await caches.open(name)).matchAll()))
  return Promise.all(caught.flat().map(async (one) => [new URL(one.url).pathname, await one.text()]))
})()`

/** Fields of a sheet that is half typed, as they are on the device. */
const draftOnDevice = "kept.draft(document.getElementById('week').dataset).then((draft) => draft?.fields.length ?? 0)"

/** Whether the worker answers for the page, and which weeks are kept on the device. */
async function keptOnDevice(): Promise<string[]> {
  const script = 'kept.weeks(kept.person()).then((weeks) => weeks.map((one) => one.week).sort())'
  return (await page.evaluate(script)) as string[]
}

/** Weights of four crops and hours of six tasks, in two gardens; each figure once, so that it can be found again. */
async function typeSheet(first: number): Promise<void> {
  const weights = page.locator('form#week [data-weight]')
  for (let i = 0; i < 2 * crops.length; i++) await weights.nth(i).fill(`${first + i / 10}`)
  await page.locator('form#week summary', { hasText: 'more tasks' }).click()
  for (const [i, task] of tasks.entries()) {
    const cells = page.locator(`form#week [name$="[${task}][time]"]:not([name^="h[all]"])`)
    for (const garden of [0, 1]) await cells.nth(garden).fill(`${first}:${String(10 + 2 * i + garden)}`)
  }
}

const save = () => page.locator('form#week button[value="save"]').click()

/** What stands on the page of a week as saved. */
async function saved(week: string): Promise<string[]> {
  await page.goto(`${weekAt(week)}?rows=all`)
  const texts = await page.locator('form#week .week-saved a').allInnerTexts()
  return texts.map((text) => text.replace(/\s.*$/s, '')).sort()
}

const asSaved = (first: number) =>
  [
    ...crops.flatMap((_, i) => [2 * i, 2 * i + 1].map((n) => (first + n / 10).toFixed(2))),
    ...tasks.flatMap((_, i) => [0, 1].map((garden) => `${first}:${10 + 2 * i + garden}`)),
  ].sort()

async function signIn(who: { email: string; password: string }): Promise<void> {
  await page.goto(`${signal.base}/sign-in`)
  await fillIn(page, '/sign-in', who)
}

describe('a week without a signal', () => {
  it('keeps the page of the week and its own files on the device, and nothing of anybody', async () => {
    group = await twoGardens(page, { base: signal.base, who: ada, crops })
    await page.goto(weekAt(thisWeek))
    await expect.poll(() => page.locator('[data-weight]').count()).toBe(2 * crops.length)
    await expect.poll(keptOnDevice, { timeout: 60_000 }).toEqual([weekBefore, thisWeek, weekAfter(thisWeek, 1)])
    const files = (await page.evaluate(everyFile)) as [string, string][]
    expect(files.map(([path]) => path.replace(/[0-9a-f]{16}/, 'x')).sort()).toEqual([
      ...['/assets/x.css', '/assets/x.js', '/assets/x.svg', '/assets/x.woff2', '/assets/x.woff2', '/week-kept'],
    ])
    for (const of of ['Ada', 'Quern', 'Lower Terrace', 'carrot', group])
      expect(files.filter(([, text]) => text.includes(of)).map(([path]) => [of, path])).toEqual([])
  })

  it('takes forty entries of two weeks and two gardens, and a half-typed one', async () => {
    await phone.quit()
    phone = await openPhone(profile)
    page = await phone.page()
    signal.set('off')
    await page.goto(weekAt(weekBefore))
    await expect.poll(() => kept().textContent()).toContain('No signal')
    await checkAccess(page)
    await typeSheet(2)
    await save()
    await waits(1)
    expect(await page.locator('#kept-count').textContent()).toBe('One sheet waits')
    await page.goto(weekAt(thisWeek))
    await typeSheet(5)
    await save()
    await waits(2)
    await checkAccess(page)
    await page.locator('form#week [data-weight]').first().fill('9.9')
    await page.locator('form#week [data-weight]').first().blur()
    await expect.poll(() => page.evaluate(draftOnDevice)).toBeGreaterThan(0)
  })

  it('loses none of them where the browser is killed, and stores each once and in order', async () => {
    await page.close()
    await phone.kill()
    phone = await openPhone(profile)
    page = await phone.page()
    await page.goto(weekAt(thisWeek))
    await waits(2)
    expect(await page.locator('form#week [data-weight]').first().inputValue()).toBe('9.9')
    // The first answer is lost after all was stored, the second try ends with an error.
    signal.set('fair')
    signal.sheets('cut', 'error')
    await page.goto(weekAt(thisWeek))
    await expect.poll(() => signal.tries(), { timeout: 30_000 }).toBe(1)
    await waits(2)
    await page.reload()
    await expect.poll(() => signal.tries(), { timeout: 30_000 }).toBe(2)
    await waits(2)
    expect(signal.posted).toHaveLength(1)
    await page.reload()
    await expect.poll(() => signal.posted.length, { timeout: 30_000 }).toBe(3)
    // The page comes anew by itself, and says what was stored.
    await expect.poll(() => page.locator('.notice').allInnerTexts(), { timeout: 30_000 }).toHaveLength(1)
    await waits(0)
    const sent = signal.posted.map(({ path, status, body }) => [path.split('/').pop(), status, body.get('id')])
    expect(sent.map(([week, status]) => [week, status])).toEqual([
      [weekBefore, 200],
      [weekBefore, 200],
      [thisWeek, 200],
    ])
    expect(sent[0]?.[2]).toBe(sent[1]?.[2])
    // Where the service is slow to answer the kept page stands in for it first.
    await expect.poll(() => saved(weekBefore), { timeout: 30_000 }).toEqual(asSaved(2))
    await expect.poll(() => saved(thisWeek), { timeout: 30_000 }).toEqual(asSaved(5))
    expect(await page.locator('form#week [data-weight]').first().inputValue()).toBe('9.9')
  })

  it('asks before somebody signs out, and shows and sends nothing of theirs to the next', async () => {
    signal.set('off')
    await page.goto(weekAt(thisWeek))
    await save()
    await waits(1)
    signal.set('fair')
    // Its worker tries when the page opens: not before Ada is gone.
    signal.sheets('error', 'error')
    await page.goto(weekAt(thisWeek))
    await waits(1)
    const adasWeeks = `kept.weeks('${await page.evaluate('kept.person()')}').then((weeks) => weeks.length)`
    expect(await page.evaluate(adasWeeks)).toBeGreaterThan(0)
    const asked: string[] = []
    page.on('dialog', (dialog) => {
      asked.push(dialog.message())
      void dialog.accept()
    })
    await page.locator('.group-menu summary').click()
    await page.locator('form[action="/sign-out"] button').click()
    await page.waitForURL(`${signal.base}/`)
    expect(asked).toEqual([expect.stringContaining('Sheets wait on this device: 1.')])
    signal.sheets()
    const before = signal.posted.length
    await page.goto(`${signal.base}/sign-up`)
    await fillIn(page, '/sign-up', { name: 'Ben Dow', email: 'ben@example.org', password: 'long enough to keep' })
    await fillIn(page, '/groups', { name: 'Another Group', country: 'New Zealand' })
    expect(await page.evaluate(adasWeeks)).toBe(0)
    signal.set('off')
    await page.goto(weekAt(thisWeek))
    await expect.poll(() => page.locator('body').textContent()).toContain('not kept on this device')
    const shown = await page.locator('body').textContent()
    for (const of of ['Lower Terrace', 'carrot', '9.9', 'waits']) expect(shown).not.toContain(of)
    signal.set('fair')
    await page.goto(`${signal.base}/`)
    expect(signal.posted.length).toBe(before)
  })

  it('goes on when its writer signs in again, and keeps what a week closed meanwhile does not take', async () => {
    const elsewhere: Browser = await launch()
    const other = await elsewhere.newPage()
    await other.goto(`${signal.base}/sign-in`)
    await fillIn(other, '/sign-in', ada)
    await other.goto(weekAt(thisWeek))
    await other.locator('form#week [name="closeWeights[]"]').first().check()
    await Promise.all([other.waitForEvent('load'), other.locator('form#week button[value="save"]').click()])
    await elsewhere.close()

    await page.context().clearCookies()
    await signIn(ada)
    await page.goto(weekAt(thisWeek))
    await expect.poll(() => kept().textContent(), { timeout: 30_000 }).toContain('closed')
    expect(await page.locator('#kept li').textContent()).toContain('one entry')
    const [file] = await Promise.all([
      page.waitForEvent('download'),
      page.locator('#kept button', { hasText: 'Save as a file' }).click(),
    ])
    expect(file.suggestedFilename()).toBe(`${group}-${thisWeek}.json`)
    expect((await saved(thisWeek)).filter((text) => text === '9.90')).toEqual([])
    await waits(1)
    await checkAccess(page)
  })
})
