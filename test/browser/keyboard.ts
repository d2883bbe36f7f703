import type { Page } from 'playwright-core'
import { expect } from 'vitest'

/** Goes forward by the tabulator until an element has the focus; fails where none of 400 does. */
export async function tabTo(page: Page, selector: string): Promise<void> {
  for (let tabs = 0; tabs < 400; tabs++) {
    await page.keyboard.press('Tab')
    const focused = page.locator(':focus')
    if ((await focused.count()) === 0) continue
    if (await focused.first().evaluate((node, wanted) => node.matches(wanted), selector)) return
  }
  expect.fail(`${new URL(page.url()).pathname}: the tabulator never came to ${selector}`)
}

/** Follows the link or presses the button that the tabulator comes to. */
export async function press(page: Page, selector: string): Promise<void> {
  await tabTo(page, selector)
  await Promise.all([page.waitForEvent('load'), page.keyboard.press('Enter')])
}

/** Fills a form in by keys alone, in the order of its fields, and presses its button, or the one that is named. */
export async function typeIn(
  page: Page,
  action: string,
  fields: Readonly<Record<string, string>>,
  button = 'button',
): Promise<void> {
  const form = `form[action$="${action}"]`
  await unfold(page, page.locator(form).first())
  for (const [name, value] of Object.entries(fields)) {
    const field = `${form} [name="${name}"]`
    await unfold(page, page.locator(field).first())
    await tabTo(page, field)
    const kind = await page.locator(':focus').evaluate((node) => `${node.tagName} ${(node as { type?: string }).type}`)
    if (kind === 'INPUT checkbox' || kind === 'INPUT radio') await page.keyboard.press('Space')
    else if (kind.startsWith('SELECT')) await choose(page, value)
    else if (kind === 'INPUT date') await page.keyboard.type(value.replace(/^(\d{4})-(\d\d)-(\d\d)$/, '$2$3$1'))
    else await page.keyboard.type(value)
  }
  await press(page, `${form} ${button}`)
}

/** By the arrow keys: typing ahead depends on how fast somebody types. */
async function choose(page: Page, label: string): Promise<void> {
  const labels = await page.locator(':focus option').allTextContents()
  const wanted = labels.findIndex((one) => one.trim() === label)
  if (wanted < 0) expect.fail(`There is no choice "${label}" among ${labels.join(', ')}`)
  const now = await page
    .locator(':focus')
    .evaluate((node) => (node as unknown as { selectedIndex: number }).selectedIndex)
  const key = wanted > now ? 'ArrowDown' : 'ArrowUp'
  for (let steps = Math.abs(wanted - now); steps > 0; steps--) await page.keyboard.press(key)
}

async function unfold(page: Page, inside: ReturnType<Page['locator']>): Promise<void> {
  const folds = inside.locator('xpath=ancestor::details[not(@open)]')
  for (let left = await folds.count(); left > 0; left = await folds.count()) {
    const words = (await folds.first().locator('xpath=./summary').textContent()) ?? ''
    for (let tabs = 0; tabs < 400; tabs++) {
      await page.keyboard.press('Tab')
      const focused = page.locator('summary:focus')
      if ((await focused.count()) > 0 && (await focused.textContent()) === words) break
    }
    await page.keyboard.press('Enter')
    await page.waitForTimeout(20)
    expect(await folds.count()).toBeLessThan(left)
  }
}
