import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import type { TextLook } from '../../src/drawing/drawing.ts'
import { textWidth } from '../../src/drawing/text-width.ts'
import { galleryOf } from '../drawing/rendering.ts'
import { samplePictures } from '../drawing/samples.ts'
import { checkAccess, launch } from './service.ts'

let browser: Browser
beforeAll(async () => {
  browser = await launch()
})
afterAll(() => browser.close())

/** Wide and narrow faces that a reader's machine may fall back to. */
const faces = ['', 'DejaVu Serif', 'Liberation Serif']

async function opened(width: number, { face = '', dark = false }): Promise<Page> {
  const context = await browser.newContext({ viewport: { width, height: 800 }, colorScheme: dark ? 'dark' : 'light' })
  const page = await context.newPage()
  const own = face === '' ? '' : `:root { --face: "${face}"; }`
  await page.setContent(galleryOf(samplePictures(), own))
  return page
}

/** In the browser: words that leave their frame or stand over others, and how many words there are. */
const wordsOver = `(() => {
  const found = []
  let words = 0
  for (const svg of document.querySelectorAll('svg')) {
    const frame = svg.viewBox.baseVal
    const boxes = [...svg.querySelectorAll('text')].map((text) => {
      const [x, width, { y, height }] = [text.x.baseVal[0].value, text.getComputedTextLength(), text.getBBox()]
      const before = { start: 0, middle: width / 2, end: width }[text.getAttribute('text-anchor')]
      return { text: text.textContent, box: { x: x - before, y, width, height } }
    })
    words += boxes.length
    boxes.forEach(({ text, box }, i) => {
      if (box.x < -0.5 || box.x + box.width > frame.width + 0.5) found.push(text + ' leaves the frame')
      for (const other of boxes.slice(i + 1)) {
        const across = Math.min(box.x + box.width, other.box.x + other.box.width) - Math.max(box.x, other.box.x)
        const down = Math.min(box.y + box.height, other.box.y + other.box.height) - Math.max(box.y, other.box.y)
        if (across > 0.5 && down > 4) found.push(text + ' over ' + other.text)
      }
    })
  }
  return { found, words }
})()`

it.each(faces)('words in pictures stay in their frame and off each other in the face "%s"', async (face) => {
  const seen = (await (await opened(360, { face })).evaluate(wordsOver)) as { found: string[]; words: number }
  expect(seen.words).toBeGreaterThan(150)
  expect(seen.found).toEqual([])
})

it.each(faces)('no word is wider than it was taken to be in the face "%s"', async (face) => {
  const page = await opened(360, { face })
  const measured = (await page.evaluate(
    `[...document.querySelectorAll('svg text')].map((text) => [text.textContent, text.classList[0], text.getComputedTextLength()])`,
  )) as [string, string, number][]
  const wider = measured.filter(([text, look, width]) => width > textWidth(text, look.slice(6) as TextLook) + 0.5)
  expect(measured.length).toBeGreaterThan(150)
  expect(wider).toEqual([])
})

it('on a phone the smallest words of a picture are 11 pixels or more', async () => {
  const page = await opened(360, {})
  const sizes = (await page.evaluate(
    `[...document.querySelectorAll('svg text')].map((text) =>
      parseFloat(getComputedStyle(text).fontSize) * text.getScreenCTM().a)`,
  )) as number[]
  expect(Math.min(...sizes)).toBeGreaterThanOrEqual(11)
})

it.each([
  [360, false],
  [360, true],
  [1200, false],
  [1200, true],
])('axe finds nothing at %i px, dark %s, and nothing runs off the side', async (width, dark) => {
  await checkAccess(await opened(width, { dark }))
})

it('strokes that carry meaning stand out 3 to 1 from the page, light and dark', async () => {
  for (const dark of [false, true]) {
    const page = await opened(1200, { dark })
    const contrasts = (await page.evaluate(`(() => {
      const bright = (colour) => {
        const [r, g, b] = colour.match(/[\\d.]+/g).map((part) => {
          const share = part / 255
          return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4
        })
        return 0.2126 * r + 0.7152 * g + 0.0722 * b
      }
      const ground = bright(getComputedStyle(document.documentElement).backgroundColor)
      const marks = document.querySelectorAll('svg polyline, svg line:not(.mark-rule), svg rect[class], svg polygon')
      return [...marks].filter((mark) => !mark.closest('pattern')).map((mark) => {
        const of = bright(getComputedStyle(mark).stroke)
        return (Math.max(of, ground) + 0.05) / (Math.min(of, ground) + 0.05)
      })
    })()`)) as number[]
    expect(contrasts.length).toBeGreaterThan(100)
    expect(Math.min(...contrasts)).toBeGreaterThanOrEqual(3)
  }
})
