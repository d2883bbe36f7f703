// How often a replicated layout's 95 % interval holds the method's effect, and how often it finds one, over made-up trials
// whose truth is known. npm run simulate:layouts [-- trials]: resumes where it was left; the table stands in layouts.json
// beside this file and, for the pages, in src/comparison/findings/layout-calibration.ts.
import { existsSync, readFileSync, writeFileSync } from 'node:fs'
import type { How, LayoutKind } from '../../src/seasons/layout.ts'
import { type Chance, chanceFrom } from '../../src/statistics/chance-from.ts'
import { linearModel } from '../../src/statistics/linear-model.ts'
import { meanOf } from '../../src/statistics/moments.ts'
import { powerOf } from '../../src/statistics/power-of.ts'
import { qt } from '../../src/statistics/qt.ts'
import { seasonContrast } from '../../src/statistics/season-contrast.ts'

/** Standard deviations on the log scale, as for the demo; crops by garden are crops by bed or half where ground is split. */
const spread = { garden: 0.2, gardenBySeason: 0.12, cropByGarden: 0.25, residual: 0.25 }
const methodEffect = Math.log(1.2)
const crops = 8

/**
 * By choice: what the grower knows of a garden's lasting ground errs by as much as grounds differ, and method B gets the half of
 * the gardens that seem better.
 */
const knowledge = { sdOfError: spread.garden }

interface Design {
  readonly layout: Extract<LayoutKind, 'gardens' | 'split gardens' | 'blocks of beds'>
  readonly how: Extract<How, 'random' | 'choice'>
  /** Gardens a method, split gardens, or blocks. */
  readonly units: number
  readonly seasons: number
  readonly effect: 0 | 1
}

interface Line extends Design {
  readonly trials: number
  /** Share of the intervals that hold the method's effect. */
  readonly holds: number
  /** Share that leave out 1: false findings where the effect is nothing, power where it is not; and what `powerOf` says of it. */
  readonly finds: number
  readonly predicted: number
  /** Mean of the estimated log ratios less the true one. */
  readonly bias: number
}

const file = new URL('./layouts.json', import.meta.url)
const trials = Number(process.argv[2] ?? 5000)
const done: Line[] = existsSync(file) ? (JSON.parse(readFileSync(file, 'utf8')) as { lines: Line[] }).lines : []

const layouts = [
  { layout: 'gardens', how: 'random' },
  { layout: 'gardens', how: 'choice' },
  { layout: 'split gardens', how: 'random' },
  { layout: 'blocks of beds', how: 'random' },
] as const
const designs: Design[] = layouts.flatMap((kind) =>
  [2, 4, 6].flatMap((units) =>
    [1, 3].flatMap((seasons) => ([0, 1] as const).map((effect) => ({ ...kind, units, seasons, effect }))),
  ),
)

for (const [at, design] of designs.entries()) {
  if (done.some((line) => line.trials === trials && keyOf(line) === keyOf(design))) continue
  const line = { ...design, ...run(design, 3000 + at) }
  done.push(line)
  writeFileSync(file, `${JSON.stringify({ spread, methodEffect, crops, knowledge, lines: done }, null, 1)}\n`)
  process.stdout.write(`${JSON.stringify(line)}\n`)
}

// The pages read the same lines from here.
const page = new URL('../../src/comparison/findings/layout-calibration.ts', import.meta.url)
const head = `/** One layout of a made-up trial: how often its 95 % interval held the method's effect, and how often it found one. */
export interface LayoutLine {
  readonly layout: 'gardens' | 'split gardens' | 'blocks of beds'
  /** By choice the better half of the gardens, as far as the grower knows it, went to one method. */
  readonly how: 'random' | 'choice'
  /** Gardens a method, split gardens, or blocks. */
  readonly units: number
  readonly seasons: number
  /** The true ratio of the methods is 1 or 1.2. */
  readonly effect: 0 | 1
  readonly trials: number
  /** Share of intervals that held it: here it is the same everywhere, though blocks on one site can tell of that site only. */
  readonly holds: number
  /** Share that left out 1: false findings where the ratio is 1, else power; and what the noncentral t predicts. */
  readonly finds: number
  readonly predicted: number
  /** Mean log ratio found, less the true one. */
  readonly bias: number
}

/**
 * Written by npm run simulate:layouts; eight matched crops; log-scale spreads of gardens 0.20, gardens and seasons 0.12, crops
 * and ground 0.25, the rest 0.25. One value a garden, the mean over seasons of the mean over crops; or one difference a split
 * garden or block; t with degrees of freedom from those. Methods do not suit one garden better than another in these trials.
 */
export const layoutCalibration: readonly LayoutLine[] = (
  [`
