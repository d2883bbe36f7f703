import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import type { Text } from '../../src/drawing/drawing.ts'
import { boxOf, centred, keptApart, overlap, spread, wrapped } from '../../src/drawing/labels.ts'
import { textWidth } from '../../src/drawing/text-width.ts'

describe('labels along a line', () => {
  it('stay where they are wanted when there is room', () => {
    expect(
      spread(
        [
          { at: 50, size: 10 },
          { at: 20, size: 10 },
        ],
        0,
        100,
      ),
    ).toEqual([50, 20])
  })

  it('press each other apart evenly, and off the ends', () => {
    expect(
      spread(
        [
          { at: 50, size: 10 },
          { at: 50, size: 10 },
        ],
        0,
        100,
      ),
    ).toEqual([45, 55])
    expect(
      spread(
        [
          { at: 99, size: 10 },
          { at: 99, size: 10 },
        ],
        0,
        100,
      ),
    ).toEqual([85, 95])
    expect(spread([{ at: -5, size: 10 }], 0, 100)).toEqual([5])
  })

  it('keep their order, apart and within, whatever is wanted', () => {
    const wanted = fc.array(fc.record({ at: fc.integer({ min: -50, max: 350 }), size: fc.constantFrom(14, 16, 32) }), {
      maxLength: 8,
    })
    fc.assert(
      fc.property(wanted, (labels) => {
        const middles = spread(labels, 0, 300)
        const placed = labels
          .map((label, i) => ({ ...label, i, middle: middles[i] ?? Number.NaN }))
          .sort((a, b) => a.at - b.at || a.i - b.i)
        for (const [place, one] of placed.entries()) {
          const next = placed[place + 1]
          if (next) expect(next.middle - one.middle).toBeGreaterThanOrEqual((one.size + next.size) / 2 - 1e-9)
          expect(one.middle - one.size / 2).toBeGreaterThanOrEqual(-1e-9)
          expect(one.middle + one.size / 2).toBeLessThanOrEqual(300 + 1e-9)
        }
      }),
    )
  })
})

describe('words', () => {
  it('are broken into lines that fit, and none is lost', () => {
    fc.assert(
      fc.property(fc.string({ maxLength: 120 }), fc.integer({ min: 40, max: 300 }), (text, width) => {
        const lines = wrapped(text, width, 'label')
        expect(lines.join('').replace(/\s/g, '')).toBe(text.replace(/\s/g, ''))
        expect(lines.filter((line) => textWidth(line, 'label') > width)).toEqual([])
      }),
    )
  })

  it('at the side of the frame move in', () => {
    const box = boxOf(centred('1 August 2026', 2, 20, 'tick'))
    expect(box.left).toBeCloseTo(0, 9)
    expect(boxOf(centred('1 August 2026', 339, 20, 'tick')).right).toBeCloseTo(340, 9)
  })

  it('that would stand over others give way to those named before', () => {
    const tick = (x: number, text: string): Text => ({ x, y: 20, text, anchor: 'middle', look: 'tick' })
    const kept = keptApart([tick(100, 'first'), tick(110, 'second'), tick(200, 'third'), tick(339, 'outside')])
    expect(kept.map((text) => text.text)).toEqual(['first', 'third'])
    expect(overlap(boxOf(tick(100, 'first')), boxOf(tick(110, 'second')))).toBe(true)
  })
})
