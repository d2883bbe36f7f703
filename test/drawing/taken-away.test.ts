import { expect, it } from 'vitest'
import { frameWidth } from '../../src/drawing/drawing.ts'
import { boxOf, overlap } from '../../src/drawing/labels.ts'
import { takenAway } from '../../src/drawing/taken-away.ts'

const said = {
  title: 'Compost mulch, never dug beside Dug every spring, season by season',
  how: 'How many times the weight per planted m². Twice and half lie equally far from 1.',
  from: 'Quern Hill Growers, 2023/24, 2024/25, 2025/26',
}

it('a picture that is taken away has its words above and below it, in the frame and off the drawing', () => {
  const around = takenAway({ width: frameWidth, height: 200 }, said)
  const words = (texts: typeof around.above) => texts.map((one) => one.text).join(' ')
  expect(words(around.above)).toBe(`${said.title} ${said.how}`)
  expect(words(around.below)).toBe(said.from)
  const boxes = [...around.above, ...around.below].map(boxOf)
  expect(boxes.every((box) => box.left >= 0 && box.right <= around.width && box.bottom <= around.height)).toBe(true)
  boxes.forEach((box, i) => {
    expect(boxes.slice(i + 1).some((other) => overlap(box, other))).toBe(false)
  })
  expect(Math.max(...around.above.map((one) => boxOf(one).bottom))).toBeLessThanOrEqual(around.top)
  expect(Math.min(...around.below.map((one) => boxOf(one).top))).toBeGreaterThanOrEqual(around.top + 200)
})
