import type { Browser, BrowserContext, Page } from 'playwright-core'
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest'
import { codeAt, stepAt } from '../../src/accounts/one-time-codes.queries.ts'
import { dayIn } from '../../src/quantities/dates.ts'
import { weekOf } from '../../src/quantities/iso-week.ts'
import { fillIn, launch, type Service, startService } from './service.ts'
import { twoGardens } from './setting-up.ts'
import { openSignal, type Signal } from './signal.ts'

const ada = { email: 'ada@example.org', password: 'long enough to keep' }
const ben = { email: 'ben@example.org', password: 'long enough to keep' }
const today = dayIn('Pacific/Auckland', new Date())
const week = weekOf(today)
const patient = { timeout: 60_000 }

let browser: Browser
let service: Service
let signal: Signal
let keeper: Page
let page: Page
let group = ''
beforeAll(async () => {
  browser = await launch()
  service = await startService()
  signal = await openSignal(service.base)
  keeper = await (await phone()).newPage()
  group = await twoGardens(keeper, { base: signal.base, who: ada, crops: ['carrot', 'potato'] })
  page = await (await phone()).newPage()
  await asBen()
})
afterAll(async () => {
  await browser.close()
  await signal.stop()
  await service.stop()
})

afterEach(() => signal.set('fair'))

const phone = (): Promise<BrowserContext> => browser.newContext({ viewport: { width: 1280, height: 900 } })
const at = (more: string) => `${signal.base}/g/${group}${more}`
const sheet = () => at(`/weeks/${week}`)
const weights = (of: Page) => of.locator('form#week [data-weight]')
const kept = (of: Page) => of.locator('#kept')
const press = (of: Page) => of.locator('form#week button[value="save"]').click()

/** Signs up by the keeper's link, as one who records. */
async function asBen() {
  await keeper.goto(at('/people'))
  await keeper.locator('form[action$="/invitations"] [name="role"][value="recorder"]').check()
  await fillIn(keeper, '/invitations', {})
  const link = ((await keeper.locator('.notice code').textContent()) ?? '').trim()
  await page.goto(`${signal.base}/sign-up`)
  await fillIn(page, '/sign-up', { name: 'Ben Dow', ...ben })
  await page.goto(link)
  await Promise.all([page.waitForEvent('load'), page.locator('main form button').last().click()])
}

/** Types a weight without a signal, saves it, and has it wait. */
async function typeWithout(weight: string) {
  await page.goto(`${sheet()}?rows=all`)
  await expect.poll(() => page.evaluate(weeksKept), patient).toContain(week)
  await page.evaluate(workerReady)
  signal.set('off')
  await weights(page).first().fill(weight)
  await press(page)
  await expect.poll(() => kept(page).locator('li').count(), patient).toBe(1)
}

const workerReady = 'navigator.serviceWorker.ready.then(() => true)'
const weeksKept = `kept.weeks(kept.person()).then((all) => all.map((one) => one.week))`
const ageWaiting = (ms: number) =>
  `kept.waiting(kept.person()).then((all) => Promise.all(all.map((one) => kept.change({ ...one, at: one.at - ${ms} }))))`

async function savedAsFile() {
  const [file] = await Promise.all([
    page.waitForEvent('download'),
    kept(page).locator('button', { hasText: 'Save as a file' }).click(),
  ])
  expect(file.suggestedFilename()).toBe(`${group}-${week}.json`)
}

async function thrownAway() {
  page.once('dialog', (dialog) => void dialog.accept())
  await kept(page).getByRole('button', { name: 'Throw away' }).click()
  await expect.poll(() => kept(page).isHidden(), patient).toBe(true)
}

/** Sets the codes up, on the way to where the search leads. */
async function codesFor(of: Page, password: string, search: string) {
  await of.goto(`${signal.base}/account/codes${search}`)
  await fillIn(of, '/account/codes', { codesPassword: password })
  const secret = ((await of.locator('main code').first().textContent()) ?? '').replaceAll(' ', '')
  await fillIn(of, '/account/codes/confirm', { code: codeAt(secret, stepAt(new Date())) })
}

