import { type ChildProcess, spawn } from 'node:child_process'
import { existsSync, readFileSync, rmSync } from 'node:fs'
import { createServer } from 'node:net'
import { type Browser, chromium, type Page } from 'playwright-core'
import { expect, inject } from 'vitest'
import { preparedFolder } from '../support/folder.ts'

export interface Service {
  readonly base: string
  stop(): Promise<void>
}

/** The service as it is started by its users, on a data folder of its own whose database is there and empty. */
export async function startService(
  set: Record<string, string> | ((port: number) => Record<string, string>) = {},
  prepared = inject('folder'),
): Promise<Service> {
  const folder = preparedFolder(prepared)
  const port = await freePort()
  const { DATABASE_URL: _none, ...env } = process.env
  const given = {
    ...env,
    EVENGROUND_DATA: folder,
    PORT: String(port),
    ...(typeof set === 'function' ? set(port) : set),
  }
  const child: ChildProcess = spawn('node', ['dist/main.js'], { env: given })
  let said = ''
  for (const stream of [child.stdout, child.stderr]) stream?.on('data', (chunk) => (said += String(chunk)))
  for (let i = 0; i < 1800 && !said.includes('is ready'); i++) await new Promise((done) => setTimeout(done, 100))
  if (!said.includes('is ready')) throw new Error(`The service did not start: ${said}`)
  return {
    base: `http://127.0.0.1:${port}`,
    stop: async () => {
      const ended = new Promise((done) => child.on('close', done))
      child.kill('SIGTERM')
      await ended
      rmSync(folder, { recursive: true, force: true })
    },
  }
}

function freePort(): Promise<number> {
  return new Promise((resolve) => {
    const probe = createServer().listen(0, '127.0.0.1', () => {
      const address = probe.address()
      probe.close(() => resolve(typeof address === 'object' && address ? address.port : 0))
    })
  })
}

/** Debian's Chromium, or the one that CHROMIUM names. The one without windows takes half as long, where it is there. */
export const chromiumHere: string =
  process.env.CHROMIUM ??
  ['/usr/bin/chromium-headless-shell', '/usr/bin/chromium'].find((path) => existsSync(path)) ??
  'chromium'

/**
 * A browser, one for each file. One that all files shared, asked through the
 * first process of the run, took twice as long as what starting it saved.
 */
export const launch = (more: readonly string[] = []): Promise<Browser> =>
  chromium.launch({
    executablePath: chromiumHere,
    args: ['--no-sandbox', ...more],
  })

const axe = readFileSync('node_modules/axe-core/axe.min.js', 'utf8')

interface Finding {
  readonly id: string
  readonly nodes: readonly { readonly html: string }[]
}

export interface AccessFaults {
  readonly at: string
  readonly findings: readonly string[]
  readonly wide: boolean
}

const levels = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa']
/** What another scheme of colours can break: all else is the same page. */
const ofColours = ['color-contrast', 'link-in-text-block']

/**
 * What axe finds against WCAG 2.2 A and AA, and whether the page is wider than the screen; of a page that was looked at
 * in other colours already, what its colours can break.
 */
export async function accessFaults(page: Page, of: 'all' | 'colours' = 'all'): Promise<AccessFaults> {
  if (of === 'all') await page.evaluate(axe)
  // What sticks to the foot of the screen lies over something wherever one stops but at the end.
  await page.evaluate('window.scrollTo(0, document.documentElement.scrollHeight)')
  const found = (await page.evaluate(
    `axe.run(${JSON.stringify({ runOnly: of === 'all' ? levels : ofColours, resultTypes: ['violations'] })})
      .then((answer) => answer.violations)`,
  )) as Finding[]
  const wide = (await page.evaluate('document.documentElement.scrollWidth > window.innerWidth + 1')) as boolean
  const findings = found.map(({ id, nodes }) => `${id}: ${nodes[0]?.html ?? ''}`)
  return { at: new URL(page.url()).pathname, findings, wide }
}

export async function checkAccess(page: Page): Promise<void> {
  expect(await accessFaults(page)).toMatchObject({ findings: [], wide: false })
}

/** Fills a form's fields by their id and presses its button; a folded form is unfolded first, as a person would. */
export async function fillIn(page: Page, action: string, fields: Readonly<Record<string, string>>): Promise<void> {
  const form = page.locator(`form[action$="${action}"]`).first()
  for (const [name, value] of Object.entries(fields)) {
    const field = form.locator(`[name="${name}"]`)
    await unfold(page, field)
    const tag = await field.first().evaluate((node) => `${node.tagName} ${(node as { type?: string }).type ?? ''}`)
    if (tag.startsWith('SELECT')) await field.selectOption(value.startsWith('=') ? value.slice(1) : { label: value })
    else if (tag.includes('checkbox')) for (const one of await field.all()) await one.check()
    else await field.fill(value)
  }
  const button = form.locator('button').last()
  await unfold(page, button)
  await Promise.all([page.waitForLoadState('load'), button.click({ timeout: 120_000 })])
  await page.waitForLoadState('load')
  expect([action, await page.locator('.errors, .wrong').allInnerTexts()]).toEqual([action, []])
}

async function unfold(page: Page, inside: ReturnType<Page['locator']>): Promise<void> {
  const folds = inside.first().locator('xpath=ancestor::details[not(@open)]')
  for (let left = await folds.count(); left > 0; left = await folds.count()) {
    await folds.first().locator('xpath=./summary').click()
    await page.waitForTimeout(20)
  }
}