const tail = `  ] as const
).map(([layout, how, units, seasons, effect, trials, holds, finds, predicted, bias]) => ({
  ...{ layout, how, units, seasons, effect, trials },
  ...{ holds, finds, predicted, bias },
}))
`
const rows = done.map(
  ({ layout, how, units, seasons, effect, trials: count, holds, finds, predicted: power, bias }) => {
    const numbers = [units, seasons, effect, count, holds, finds, power, bias]
    return `    ['${layout}', '${how}', ${numbers.join(', ')}],`
  },
)
writeFileSync(page, [head, ...rows, tail].join('\n'))

function keyOf({ layout, how, units, seasons, effect }: Design): string {
  return [layout, how, units, seasons, effect].join(' ')
}

function run(design: Design, seed: number): Omit<Line, keyof Design> {
  const chance = chanceFrom(seed)
  const truth = design.effect * methodEffect
  let [holds, finds, errors] = [0, 0, 0]
  for (let trial = 0; trial < trials; trial++) {
    const { estimate, low, high } =
      design.layout === 'gardens' ? wholeGardens(design, truth, chance) : bothInEach(design, truth, chance)
    holds += Number(low <= truth && truth <= high)
    finds += Number(low > 0 || high < 0)
    errors += estimate - truth
  }
  const round = (share: number) => Number((share / trials).toFixed(6))
  return { trials, holds: round(holds), finds: round(finds), predicted: predicted(design, truth), bias: round(errors) }
}

interface Interval {
  readonly estimate: number
  readonly low: number
  readonly high: number
}

/** One value a garden; the gardens drawn at random, or the better half of them, as it seems, to method B. */
function wholeGardens({ units, seasons, how }: Design, truth: number, chance: Chance): Interval {
  const gardens = Array.from({ length: 2 * units }, () => {
    const ground = spread.garden * chance.normal()
    const rank = how === 'choice' ? ground + knowledge.sdOfError * chance.normal() : chance.uniform()
    return { ground, rank }
  }).sort((one, other) => one.rank - other.rank)
  const method = gardens.map((_, i) => (i < units ? 'a' : 'b'))
  const y = gardens.map(({ ground }, i) => {
    const turns = Array.from({ length: seasons }, () => spread.gardenBySeason * chance.normal())
    return ground + (method[i] === 'b' ? truth : 0) + meanOf(turns) + ofCrops(seasons, chance)
  })
  const found = linearModel({ y, fixed: { method } })
  if (found.kind === 'refused') throw new Error(found.reason)
  const { estimate, se } = found.coefficients[1] ?? { estimate: 0, se: 0 }
  const reach = qt(0.975, found.residual.df) * se
  return { estimate, low: estimate - reach, high: estimate + reach }
}

/** One difference a split garden or block: its ground and its season are common to both sides, and are drawn all the same. */
function bothInEach({ units, seasons }: Design, truth: number, chance: Chance): Interval {
  const differences = Array.from({ length: units }, () => {
    const ground = spread.garden * chance.normal()
    const turn = meanOf(Array.from({ length: seasons }, () => spread.gardenBySeason * chance.normal()))
    const [a, b] = [ofCrops(seasons, chance), ofCrops(seasons, chance)]
    return ground + turn + truth + b - (ground + turn + a)
  })
  const found = seasonContrast(differences)
  if (found.kind === 'refused') throw new Error(found.reason)
  return found
}

/** What crops add to a piece of ground over the seasons: their lasting liking of it, and the rest of each season. */
function ofCrops(seasons: number, chance: Chance): number {
  return meanOf(
    Array.from({ length: crops }, () => {
      const liking = spread.cropByGarden * chance.normal()
      return liking + meanOf(Array.from({ length: seasons }, () => spread.residual * chance.normal()))
    }),
  )
}

/** Power from the known variances, as if the gardens had been drawn. */
function predicted({ layout, units, seasons }: Design, truth: number): number {
  const own = (spread.cropByGarden ** 2 + spread.residual ** 2 / seasons) / crops
  const whole = spread.garden ** 2 + spread.gardenBySeason ** 2 / seasons + own
  const paired = layout !== 'gardens'
  const found = powerOf({ n: units, difference: truth, sd: Math.sqrt(paired ? 2 * own : whole), paired })
  if (found.kind === 'refused') throw new Error(found.reason)
  return Number(found.power.toFixed(6))
}
