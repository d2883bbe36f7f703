// How often what the table of all methods prints holds the truth that it names, over made-up trials of two methods that are
// alike: weight, hours per m2, inputs per kg. npm run simulate:layouts [-- trials]: resumes where it was left; the table stands
// in layouts.json beside this file and, for the pages, in src/comparison/findings/layout-calibration.ts.
import { existsSync, readFileSync, writeFileSync } from 'node:fs'
import { sideBySide } from '../../src/comparison/findings/side-by-side.ts'
import { firstTable } from '../../src/comparison/matched/first-table.ts'
import { plainRules } from '../../src/comparison/matched/matched-season.ts'
import { chanceFrom } from '../../src/statistics/chance-from.ts'
import { designs } from './designs.ts'
import { crops, type Design, type Measure, madeUp, spread } from './made-up.ts'

interface Line extends Design {
  readonly measure: Measure
  readonly trials: number
  /** Share of trials without an interval; all other shares are of those with one. */
  readonly refused: number
  /** Share of intervals that hold what they name: these plots in the long run, or the methods in these seasons. */
  readonly holds: number
  /** Share told apart though the methods are alike in the long run; and for a true 1.2, the same intervals moved by it. */
  readonly told: number
  readonly toldOfMore: number
  /** Median of upper over lower end. */
  readonly width: number
}

const more = Math.log(1.2)
const measures: readonly Measure[] = ['weight', 'work', 'inputsPerKg']
const file = new URL('./layouts.json', import.meta.url)
const trials = Number(process.argv[2] ?? 1000)
const done: Line[] = existsSync(file) ? (JSON.parse(readFileSync(file, 'utf8')) as { lines: Line[] }).lines : []

for (const [at, design] of designs.entries()) {
  if (done.some((line) => line.trials === trials && keyOf(line) === keyOf(design))) continue
  for (const line of run(design, 3000 + at)) {
    done.push(line)
    process.stdout.write(`${JSON.stringify(line)}\n`)
  }
  writeFileSync(file, `${JSON.stringify({ spread, crops, lines: done }, null, 1)}\n`)
}

// The pages read the same lines from here: everything up to the list is kept as it stands.
const page = new URL('../../src/comparison/findings/layout-calibration.ts', import.meta.url)
const mark = '\n  [\n'
const [head = ''] = readFileSync(page, 'utf8').split(mark)
const rows = done.map(({ layout, how, measure, ...line }) => {
  const { units, seasons, methodBySeason, refused, holds, told, toldOfMore, width } = line
  const figures = [units, seasons, methodBySeason, line.trials, refused, holds, told, toldOfMore, width]
  return `    ['${layout}', '${how}', '${measure}', ${figures.join(', ')}],`
})
const tail = `  ] as const
).map(([layout, how, measure, units, seasons, methodBySeason, trials, refused, ...shares]) => {
  const [holds, told, toldOfMore, width] = shares
  return {
    ...{ layout, how, measure, units, seasons, methodBySeason, trials, refused },
    ...{ holds, told, toldOfMore, width },
  }
})
`
writeFileSync(page, `${head}${mark}${rows.join('\n')}\n${tail}`)

// Drawn at random at least 94 % are held, but for chance: a line is under it where 3.3 standard errors do not reach, which
// among so many lines happens by chance once in twenty (Bonferroni).
const reached = (share: number, n: number) => share + 3.3 * Math.sqrt((share * (1 - share)) / n)
const short = done.filter(
  (line) => line.how === 'random' && reached(line.holds, line.trials * (1 - line.refused)) < 0.94,
)
for (const line of short) process.stdout.write(`under 94 %: ${JSON.stringify(line)}\n`)
process.exitCode = short.length > 0 ? 1 : 0

function keyOf({ layout, how, units, seasons, methodBySeason }: Design): string {
  return [layout, how, units, seasons, methodBySeason].join(' ')
}

function run(design: Design, seed: number): Line[] {
  const chance = chanceFrom(seed)
  const found = measures.map((measure) => ({ measure, widths: [] as number[], holds: 0, told: 0, ofMore: 0 }))
  for (let trial = 0; trial < trials; trial++) {
    const { record, truth } = madeUp(design, chance)
    const asked = { seasonIds: record.seasons.map((one) => one.id), referenceId: 'A', questionLocked: false }
    const side = sideBySide(record, firstTable(record, null), { ...asked, rules: plainRules, byPair: [] })
    const cells = side.rows.find((row) => row.methodId === 'B')?.cells
    for (const one of found) {
      const cell = cells?.[one.measure]
      if (!cell || cell.low === null || cell.high === null) continue
      const [low, high] = [Math.log(cell.low), Math.log(cell.high)]
      const named = cell.scope === 'plots' ? truth[one.measure].plots : truth[one.measure].these
      one.widths.push(high - low)
      one.holds += Number(low <= named && named <= high)
      one.told += Number(cell.told !== 'not told')
      one.ofMore += Number(low + more > 0 || high + more < 0)
    }
  }
  return found.map(({ measure, widths, holds, told, ofMore }) => {
    const share = (count: number) => (widths.length === 0 ? 0 : Number((count / widths.length).toFixed(4)))
    const median = [...widths].sort((a, b) => a - b)[widths.length >> 1] ?? 0
    return {
      ...{ ...design, measure, trials, refused: Number((1 - widths.length / trials).toFixed(4)) },
      ...{ holds: share(holds), told: share(told), toldOfMore: share(ofMore) },
      width: Number(Math.exp(median).toFixed(3)),
    }
  })
}