/** The same sheet in another page of the phone, whose clock goes on where it is told to. */
async function pageBeside(): Promise<Page> {
  const beside = await page.context().newPage()
  await beside.clock.install()
  await beside.goto(sheet())
  await beside.clock.pauseAt(new Date(Date.now() + 60_000))
  return beside
}

/** What found no way is tried again by the clock; what waits for a code is not, before the page is seen again. */
async function triedForAReason(beside: Page) {
  const seen = "document.dispatchEvent(new Event('visibilitychange'))"
  const before = signal.tries()
  signal.sheets('error')
  await beside.evaluate(seen)
  await expect.poll(() => kept(beside).textContent(), patient).toContain('One sheet waits')
  expect(await kept(beside).textContent()).not.toContain('The group asks')
  expect(signal.tries()).toBe(before + 1)
  await beside.clock.runFor(31_000)
  await expect.poll(() => kept(beside).textContent(), patient).toContain('The group asks for a passkey or a code first')
  expect(signal.tries()).toBe(before + 2)
  await beside.clock.runFor(120_000)
  await beside.evaluate(seen)
  await expect.poll(() => signal.tries(), patient).toBeGreaterThan(before + 2)
  // Answered after all that was asked for before.
  await beside.evaluate('sending.all(kept.person())')
  expect(signal.tries()).toBe(before + 4)
  await beside.close()
}

async function onBensPage() {
  // Past the net of the phone.
  await keeper.goto(`${service.base}/g/${group}/people`)
  await Promise.all([keeper.waitForEvent('load'), keeper.locator('main table a', { hasText: 'Ben Dow' }).click()])
}

async function roleOf(role: string) {
  await onBensPage()
  await keeper.locator(`form[action$="/role"] [name="role"][value="${role}"]`).check()
  await fillIn(keeper, '/role', {})
}

