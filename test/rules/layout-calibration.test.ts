import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { type LayoutLine, layoutCalibration } from '../../src/comparison/findings/layout-calibration.ts'

const read = (file: string) => JSON.parse(readFileSync(`test/simulation/${file}`, 'utf8'))
const { lines } = read('layouts.json') as { lines: LayoutLine[] }
/** The same trials drawn and analysed in R alone: test/simulation/layouts.R. */
const byR = read('layouts-by-r.json') as Pick<
  LayoutLine,
  'layout' | 'how' | 'units' | 'methodBySeason' | 'measure' | 'holds' | 'told' | 'width'
>[]
const trialsByR = 2000

const errorOf = (share: number, trials: number) => Math.sqrt((share * (1 - share)) / trials)
const named = ({ layout, how, units, methodBySeason, measure }: Omit<LayoutLine, 'seasons' | 'trials'>) =>
  `${units} ${layout} ${how}, strays ${methodBySeason}, ${measure}`
const drawn = lines.filter((line) => line.how === 'random')

it('the table of layouts is the one that the simulation wrote, every design with its trials', () => {
  expect(layoutCalibration).toEqual(lines)
  expect(new Set(lines.map(named)).size).toBe(135)
  expect(lines.filter((line) => line.trials < 1000)).toEqual([])
})

describe('what is printed of layouts drawn at random', () => {
  it.each(drawn.map((line) => [named(line), line] as const))('%s', (_name, { holds, trials, refused }) => {
    // Not significantly under 94 % among so many lines (Bonferroni), and refused nowhere: what is not given cannot fail.
    expect(holds + 3.3 * errorOf(holds, trials)).toBeGreaterThan(0.94)
    expect(refused).toBeLessThan(0.01)
  })

  it.each(['gardens', 'split gardens', 'blocks of beds', 'swapped gardens'] as const)('%s taken together', (layout) => {
    for (const measure of ['weight', 'work', 'inputsPerKg']) {
      const own = drawn.filter((line) => line.layout === layout && line.measure === measure)
      const trials = own.reduce((sum, line) => sum + line.trials, 0)
      const holds = own.reduce((sum, line) => sum + line.holds * line.trials, 0) / trials
      expect([measure, holds > 0.94]).toEqual([measure, true])
    }
  })

  it('is told apart no oftener than one in twenty where methods keep to their rule', () => {
    for (const { told, trials } of drawn.filter((line) => line.methodBySeason === 0)) {
      expect(told - 4 * errorOf(0.05, trials)).toBeLessThan(0.05)
    }
  })
})

it('holds as often as R finds it, and is as wide', () => {
  expect(byR.map((line) => named(line as LayoutLine)).sort()).toEqual(lines.map(named).sort())
  for (const line of lines) {
    const own = byR.find((one) => named(one as LayoutLine) === named(line))
    const apart = (share: number, other: number) =>
      Math.abs(share - other) / Math.max(0.004, Math.hypot(errorOf(other, line.trials), errorOf(other, trialsByR)))
    expect([named(line), apart(line.holds, own?.holds ?? 0) < 4.5]).toEqual([named(line), true])
    expect([named(line), apart(line.told, own?.told ?? 0) < 4.5]).toEqual([named(line), true])
    expect([named(line), Math.abs(Math.log(line.width) / Math.log(own?.width ?? 0) - 1) < 0.15]).toEqual([
      ...[named(line), true],
    ])
  }
})

it('the better ground given to one method looks like an effect of it by weight, more so with more gardens', () => {
  const chosen = lines.filter((line) => line.how === 'choice' && line.layout === 'gardens' && line.measure === 'weight')
  for (const methodBySeason of [0, 0.06, 0.12]) {
    const own = chosen.filter((line) => line.methodBySeason === methodBySeason)
    expect(own.map((line) => line.units)).toEqual([2, 3, 4, 6])
    expect(own.at(-1)?.holds ?? 1).toBeLessThan((own[0]?.holds ?? 0) - 0.05)
    expect(own.at(-1)?.holds ?? 1).toBeLessThan(0.9)
  }
})

it('one garden a method holds its plots, and tells of ground as if it were a method', () => {
  const alone = lines.filter((line) => line.layout === 'one garden a method')
  expect(alone).toHaveLength(9)
  for (const { holds, told, trials } of alone) {
    expect(holds + 1.645 * errorOf(holds, trials)).toBeGreaterThan(0.94)
    expect(told).toBeGreaterThan(0.1)
  }
})
