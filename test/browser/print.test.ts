import type { Page } from 'playwright-core'
import { expect, it } from 'vitest'
import { fillIn, launch, startService } from './service.ts'

/** Millimetres of paper, and what the print style leaves on each side. */
const papers = { A4: [210, 297], Letter: [215.9, 279.4] } as const
const [marginBlockMm, marginInlineMm] = [11, 14]
const pixels = (mm: number, marginMm: number) => Math.floor(((mm - 2 * marginMm) / 25.4) * 96)

/** Pages of a PDF: each is an object of its own that names its type. */
const pagesIn = (pdf: Buffer) => pdf.toString('latin1').match(/\/Type\s*\/Page\b(?!s)/g)?.length ?? 0

const shareFrom = async (page: Page, base: string, sections: readonly string[] | 'all') => {
  await page.goto(`${base}/reports`)
  const form = page.locator('form[action$="/reports"]').first()
  if (sections !== 'all') {
    for (const tick of await form.locator('[name="sections[]"]').all()) {
      await tick.setChecked(sections.includes((await tick.getAttribute('value')) ?? ''))
    }
    for (const tick of await form.locator('[name="pictures[]"]').all()) await tick.setChecked(false)
  }
  await fillIn(page, '/reports', { title: 'Three seasons', season: 'All seasons' })
  await fillIn(page, '/links', {})
  return ((await page.locator('.notice code').textContent()) ?? '').trim()
}

it('a shared report of five methods prints on A4 and on Letter, and no table is cut', async () => {
  const service = await startService()
  const browser = await launch()
  try {
    const page = await (await browser.newContext()).newPage()
    await page.goto(`${service.base}/sign-up`)
    await fillIn(page, '/sign-up', { name: 'Ada Rook', email: 'ada@example.org', password: 'long enough to keep' })
    await fillIn(page, '/demo/copy', {})
    const group = `${service.base}${new URL(page.url()).pathname}`
    const [whole, short] = [await shareFrom(page, group, 'all'), await shareFrom(page, group, ['seasons'])]

    for (const [format, [width, height]] of Object.entries(papers)) {
      const viewport = { width: pixels(width, marginInlineMm), height: pixels(height, marginBlockMm) }
      const guest = await (await browser.newContext({ viewport })).newPage()
      await guest.goto(whole)
      await guest.emulateMedia({ media: 'print' })
      const widths = (await guest.evaluate(
        '[document.documentElement, ...document.querySelectorAll("table")].map((one) => one.scrollWidth)',
      )) as number[]
      expect([format, widths.length >= 7, widths.filter((one) => one > viewport.width)]).toEqual([format, true, []])
      // A table goes to the next page whole while it is shorter than one; its head would be repeated if it were not.
      const heights = (await guest.evaluate(
        '[...document.querySelectorAll(".wide")].map((one) => one.offsetHeight)',
      )) as number[]
      expect(heights.filter((one) => one > viewport.height)).toEqual([])
      const styles = (await guest.evaluate(`({
        head: getComputedStyle(document.querySelector('thead')).display,
        table: getComputedStyle(document.querySelector('.wide')).breakInside,
        heading: getComputedStyle(document.querySelector('h2')).breakAfter,
        screen: getComputedStyle(document.querySelector('.screen')).display,
        paper: document.querySelector('.paper').innerText,
      })`)) as Record<string, string>
      expect(styles).toEqual({
        ...{ head: 'table-header-group', table: 'avoid', heading: 'avoid', screen: 'none' },
        paper: `This page: ${whole}`,
      })
      const pages = pagesIn(await guest.pdf({ format: format as 'A4' | 'Letter' }))
      process.stdout.write(`${format}: ${pages} sheets as a report is first offered\n`)
      await guest.goto(short)
      expect([
        format,
        pages >= 3 && pages <= 4,
        pagesIn(await guest.pdf({ format: format as 'A4' | 'Letter' })),
      ]).toEqual([format, true, 2])
      await guest.context().close()
    }
  } finally {
    await browser.close()
    await service.stop()
  }
})
