import { expect, it } from 'vitest'
import { fillIn, launch, startService } from './service.ts'

/** A4 less the margins of the print style (18 mm on each side), at 96 pixels an inch. */
const printed = Math.floor(((210 - 36) / 25.4) * 96)

it('a shared report of five methods fits the width of A4, and no table is cut', async () => {
  const service = await startService()
  const browser = await launch()
  try {
    const page = await (await browser.newContext()).newPage()
    await page.goto(`${service.base}/sign-up`)
    await fillIn(page, '/sign-up', { name: 'Ada Rook', email: 'ada@example.org', password: 'long enough to keep' })
    await fillIn(page, '/demo/copy', {})
    await page.goto(`${service.base}${new URL(page.url()).pathname}/reports`)
    await fillIn(page, '/reports', { title: 'Three seasons', season: 'All seasons' })
    await fillIn(page, '/links', {})
    const link = ((await page.locator('.notice code').textContent()) ?? '').trim()
    const guest = await (await browser.newContext({ viewport: { width: printed, height: 970 } })).newPage()
    await guest.goto(link)
    await guest.emulateMedia({ media: 'print' })
    const widths = (await guest.evaluate(
      '[document.documentElement, ...document.querySelectorAll("table")].map((one) => one.scrollWidth)',
    )) as number[]
    expect(widths.length).toBeGreaterThanOrEqual(4)
    expect(widths.filter((width) => width > printed)).toEqual([])
  } finally {
    await browser.close()
    await service.stop()
  }
})
