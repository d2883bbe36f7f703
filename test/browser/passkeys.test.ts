import type { Browser, BrowserContext, Page } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { checkAccess, fillIn, launch, type Service, startService } from './service.ts'

const ada = { email: 'ada@example.org', password: 'long enough to keep' }

let browser: Browser
let service: Service
let base = ''
beforeAll(async () => {
  browser = await launch()
  service = await startService((port) => ({ EVENGROUND_ORIGIN: `http://localhost:${port}` }))
  base = service.base.replace('127.0.0.1', 'localhost')
})
afterAll(async () => {
  await browser.close()
  await service.stop()
})

/** A page of its own with a device of Chromium's own making, which signs as soon as it is asked. */
async function withDevice(context: BrowserContext): Promise<Page> {
  const page = await context.newPage()
  const devtools = await context.newCDPSession(page)
  await devtools.send('WebAuthn.enable')
  const options = { protocol: 'ctap2', transport: 'internal', hasResidentKey: true, hasUserVerification: true } as const
  await devtools.send('WebAuthn.addVirtualAuthenticator', { options: { ...options, isUserVerified: true } })
  return page
}

it('a passkey is added, and opens the account where nobody is signed in', async () => {
  const page = await withDevice(await browser.newContext())
  await page.goto(`${base}/sign-up`)
  await fillIn(page, '/sign-up', { name: 'Ada Rook', ...ada })
  await page.goto(`${base}/account/passkeys`)
  await checkAccess(page)
  const add = page.locator('form[action="/account/passkeys"]')
  await add.locator('[name="name"]').fill('this computer')
  await add.locator('[name="addPassword"]').fill('not the password')
  await add.locator('button').click()
  const refused = add.locator('[role="status"]')
  await expect.poll(() => refused.textContent(), { timeout: 60_000 }).toBe('This is not the present password.')
  await add.locator('[name="addPassword"]').fill(ada.password)
  await Promise.all([page.waitForEvent('load'), add.locator('button').click()])
  expect(await page.locator('.notice').textContent()).toContain('The passkey is added.')
  expect(await page.locator('tbody th').allTextContents()).toEqual(['this computer'])
  await checkAccess(page)

  const show = page.locator('form[action="/account/present"]')
  await Promise.all([page.waitForEvent('load'), show.locator('button').click()])
  expect(await page.locator('.notice').textContent()).toContain('It is you.')
  expect(await page.locator('[name="removePassword"]').count()).toBe(0)

  await page.goto(`${base}/account`)
  await Promise.all([page.waitForEvent('load'), page.locator('main form[action="/sign-out"] button').click()])
  await page.goto(`${base}/sign-in?next=%2Fgroups%2Fnew`)
  await checkAccess(page)
  const signIn = page.locator('form[action="/sign-in/passkey"]')
  // Where there is no mail what was done to the account is read first, and then on to where one was going.
  await Promise.all([page.waitForURL('**/letters?next=%2Fgroups%2Fnew'), signIn.locator('button').click()])
  await page.goto(`${base}/account`)
  expect(await page.locator('main').textContent()).toContain(ada.email)
})

it('where the device has none for this address the page says so and stays', async () => {
  const page = await withDevice(await browser.newContext())
  await page.goto(`${base}/sign-in`)
  const signIn = page.locator('form[action="/sign-in/passkey"]')
  await signIn.locator('button').click()
  const said = signIn.locator('[role="status"]')
  await expect
    .poll(() => said.textContent(), { timeout: 60_000 })
    .toBe('The device showed no passkey for this address.')
  expect(new URL(page.url()).pathname).toBe('/sign-in')
})

it('without scripts the button is not there, and the page says what it needs', async () => {
  const page = await (await browser.newContext({ javaScriptEnabled: false })).newPage()
  await page.goto(`${base}/sign-in`)
  expect(await page.locator('form[action="/sign-in/passkey"]').isVisible()).toBe(false)
  await fillIn(page, '/sign-in', ada)
  await page.goto(`${base}/account/passkeys`)
  expect(await page.locator('[data-without-passkeys]').isVisible()).toBe(true)
  expect(await page.locator('form[action="/account/passkeys"]').isVisible()).toBe(false)
})
