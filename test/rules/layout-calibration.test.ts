import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { type LayoutLine, layoutCalibration } from '../../src/comparison/findings/layout-calibration.ts'

const { lines } = JSON.parse(readFileSync('test/simulation/layouts.json', 'utf8')) as { lines: LayoutLine[] }
const errorOf = (share: number, trials: number) => Math.sqrt((share * (1 - share)) / trials)
const named = (line: LayoutLine) =>
  `${line.units} ${line.layout} ${line.how}, ${line.seasons} seasons, effect ${line.effect}`
const drawn = lines.filter((line) => line.how === 'random')
const chosen = lines.filter((line) => line.how === 'choice')

it('the table of layouts is the one that the simulation wrote, every design with its trials', () => {
  expect(layoutCalibration).toEqual(lines)
  expect(new Set(lines.map(named)).size).toBe(48)
  expect(lines.filter((line) => line.trials < 5000)).toEqual([])
})

describe('layouts drawn at random', () => {
  it.each(drawn.map((line) => [named(line), line] as const))('%s', (_name, { holds, finds, predicted, trials }) => {
    // Not significantly under 94 %, nor significantly away from 95 %.
    expect(holds + 1.645 * errorOf(holds, trials)).toBeGreaterThan(0.94)
    expect(Math.abs(holds - 0.95)).toBeLessThan(4 * errorOf(0.95, trials))
    expect(Math.abs(finds - predicted)).toBeLessThan(4 * errorOf(predicted, trials))
  })
})

it('the better ground given to one method looks like an effect of it, more so with more gardens', () => {
  for (const seasons of [1, 3]) {
    const alike = chosen.filter((line) => line.effect === 0 && line.seasons === seasons)
    expect(alike.map((line) => line.units)).toEqual([2, 4, 6])
    for (const line of alike) expect(line.bias).toBeGreaterThan(0.1)
    const holds = alike.map((line) => line.holds)
    expect(holds).toEqual([...holds].sort((a, b) => b - a))
    expect(holds.at(-1)).toBeLessThan(0.8)
  }
})
