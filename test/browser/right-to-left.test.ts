import { expect, it } from 'vitest'
import { checkAccess, fillIn, launch, startService } from './service.ts'

it('a group whose script runs from right to left keeps the layout on a phone', async () => {
  const service = await startService()
  const browser = await launch()
  try {
    const context = await browser.newContext({ viewport: { width: 390, height: 844 } })
    const page = await context.newPage()
    await page.goto(`${service.base}/sign-up`)
    await fillIn(page, '/sign-up', { name: 'Ada Rook', email: 'ada@example.org', password: 'long enough to keep' })
    await fillIn(page, '/demo/copy', {})
    const group = new URL(page.url()).pathname
    await page.goto(`${service.base}${group}/settings`)
    await fillIn(page, '/settings', { locale: '=he-IL' })

    const pages = ['', '/weeks/2026-W05', '/gardens', '/seasons', '/inputs', '/compare', '/reports', '/people']
    for (const path of pages) {
      await page.goto(`${service.base}${group}${path}`)
      const seen = (await page.evaluate(`({
        direction: getComputedStyle(document.body).direction,
        language: document.documentElement.lang,
        scrolled: (window.scrollTo(-500, 0), window.scrollX),
        sideways: document.documentElement.scrollWidth - document.documentElement.clientWidth,
      })`)) as Record<string, unknown>
      expect([path, seen]).toEqual([path, { direction: 'rtl', language: 'en', scrolled: 0, sideways: 0 }])
      await checkAccess(page)
    }
    // Pictures keep a direction of their own: no label of theirs lies outside of its frame.
    const pictured = [
      '',
      '/compare/crops',
      '/compare/why',
      '/compare/work',
      '/compare/losses',
      '/compare/seasons?season=all',
    ]
    let labels = 0
    for (const path of pictured) {
      await page.goto(`${service.base}${group}${path}`)
      const found = (await page.evaluate(`(() => {
        const texts = [...document.querySelectorAll('main svg text')].filter((one) => one.getClientRects().length > 0)
        const outside = texts.filter((one) => {
          const [frame, box] = [one.closest('svg').getBoundingClientRect(), one.getBoundingClientRect()]
          return box.left < frame.left - 1 || box.right > frame.right + 1
        })
        return { labels: texts.length, outside: outside.map((one) => one.textContent) }
      })()`)) as { labels: number; outside: string[] }
      labels += found.labels
      expect([path, found.outside]).toEqual([path, []])
    }
    expect(labels).toBeGreaterThan(150)
    // The first column of a table stands at the right, where a line begins.
    await page.goto(`${service.base}${group}/gardens`)
    const firstAfterSecond = await page.evaluate(`(() => {
      const [first, second] = document.querySelector('tbody tr').children
      return first.getBoundingClientRect().left >= second.getBoundingClientRect().right - 1
    })()`)
    expect(firstAfterSecond).toBe(true)

    await page.goto(`${service.base}${group}/reports`)
    await fillIn(page, '/reports', { title: 'Three seasons', season: 'All seasons', 'sections[]': 'all of them' })
    await fillIn(page, '/links', {})
    const link = ((await page.locator('.notice code').textContent()) ?? '').trim()
    const guest = await (await browser.newContext({ viewport: { width: 390, height: 844 } })).newPage()
    await guest.goto(link)
    await checkAccess(guest)
    // English words that stand in for missing ones keep the order of their figures: "126 of 131" is not read as "131 of 126".
    const inOrder = (await guest.evaluate(`(() => {
      const cells = [...document.querySelectorAll('td')].filter((one) => /^\\d+ of \\d+$/.test(one.textContent))
      const at = (node, place) => {
        const range = document.createRange()
        range.setStart(node, place)
        range.setEnd(node, place + 1)
        return range.getBoundingClientRect().left
      }
      return cells.map(({ firstChild }) => at(firstChild, 0) < at(firstChild, firstChild.length - 1))
    })()`)) as boolean[]
    expect(inOrder.length).toBeGreaterThan(5)
    expect(inOrder).not.toContain(false)
    const shared = (await guest.evaluate(
      '[getComputedStyle(document.body).direction, (window.scrollTo(-500, 0), window.scrollX)]',
    )) as unknown[]
    expect(shared).toEqual(['rtl', 0])
  } finally {
    await browser.close()
    await service.stop()
  }
})
