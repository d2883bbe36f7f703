// How often the first sentence of the summary is contradicted by the truth, over the made-up trials of layouts.ts: by weight, in
// every design. npm run simulate:sentences [-- trials]: the table stands in sentences.json and, for the pages, in
// src/comparison/findings/sentence-calibration.ts.
import { writeFileSync } from 'node:fs'
import { findingsOf } from '../../src/comparison/findings/findings.ts'
import type { SentenceLine } from '../../src/comparison/findings/sentence-calibration.ts'
import type { Beside } from '../../src/comparison/findings/summary.ts'
import { summaryOfRecord } from '../../src/comparison/findings/summary-of-record.ts'
import { chanceFrom } from '../../src/statistics/chance-from.ts'
import { designs } from './designs.ts'
import { type Design, madeUp } from './made-up.ts'

const trials = Number(process.argv[2] ?? 400)
const lines: SentenceLine[] = designs.map((design, at) => {
  const line = run(design, 9000 + at)
  process.stdout.write(`${JSON.stringify(line)}\n`)
  return line
})
writeFileSync(new URL('./sentences.json', import.meta.url), `${JSON.stringify({ lines }, null, 1)}\n`)
const rows = lines.map(({ layout, how, ...line }) => {
  const { units, methodBySeason, trials: n, told, outside, wrongSide } = line
  return `    ['${layout}', '${how}', ${[units, methodBySeason, n, told, outside, wrongSide].join(', ')}],`
})
writeFileSync(
  new URL('../../src/comparison/findings/sentence-calibration.ts', import.meta.url),
  `import type { LayoutLine } from './layout-calibration.ts'

/** How often the first sentence of the summary, which is of the weight, was contradicted by the truth it names. */
export interface SentenceLine extends Pick<LayoutLine, 'layout' | 'how' | 'units' | 'methodBySeason' | 'trials'> {
  /** Share that told the two apart. */
  readonly told: number
  /** Share whose range did not hold the truth. */
  readonly outside: number
  /** Share that told more where the truth was less, or less where it was more. */
  readonly wrongSide: number
}

/** Written by npm run simulate:sentences, over the trials of layout-calibration.ts. */
export const sentenceCalibration: readonly SentenceLine[] = (
  [
${rows.join('\n')}
  ] as const
).map(([layout, how, units, methodBySeason, trials, told, outside, wrongSide]) => ({
  ...{ layout, how, units, methodBySeason, trials, told, outside, wrongSide },
}))
`,
)

function run(design: Design, seed: number): SentenceLine {
  const chance = chanceFrom(seed)
  let [told, outside, wrongSide] = [0, 0, 0]
  for (let trial = 0; trial < trials; trial++) {
    const { record: whole, truth } = madeUp(design, chance)
    // The first sentence is of the weight: nothing else is reckoned.
    const record = { ...whole, labour: [], spreadings: [] }
    const seasonIds = record.seasons.map((one) => one.id)
    const found = findingsOf(record, { seasonIds, referenceId: 'A', questionLocked: false })
    const [weight] = summaryOfRecord(record, seasonIds, { referenceId: 'A', found }).measures
    if (weight?.measure !== 'weight') throw new Error('The first sentence is not of the weight.')
    const named = design.layout === 'one garden a method' ? truth.weight.plots : truth.weight.these
    const { more, less, untold, open, unsayable } = weight
    const [said] = [...more, ...less, ...untold, ...open, ...unsayable]
    if (!said) throw new Error(`Nothing is said of the weight: ${JSON.stringify(weight)}`)
    told += more.length + less.length
    outside += Number(unsayable.length === 0 && !holds(said, named))
    wrongSide += Number((more.length > 0 && named < 0) || (less.length > 0 && named > 0))
  }
  const share = (count: number) => Number((count / trials).toFixed(4))
  const { layout, how, units, methodBySeason } = design
  return {
    ...{ layout, how, units, methodBySeason, trials },
    ...{ told: share(told), outside: share(outside), wrongSide: share(wrongSide) },
  }
}

function holds({ low, high }: Beside, log: number): boolean {
  if (low === null || high === null) throw new Error('A range without ends.')
  return Math.log(low) <= log && log <= Math.log(high)
}
