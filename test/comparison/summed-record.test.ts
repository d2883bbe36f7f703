import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { addPerson } from '../../src/accounts/members.queries.ts'
import { findingsPage } from '../../src/comparison/findings/findings.page.ts'
import { otherwisePage } from '../../src/comparison/findings/otherwise.page.ts'
import { replicatedPage } from '../../src/comparison/findings/replicated.page.ts'
import { sideBySide } from '../../src/comparison/findings/side-by-side.ts'
import { firstTable } from '../../src/comparison/matched/first-table.ts'
import { pictureFigures } from '../../src/comparison/pictures/picture-figures.page.ts'
import { trialRecord } from '../../src/comparison/record/trial-record.queries.ts'
import type { TrialRecord } from '../../src/comparison/record/trial-record.ts'
import { furtherTables } from '../../src/comparison/rows/figures-csv.ts'
import { plainMeasureRules } from '../../src/comparison/totals/measures.ts'
import type { Database } from '../../src/db/database.ts'
import { asMember } from '../../src/db/transaction.ts'
import { copyDemo } from '../../src/demo/making.routes.ts'
import { oddGroup } from '../benchmark/odd-group.ts'
import { openTestDatabase } from '../support/database.ts'

let database: Database
let odd: string
let example: string
beforeAll(async () => {
  database = await openTestDatabase()
  odd = (await oddGroup(database, { seasons: 2, harvests: 700, labour: 400 }, 6)).groupId
  await copyDemo(database, await addPerson(database, { name: 'Bo', email: 'bo@example.org', password: 'long enough' }))
  const { rows } = (await database.drizzle.execute(`select id from groups where id <> '${odd}'`)) as unknown as {
    rows: { id: string }[]
  }
  example = rows[0]?.id ?? ''
})
afterAll(() => database.close())

const recordIn = (groupId: string, grain: 'rows' | 'sums') =>
  asMember(database, { personId: null, groupId, readOnly: true }, (tx) => trialRecord(tx, groupId, grain))

/** All that Compare, its pictures and its tables say of some seasons. */
function saidOf(record: TrialRecord, seasonIds: readonly string[]) {
  const where = { locale: 'en-GB', currency: 'EUR' }
  const said = findingsPage(record, seasonIds, { question: null, ...where })
  const table = firstTable(record, seasonIds.length === 1 ? (seasonIds[0] ?? null) : null)
  return JSON.stringify([
    table,
    said,
    sideBySide(record, table, { ...said, seasonIds }),
    replicatedPage(record, seasonIds, { ...said, ...where }),
    pictureFigures(record, seasonIds, {
      referenceId: said.referenceId,
      rules: said.rules,
      comparisonsOf: () => 1,
      otherIds: said.others.map((one) => one.id),
    }),
    furtherTables(record, { seasonIds, told: said }),
    ...(['method', 'garden', 'bed', 'crop'] as const).map((by) =>
      otherwisePage(record, seasonIds, { by, rules: { ...plainMeasureRules, establishing: 'spread' }, ...where }),
    ),
  ])
}

describe('the record in sums says what the record in rows says', () => {
  it.each(['odd', 'example'] as const)('of the %s group, season by season and over all', async (which) => {
    const groupId = which === 'odd' ? odd : example
    const [rows, sums] = [await recordIn(groupId, 'rows'), await recordIn(groupId, 'sums')]
    // Those of its closed seasons are kept by now.
    const again = await recordIn(groupId, 'sums')
    const ids = rows.seasons.map((one) => one.id)
    expect(ids.length).toBeGreaterThan(1)
    for (const seasonIds of [...ids.map((id) => [id]), ids])
      for (const read of [sums, again]) expect(saidOf(read, seasonIds)).toBe(saidOf(rows, seasonIds))
    const counted = (record: TrialRecord) => (record.entries ?? []).reduce((sum, one) => sum + (one.times ?? 1), 0)
    expect(counted(sums)).toBe(counted(rows))
    expect(sums.entries?.length).toBeLessThan(counted(rows) / 2)
    // By itself stands only what several places share.
    const single = (record: TrialRecord) => record.labour.filter((one) => one.id !== undefined).length
    expect(single(sums)).toBeLessThan(single(rows) / 2)
  })

  it('holds what divides, moves and leaves out', async () => {
    const { labour, plantings, losses, readTwice, entries } = await recordIn(odd, 'rows')
    expect(labour.some((one) => one.sharedByRule)).toBe(true)
    expect(labour.some((one) => one.writtenFor !== undefined)).toBe(true)
    expect(labour.some((one) => one.ofNursery)).toBe(true)
    expect(labour.some((one) => one.phase === 'establishing')).toBe(true)
    expect(labour.some((one) => one.plantingId)).toBe(true)
    expect(plantings.some((one) => one.weighed?.some((part) => part.shared))).toBe(true)
    expect(plantings.some((one) => one.weighed?.some((part) => part.cut !== undefined))).toBe(true)
    expect(plantings.some((one) => !one.cleared)).toBe(true)
    expect(plantings.some((one) => one.id.includes('@'))).toBe(true)
    expect(losses.length).toBeGreaterThan(0)
    expect(readTwice?.length).toBeGreaterThan(0)
    for (const [paper, late] of [
      [true, true],
      [true, false],
      [false, true],
      [false, false],
    ])
      expect(entries?.some((one) => one.paper === paper && one.late === late)).toBe(true)
  })
})
