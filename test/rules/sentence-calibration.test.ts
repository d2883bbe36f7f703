import { readFileSync } from 'node:fs'
import { expect, it } from 'vitest'
import { type SentenceLine, sentenceCalibration } from '../../src/comparison/findings/sentence-calibration.ts'
import { meanOf } from '../../src/statistics/moments.ts'
import { designs } from '../simulation/designs.ts'

const { lines } = JSON.parse(readFileSync('test/simulation/sentences.json', 'utf8')) as { lines: SentenceLine[] }
const drawn = lines.filter((line) => line.how === 'random')

it('the table of first sentences is the one that the simulation wrote, every design with its trials', () => {
  expect(sentenceCalibration).toEqual(lines)
  expect(lines.map(({ layout, how, units, methodBySeason }) => [layout, how, units, methodBySeason])).toEqual(
    designs.map(({ layout, how, units, methodBySeason }) => [layout, how, units, methodBySeason]),
  )
  expect(lines.filter((line) => line.trials < 1000)).toEqual([])
})

it('the first sentence about methods drawn at random is contradicted in at most six of a hundred trials', () => {
  for (const { outside, trials } of drawn) {
    // 3.3 standard errors of 6 %: Bonferroni over the lines.
    expect(outside).toBeLessThan(0.06 + 3.3 * Math.sqrt((0.06 * 0.94) / trials))
  }
  expect(meanOf(drawn.map((line) => line.outside))).toBeLessThan(0.06)
})

it('and it names the wrong side far less often', () => {
  for (const { wrongSide } of drawn) expect(wrongSide).toBeLessThan(0.04)
})
