import { readFileSync } from 'node:fs'
import { expect, it } from 'vitest'
import { calibration } from '../../src/comparison/findings/calibration.ts'

interface Line {
  readonly [name: string]: number | boolean
}

it('the calibration table on the page is the one that the simulation wrote', () => {
  const { lines } = JSON.parse(readFileSync('test/simulation/calibration.json', 'utf8')) as { lines: Line[] }
  const numbers = lines.map((line) => [
    ...[line.crops, line.seasons, line.times, Number(line.losses), line.effect],
    ...[line.trials, line.refused, line.holdsPlots, line.holdsMethod, line.seen],
  ])
  expect(calibration).toEqual(numbers)
  expect(lines).toHaveLength(72)
})
