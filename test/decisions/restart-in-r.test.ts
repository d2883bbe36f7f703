import { execFileSync } from 'node:child_process'
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { parse } from 'csv-parse/sync'
import { describe, expect, it } from 'vitest'
import type { Worth } from '../../src/decisions/restart.ts'
import { type Assumptions, assumedKeys, restartChances } from '../../src/decisions/restart-chances.ts'
import { chanceFrom } from '../../src/statistics/chance-from.ts'
import { writeCsv } from '../../src/web/csv.ts'
import { hasR } from '../reports/recompute-folder.ts'

const spread = (low: number, middle: number, high: number) => ({ low, middle, high })
const assumptions: Assumptions = {
  covered: spread(1, 1, 2),
  coverMinutes: spread(120, 240, 480),
  hoeMinutes: spread(60, 300, 420),
  falls: spread(0, 0.1, 0.4),
  lostToWeed: spread(0, 0.1, 0.3),
  comesBack: spread(0.1, 0.4, 0.9),
  ownG: spread(12_000, 20_000, 26_000),
  ownMinutes: spread(200, 300, 300),
  transplantMinutes: spread(0, 30, 90),
  transplantLost: spread(0, 0.1, 0.2),
}
const worths: [string, Worth][] = [
  ['hours', { kind: 'hours', minutesPerKg: 15 }],
  ['money', { kind: 'money', wageMinorPerHour: 2_000, priceMinorPerKg: 800, materialsMinor: 5_000 }],
]
const [seed, draws, seasons] = [20_260_811, 1_001, 4.5]

describe.skipIf(!hasR)('percentiles by the same draws in R (Rscript is not on every machine)', () => {
  it.each(worths)('in %s', (_, worth) => {
    const chance = chanceFrom(seed)
    const uniforms = Array.from({ length: draws }, () => [...assumedKeys.map(() => chance.uniform()), chance.uniform()])
    const folder = mkdtempSync(join(tmpdir(), 'evenground-restart-'))
    const write = (name: string, cells: Parameters<typeof writeCsv>[0]) =>
      writeFileSync(join(folder, `${name}.csv`), writeCsv(cells))
    try {
      write('draws', [[...assumedKeys, 'back'], ...uniforms])
      const ends = assumedKeys.map((key) => [key, ...Object.values(assumptions[key])])
      write('assumed', [['key', 'low', 'middle', 'high'], ...ends])
      const terms =
        worth.kind === 'hours'
          ? ['hours', seasons, worth.minutesPerKg, 0, 0, 0]
          : ['money', seasons, 0, worth.wageMinorPerHour, worth.priceMinorPerKg, worth.materialsMinor]
      write('terms', [['kind', 'seasons', 'minutesPerKg', 'wage', 'price', 'materials'], terms])
      execFileSync('Rscript', ['--vanilla', 'test/decisions/restart.R', folder])
      const rows = parse(readFileSync(join(folder, 'answer.csv'), 'utf8'), { columns: true }) as Record<
        string,
        string
      >[]
      const inR = (what: string) =>
        rows.filter((row) => row.what === what).map(({ low, middle, high }) => [low, middle, high].map(Number))
      const found = restartChances({ assumptions, worth, seasons, seed, draws })
      expect(found.coveringLess).toBeCloseTo(inR('share')[0]?.[0] ?? Number.NaN, 12)
      const near = (band: { low: number; middle: number; high: number } | null, r: number[] | undefined) =>
        expect(Object.values(band ?? {}).map((one) => one / 100)).toEqual(r?.map((one) => expect.closeTo(one / 100, 8)))
      near(found.breakEvenMinutes, inR('even')[0])
      for (const way of ['hoeing', 'covering'] as const) {
        expect(inR(way)).toHaveLength(6)
        for (const [i, one] of found.course.entries()) near(one[way], inR(way)[i])
      }
      // Neither way wins for certain: the check is of draws that differ.
      expect([found.coveringLess > 0.05, found.coveringLess < 0.95]).toEqual([true, true])
    } finally {
      rmSync(folder, { recursive: true, force: true })
    }
  })
})
