import { execFile, execFileSync } from 'node:child_process'
import { mkdirSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { promisify } from 'node:util'
import { comparePage } from '../../src/comparison/compare.page.ts'
import { findingsPage, type Question } from '../../src/comparison/findings/findings.page.ts'
import { firstTable } from '../../src/comparison/matched/first-table.ts'
import type { EntryRecord, TrialRecord } from '../../src/comparison/record/trial-record.ts'
import { furtherTables, unitsOfFigures } from '../../src/comparison/rows/figures-csv.ts'
import { figureTablesIn } from '../../src/reports/figure-tables.ts'
import { recomputeScript } from '../../src/reports/recompute-script.ts'
import type { Contents } from '../../src/reports/report.page.ts'
import {
  type HoursRowSent,
  type RowTables,
  reportTables,
  rowTableNames,
  type WeighingRowSent,
} from '../../src/reports/row-tables.ts'
import { rowsKept } from '../../src/reports/rows-kept.ts'
import { writeCsv } from '../../src/web/csv.ts'
import { keptTexts } from '../../src/web/kept-texts.ts'

/** The kept files of the script, as the service reads them. */
export const scriptParts = keptTexts(join(process.cwd(), 'recompute'), 'R')

export const hasR = (() => {
  try {
    execFileSync('Rscript', ['--version'], { stdio: 'ignore' })
    return true
  } catch {
    return false
  }
})()

/** Entries of hours and weighings with how they were written; everything else of a record. */
export interface OddTrial {
  readonly record: Omit<TrialRecord, 'entries' | 'labour' | 'plantings'> & {
    readonly plantings: readonly Omit<TrialRecord['plantings'][number], 'marketableG' | 'unmarketableG' | 'weighed'>[]
  }
  readonly weighings: readonly WeighingRowSent[]
  readonly hours: readonly HoursRowSent[]
}

/** The record as the database would give it. */
export function recordFrom({ record, weighings, hours }: OddTrial): TrialRecord {
  const placeOf = (one: HoursRowSent) =>
    one.gardenId
      ? record.beds.filter((bed) => bed.gardenId === one.gardenId).map((bed) => bed.id)
      : one.bedId
        ? [one.bedId]
        : []
  const bedsAt = (one: HoursRowSent) => one.beds ?? placeOf(one)
  const entries = new Map<string, EntryRecord>()
  const enter = ({ id, seasonId, paper, late }: HoursRowSent | WeighingRowSent, bedIds: readonly string[]) =>
    entries.set(id, { seasonId, paper, late, bedIds: [...new Set([...(entries.get(id)?.bedIds ?? []), ...bedIds])] })
  for (const one of hours) enter(one, bedsAt(one))
  const bedOf = new Map(record.plantings.map((one) => [one.id, one.bedId]))
  for (const one of weighings) enter(one, [bedOf.get(one.plantingId) ?? ''])
  return {
    ...record,
    plantings: record.plantings.map((one) => {
      const weighed = weighings.filter((own) => own.plantingId === one.id)
      const sum = (of: 'marketableG' | 'unmarketableG') => weighed.reduce((total, own) => total + own[of], 0)
      return { ...one, weighed, marketableG: sum('marketableG'), unmarketableG: sum('unmarketableG') }
    }),
    labour: hours.map((one) => {
      const { seasonId, task, phase, personMinutes, isoWeek, plantingId, byRule } = one
      const row = { seasonId, task, phase, personMinutes, isoWeek, plantingId, sharedByRule: byRule }
      return { ...row, bedIds: bedsAt(one), writtenFor: one.writtenFor ?? placeOf(one) }
    }),
    entries: [...entries.values()],
  }
}

/** What a report on one season, or on all, would show and hand out. */
export function reportOn(trial: OddTrial, season: string | null, question: Question | null = null) {
  const record = recordFrom(trial)
  const seasonIds = season === null ? record.seasons.map((one) => one.id) : [season]
  const table = firstTable(record, season)
  const said = findingsPage(record, seasonIds, { question, locale: 'en', currency: 'EUR' })
  const contents: Contents = {
    ...{
      page: { ...comparePage(table, 'en', 'EUR'), said },
      table,
      tables: furtherTables(record, { seasonIds, told: said }),
    },
    ...{ units: unitsOfFigures(), group: 'Quern Hill', locale: 'en', timeZone: 'UTC', currency: 'EUR' },
  }
  const kept = rowsKept(record, seasonIds)
  const planted = new Set(kept.record.plantings.map((one) => one.id))
  const rows = reportTables(kept.record, {
    weighings: trial.weighings.filter((one) => planted.has(one.plantingId)),
    hours: trial.hours.filter(kept.keepsHours),
    ...{ manured: [], touchesSoil: new Map() },
  })
  return { contents, rows }
}

/** Saves a report as whoever was sent it would: its rows, its figures and the script. */
export function saveReport(
  folder: string,
  { contents, rows }: { readonly contents: Contents; readonly rows: RowTables },
) {
  mkdirSync(folder, { recursive: true })
  for (const name of rowTableNames) writeFileSync(join(folder, `${name}.csv`), writeCsv(rows[name]))
  const tables = figureTablesIn(contents)
  for (const [name, table] of tables) writeFileSync(join(folder, `figures-${name}.csv`), writeCsv(table))
  writeFileSync(join(folder, 'recompute.R'), recomputeScript({ from: '', query: '', contents, parts: scriptParts }))
  return tables
}

const run = promisify(execFile)

/** What the script says, table by table, and with which status it ends. */
export async function countAgain(script: string, folder?: string) {
  // Most of a script is run once: to compile it on the way takes longer than to run it.
  const env = { ...process.env, R_ENABLE_JIT: '0' }
  const options = { timeout: 240_000, maxBuffer: 1e8, env }
  const ended = await run('Rscript', ['--vanilla', script, ...(folder ? [folder] : [])], options).then(
    ({ stdout, stderr }) => ({ stdout, stderr, code: 0 }),
    (error: { stdout: string; stderr: string; code: number }) => error,
  )
  const { stdout, stderr, code } = ended
  const line = /^([\w-]+): (\d+) figures counted again; largest difference (\S+) of the figure; (\d+) missing/gm
  const lines = [...stderr.matchAll(line)].map(([, table = '', ...said]) => [table, said.map(Number)] as const)
  return {
    ...{ stdout, stderr, code, counted: new Map(lines.map(([table, [count = 0]]) => [table, count])) },
    /** Tables of which a figure is unlike the report's. */
    apart: lines.flatMap(([table, [, most = 0, missing = 0]]) => (most > 1e-9 || missing > 0 ? [table] : [])),
  }
}
