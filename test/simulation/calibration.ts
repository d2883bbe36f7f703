// How often the comparison's 95 % intervals hold the truth, over made-up trials whose truth is known.
// npm run simulate [-- trials]: resumes where it was left; the table stands in calibration.json beside this file.
import { existsSync, readFileSync, writeFileSync } from 'node:fs'
import { overSeasons } from '../../src/comparison/matched/over-seasons.ts'
import type { TrialRecord } from '../../src/comparison/record/trial-record.ts'
import { always } from '../../src/gardens/areas-held.ts'
import { chanceFrom } from '../../src/statistics/chance-from.ts'

/** Standard deviations on the log scale, as for the demo; and twice them. */
const spread = { garden: 0.2, gardenBySeason: 0.12, cropByGarden: 0.25, residual: 0.25 }
const methodEffect = Math.log(1.2)

export interface Design {
  readonly crops: number
  readonly seasons: number
  readonly times: 1 | 2
  readonly losses: boolean
  readonly effect: 0 | 1
}

export interface Line extends Design {
  readonly trials: number
  readonly refused: number
  /** Share of the intervals that hold the true log ratio of these two plots, and that of the two methods. */
  readonly holdsPlots: number
  readonly holdsMethod: number
  /** Share of intervals that leave out 1: false where these plots do not differ in the long run. */
  readonly seen: number
}

const file = new URL('./calibration.json', import.meta.url)
const trials = Number(process.argv[2] ?? 5000)
const done: Line[] = existsSync(file) ? (JSON.parse(readFileSync(file, 'utf8')) as { lines: Line[] }).lines : []

const designs: Design[] = [3, 8, 15].flatMap((crops) =>
  [1, 3, 6].flatMap((seasons) =>
    ([1, 2] as const).flatMap((times) =>
      [false, true].flatMap((losses) => ([0, 1] as const).map((effect) => ({ crops, seasons, times, losses, effect }))),
    ),
  ),
)

for (const [at, design] of designs.entries()) {
  if (done.some((line) => line.trials === trials && same(line, design))) continue
  const line = { ...design, ...run(design, 1000 + at) }
  done.push(line)
  writeFileSync(file, `${JSON.stringify({ spread, methodEffect, lines: done }, null, 1)}\n`)
  process.stdout.write(`${JSON.stringify(line)}\n`)
}

// The page that shows how the figures are made reads the same lines from here.
const page = new URL('../../src/comparison/findings/calibration.ts', import.meta.url)
const compact = done.map((line) => [
  ...[line.crops, line.seasons, line.times, Number(line.losses), line.effect],
  ...[line.trials, line.refused, line.holdsPlots, line.holdsMethod, line.seen],
])
const head = [
  '/**',
  ' * Written by npm run simulate: crops, seasons, times the spread, losses, effect, trials, refused, and the shares of intervals',
  ' * that hold these plots, that hold the methods, and that leave out 1.',
  ' */',
]
const rows = compact.map((line) => `  [${line.join(', ')}],`)
writeFileSync(
  page,
  [...head, 'export const calibration: readonly (readonly number[])[] = [', ...rows, ']', ''].join('\n'),
)

const limit = (share: number, n: number) => share + 1.645 * Math.sqrt((share * (1 - share)) / n)
const short = done.filter((line) => line.seasons > 1 && limit(line.holdsPlots, line.trials - line.refused) < 0.94)
for (const line of short) process.stdout.write(`under 94 % for these plots: ${JSON.stringify(line)}\n`)
process.exitCode = short.length > 0 ? 1 : 0

function same(a: Design, b: Design): boolean {
  return (
    a.crops === b.crops &&
    a.seasons === b.seasons &&
    a.times === b.times &&
    a.losses === b.losses &&
    a.effect === b.effect
  )
}