describe('what waits on the phone of somebody', () => {
  it('asks the browser once to keep it, and says so after five days', async () => {
    await page.addInitScript(
      'navigator.storage.persist = async () => { window.asked = (window.asked ?? 0) + 1; return true }',
    )
    await typeWithout('1.1')
    expect(await page.evaluate('window.asked')).toBe(1)
    expect(await kept(page).textContent()).not.toContain('five days')
    await page.evaluate(ageWaiting(6 * 86_400_000))
    await page.goto(sheet())
    await expect.poll(() => kept(page).textContent(), patient).toContain('This waits for more than five days')
    signal.set('fair')
    await page.goto(sheet())
    await page.waitForSelector('.notice')
  })

  it('is kept and can be saved as a file where its planting was taken away meanwhile', async () => {
    await typeWithout('2.2')
    const name = (await weights(page).first().getAttribute('name')) ?? ''
    signal.set('fair')
    await page.evaluate(
      `kept.waiting(kept.person()).then(([one]) => kept.change({ ...one, fields: one.fields.map(([field, value]) =>
        [field.replace(/^w\\[[\\w-]+/, 'w[01890000-0000-7000-8000-000000000000'), value]) }))`,
    )
    expect(name).toMatch(/^w\[/)
    await page.goto(sheet())
    await expect.poll(() => kept(page).locator('.wrong').count(), patient).toBe(1)
    await savedAsFile()
    await thrownAway()
  })

  it('is kept, and can be saved as a file, where they may only read by now', async () => {
    await typeWithout('3.3')
    await roleOf('reader')
    signal.set('fair')
    await page.goto(sheet())
    await expect.poll(() => kept(page).locator('.wrong').count(), patient).toBe(1)
    await savedAsFile()
    expect(await weights(page).count()).toBe(0)
    await roleOf('recorder')
    await page.goto(sheet())
    await kept(page).getByRole('button', { name: 'Send again' }).click()
    await page.waitForSelector('.notice')
  })

  it('is kept where the group asks for a passkey or a code by now, and goes once they have shown one', async () => {
    await page.goto(`${sheet()}?rows=all`)
    await expect.poll(() => page.evaluate(weeksKept), patient).toContain(week)
    const beside = await pageBeside()
    await codesFor(keeper, ada.password, '')
    await keeper.goto(at('/people'))
    await Promise.all([keeper.waitForEvent('load'), keeper.locator('form[action$="/second-factor"] button').click()])
    await weights(page).first().fill('4.4')
    await press(page)
    await expect.poll(() => kept(page).textContent(), patient).toContain('The group asks for a passkey or a code first')
    expect(await kept(page).locator('.wrong').count()).toBe(0)
    await savedAsFile()
    await triedForAReason(beside)
    await Promise.all([page.waitForEvent('load'), kept(page).getByRole('link', { name: 'Show a passkey' }).click()])
    await expect.poll(() => page.evaluate(weeksKept), patient).toEqual([])
    expect(await page.evaluate('kept.waiting(kept.person()).then((all) => all.length)')).toBe(1)
    await codesFor(page, ben.password, new URL(page.url()).search)
    await Promise.all([page.waitForEvent('load'), page.getByRole('link', { name: 'Go on to where you were' }).click()])
    await page.waitForSelector('.notice')
    expect(await page.locator('main').textContent()).toContain('4.4')
    await keeper.goto(at('/people'))
    await Promise.all([keeper.waitForEvent('load'), keeper.locator('form[action$="/second-factor"] button').click()])
    for (const [of, { password }] of [[keeper, ada] as const, [page, ben] as const]) {
      await of.goto(`${signal.base}/account/codes`)
      await fillIn(of, '/account/codes/end', { codesPassword: password })
    }
  })

  it('goes with the day of the group, not of a clock that is wrong by a day', async () => {
    const wrong = await (await phone()).newPage()
    await wrong.clock.install({ time: new Date(Date.now() + 86_400_000) })
    await wrong.goto(`${signal.base}/sign-in`)
    await fillIn(wrong, '/sign-in', ben)
    await wrong.goto(sheet())
    await expect.poll(() => wrong.evaluate(weeksKept), patient).toContain(week)
    await wrong.evaluate(workerReady)
    signal.set('off')
    await wrong.goto(sheet())
    await expect.poll(() => kept(wrong).textContent(), patient).toContain('No signal')
    expect(await wrong.locator('#day').inputValue()).toBe(today)
    signal.set('fair')
  })

  it('shows nothing of a group any more once they were taken out of it', async () => {
    await page.goto(sheet())
    await expect.poll(() => page.evaluate(weeksKept), patient).toContain(week)
    await onBensPage()
    await fillIn(keeper, '/removal', { reason: 'moved away' })
    await page.goto(`${signal.base}/`)
    await expect.poll(() => page.evaluate(weeksKept), patient).toEqual([])
  })
})

const draft = "kept.draft(document.getElementById('week').dataset).then((one) => one?.fields.length ?? 0)"

it('without https the page says so, and a half-typed sheet is kept all the same', async () => {
  const plain = await launch(['--host-resolver-rules=MAP garden.test 127.0.0.1'])
  const open = await (await plain.newContext()).newPage()
  const base = signal.base.replace('127.0.0.1', 'garden.test')
  await open.goto(`${base}/sign-in`)
  await fillIn(open, '/sign-in', ada)
  await open.goto(`${base}/g/${group}/weeks/${week}?rows=all`)
  await expect.poll(() => kept(open).textContent(), patient).toContain('Without https')
  expect(await open.evaluate("'serviceWorker' in navigator")).toBe(false)
  await weights(open).first().fill('6.6')
  await expect.poll(() => open.evaluate(draft), patient).toBeGreaterThan(0)
  await open.goto(`${base}/g/${group}/weeks/${week}?rows=all`)
  await expect.poll(() => weights(open).first().inputValue(), patient).toBe('6.6')
  await plain.close()
})
