// Takes the README's pictures anew from the demo: npm run pictures
import { inAFile } from '../support/prepare.ts'
import { fillIn, launch, startService } from './service.ts'

const service = await startService({}, await inAFile())
const browser = await launch()
const picture = (name: string) => `test/browser/pictures/${name}.png`
const wide = { width: 1100, height: 900 }

const page = await (await browser.newContext({ viewport: { width: 390, height: 844 } })).newPage()
await page.goto(`${service.base}/sign-up`)
await fillIn(page, '/sign-up', { name: 'Ada Rook', email: 'ada@example.org', password: 'long enough to keep' })
await fillIn(page, '/demo/copy', {})
const group = new URL(page.url()).pathname
await page.goto(`${service.base}${group}/weeks/2026-W09`)
await page.screenshot({ path: picture('week'), clip: { x: 0, y: 0, width: 390, height: 1400 }, fullPage: true })

await page.setViewportSize(wide)
await page.goto(`${service.base}${group}/compare?season=all`)
await page.screenshot({
  path: picture('compare'),
  clip: { x: 0, y: 0, width: wide.width, height: 1200 },
  fullPage: true,
})

await page.goto(`${service.base}${group}/reports`)
const words = 'Three seasons, five gardens. Each method stands on one garden only, so this compares the gardens.'
await fillIn(page, '/reports', { title: 'Three seasons at Quern Hill', words, season: 'All seasons' })
await fillIn(page, '/links', {})
const link = (await page.locator('.notice code').textContent()) ?? ''
const guest = await (await browser.newContext({ viewport: wide })).newPage()
await guest.goto(link.trim())
await guest.screenshot({
  path: picture('shared-report'),
  clip: { x: 0, y: 0, width: wide.width, height: 1100 },
  fullPage: true,
})

await browser.close()
await service.stop()