function run(design: Design, seed: number): Omit<Line, keyof Design> {
  const chance = chanceFrom(seed)
  const by = (sd: number) => sd * design.times * chance.normal()
  const many = manySeasons(design)
  let [refused, plots, method, seen] = [0, 0, 0, 0]
  for (let trial = 0; trial < trials; trial++) {
    const garden = [by(spread.garden), by(spread.garden)] as const
    const lasting = Array.from(
      { length: design.crops },
      () => [by(spread.cropByGarden), by(spread.cropByGarden)] as const,
    )
    const truth = design.effect * methodEffect
    const rates = Array.from({ length: design.seasons }, () => {
      const season = [by(spread.gardenBySeason), by(spread.gardenBySeason)] as const
      return lasting.map(([a, b], crop) => {
        const lost = design.losses && chance.uniform() < 0.03 ? chance.below(2) : -1
        const kg = (side: 0 | 1, own: number) =>
          side === lost
            ? 0
            : (2 + (crop % 3)) * Math.exp(garden[side] + season[side] + own + side * truth + by(spread.residual))
        return [kg(0, a), kg(1, b)] as const
      })
    })
    const found = overSeasons(
      recordOf(rates),
      rates.map((_, i) => `s${i}`),
      { methodA: 'a', methodB: 'b' },
    )
    if (found.kind === 'refused' || found.contrast.kind === 'refused') {
      refused += 1
      continue
    }
    const { low, high } = found.contrast
    const plotsTruth = truePlots(
      lasting.map(([a, b], crop) => [
        (2 + (crop % 3)) * Math.exp(garden[0] + a),
        (2 + (crop % 3)) * Math.exp(garden[1] + b + truth),
      ]),
      many,
    )
    plots += Number(low <= plotsTruth && plotsTruth <= high)
    method += Number(low <= truth && truth <= high)
    seen += Number(low > 0 || high < 0)
  }
  const counted = Math.max(1, trials - refused)
  return { trials, refused, holdsPlots: plots / counted, holdsMethod: method / counted, seen: seen / counted }
}

/** One season's draws of everything that changes from season to season, as factors on each garden and crop. */
type SeasonDrawn = readonly (readonly [number, number])[]

/** Many seasons of one design, drawn once: these plots' truth is what the log ratio averages to over them. */
function manySeasons(design: Design): readonly SeasonDrawn[] {
  const chance = chanceFrom(77)
  const by = (sd: number) => sd * design.times * chance.normal()
  return Array.from({ length: 400 }, () => {
    const turn = [by(spread.gardenBySeason), by(spread.gardenBySeason)] as const
    return Array.from({ length: design.crops }, (): readonly [number, number] => {
      const lost = design.losses && chance.uniform() < 0.03 ? chance.below(2) : -1
      const factor = (side: 0 | 1) => (side === lost ? 0 : Math.exp(turn[side] + by(spread.residual)))
      return [factor(0), factor(1)]
    })
  })
}

/** The plots' lasting kilograms by garden and crop, under every season of the list. */
function truePlots(lasting: readonly (readonly [number, number])[], seasons: readonly SeasonDrawn[]): number {
  let sum = 0
  for (const season of seasons) {
    let [a, b] = [0, 0]
    for (const [crop, [one, other]] of lasting.entries()) {
      a += one * (season[crop]?.[0] ?? 0)
      b += other * (season[crop]?.[1] ?? 0)
    }
    sum += Math.log(b / a)
  }
  return sum / seasons.length
}

function recordOf(rates: readonly (readonly (readonly [number, number])[])[]): TrialRecord {
  const ids = rates.map((_, i) => `s${i}`)
  return {
    seasons: ids.map((id) => ({
      id,
      name: id,
      startsOn: '2025-01-01',
      endsOn: '2025-01-20',
      closed: true,
      changedSince: 0,
      sealed: 0,
    })),
    methods: ['a', 'b'].map((id) => ({ id, name: id })),
    gardens: ['a', 'b'].map((id) => ({ id, name: id, areas: always(1_000_000) })),
    beds: ['a', 'b'].map((id) => ({ id, gardenId: id, areas: always(1_000_000) })),
    assignments: ids.flatMap((seasonId) =>
      ['a', 'b'].map((id) => ({ seasonId, gardenId: id, bedId: null, methodId: id })),
    ),
    plantings: rates.flatMap((crops, s) =>
      crops.flatMap((pair, crop) =>
        pair.map((kg, side) => ({
          ...{
            id: `${s} ${crop} ${side}`,
            seasonId: `s${s}`,
            bedId: side === 0 ? 'a' : 'b',
            crop: `c${crop}`,
            cultivar: 'x',
          },
          ...{ matchedSetId: `${s} ${crop}`, areaCm2: 40_000, purpose: 'harvest', cleared: true, unmarketableG: 0 },
          marketableG: Math.round(4000 * kg),
        })),
      ),
    ),
    losses: [],
    labour: [],
    spreadings: [],
    closings: [],
  }
}
