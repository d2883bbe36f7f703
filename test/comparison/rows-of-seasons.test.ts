import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { addPerson } from '../../src/accounts/members.queries.ts'
import { plainRules } from '../../src/comparison/matched/matched-season.ts'
import type { Grain } from '../../src/comparison/record/as-written.queries.ts'
import { closuresOf } from '../../src/comparison/record/closures.queries.ts'
import { trialRecord } from '../../src/comparison/record/trial-record.queries.ts'
import type { TrialRecord } from '../../src/comparison/record/trial-record.ts'
import { rowsPage } from '../../src/comparison/rows/rows.page.ts'
import { methodsIn, rowsBehind } from '../../src/comparison/rows/rows-behind.ts'
import { scopeOf } from '../../src/comparison/rows/rows-scope.ts'
import { rowTable, rowTables } from '../../src/comparison/rows/rows-tables.ts'
import { plainMeasureRules } from '../../src/comparison/totals/measures.ts'
import type { Database } from '../../src/db/database.ts'
import { newId } from '../../src/db/new-id.ts'
import { asMember } from '../../src/db/transaction.ts'
import { seasonsCovered } from '../../src/decisions/covered-before.ts'
import { restartStart } from '../../src/decisions/restart-start.ts'
import { copyDemo } from '../../src/demo/making.routes.ts'
import { bedClosures } from '../../src/gardens/gardens.table.ts'
import { patchesOf } from '../../src/notes/notes.queries.ts'
import { thursdayOf, weekOf } from '../../src/quantities/iso-week.ts'
import { oddGroup } from '../benchmark/odd-group.ts'
import { openTestDatabase } from '../support/database.ts'

let database: Database
const groupIds: Record<string, string> = {}
beforeAll(async () => {
  database = await openTestDatabase()
  groupIds.odd = (await oddGroup(database, { seasons: 3, harvests: 900, labour: 500 }, 11)).groupId
  await copyDemo(database, await addPerson(database, { name: 'Bo', email: 'bo@example.org', password: 'long enough' }))
  const { rows } = (await database.drizzle.execute(
    `select id from groups where id <> '${groupIds.odd}'`,
  )) as unknown as { rows: { id: string }[] }
  groupIds.example = rows[0]?.id ?? ''
})
afterAll(() => database.close())

const groupOf = (which: string) => groupIds[which] ?? ''
const recordIn = (which: string, grain: Grain) =>
  asMember(database, { personId: null, groupId: groupOf(which), readOnly: true }, (tx) =>
    trialRecord(tx, groupOf(which), grain),
  )

/** All that the page, its tables and its figures say of a method's rows, or of those in a garden. */
function saidOf(record: TrialRecord, seasonId: string, asked: { method?: string; garden?: string }) {
  const scope = scopeOf(record, asked)
  if (!scope) throw new Error('There is no such method or garden.')
  const all = rowsBehind(scope.record, [seasonId], scope.id)
  const of = { scope, seasonIds: [seasonId], all, kept: {}, rules: plainMeasureRules, matchedRules: plainRules }
  const page = rowsPage({
    ...of,
    counted: true,
    besideId: null,
    shown: { section: null, page: 1 },
    locale: 'en-GB',
    currency: 'EUR',
  })
  return { page, tables: rowTables.map((name) => rowTable(name, { record: scope.record, rows: all })) }
}

/** Hours with an id stand by themselves. */
const alone = (record: TrialRecord, isAsked: (seasonId: string) => boolean) =>
  record.labour.filter((one) => one.id !== undefined && isAsked(one.seasonId)).length

describe.each(['odd', 'example'])('of the %s group', (which) => {
  it('a record in rows of one season says of it what one in rows of all says', async () => {
    const rows = await recordIn(which, 'rows')
    for (const { id } of rows.seasons) {
      const some = await recordIn(which, { rowsOf: [id] })
      const methods = methodsIn(rows, [id])
      expect(methods.length).toBeGreaterThan(1)
      const asked = [...methods.map((method) => ({ method })), ...rows.gardens.map((one) => ({ garden: one.id }))]
      for (const one of asked) expect(saidOf(some, id, one)).toEqual(saidOf(rows, id, one))
      const isOther = (seasonId: string) => seasonId !== id
      expect(alone(some, (seasonId) => seasonId === id)).toBe(alone(rows, (seasonId) => seasonId === id))
      expect(alone(some, isOther)).toBeLessThan(alone(rows, isOther))
    }
  })

  it('what is known of each bed before it is covered is the same in rows of the seasons in which one was', async () => {
    const rows = await recordIn(which, 'rows')
    // A cover of a day that is no Thursday, on which somebody worked: in sums it would count by its week.
    const worked = rows.labour.find(
      ({ bedIds, workedOn, ofNursery }) =>
        bedIds.length === 1 && workedOn && workedOn !== thursdayOf(weekOf(workedOn)) && !ofNursery,
    )
    const day = worked?.workedOn
    const covers = worked && day ? [{ bedId: String(worked.bedIds[0]), fromDay: day, toDay: day }] : []
    // Of the example all hours are those of a week.
    expect(covers).toHaveLength(which === 'odd' ? 1 : 0)
    const groupId = groupOf(which)
    const covered = await asMember(database, { personId: null, groupId }, async (tx) => {
      for (const cover of covers)
        await tx.insert(bedClosures).values({ groupId, id: newId(), createdBy: null, why: 'weeds', ...cover })
      return { closures: await closuresOf(tx, groupId), patches: await patchesOf(tx, groupId) }
    })
    const rowsOf = seasonsCovered(rows.seasons, covered.closures)
    expect(rowsOf.length).toBeLessThan(rows.seasons.length)
    const [all, some] = [await recordIn(which, 'rows'), await recordIn(which, { rowsOf })]
    for (const { id } of rows.beds) {
      const asked = { bedIds: [id], areaCm2: null }
      expect(restartStart(some, covered.patches, asked)).toEqual(restartStart(all, covered.patches, asked))
    }
    for (const { bedId } of covers)
      expect(restartStart(all, covered.patches, { bedIds: [bedId], areaCm2: null })?.cover?.beds).toBe(1)
  })
})

describe('the seasons whose hours may be those of a cover', () => {
  const seasons = [
    { id: 'a', startsOn: '2025-03-03', endsOn: '2025-10-26' },
    { id: 'b', startsOn: '2026-03-02', endsOn: '2026-10-25' },
  ] as const
  it.each([
    ['2025-11-02', '2025-12-31', ['a']],
    ['2025-11-03', '2026-02-22', []],
    ['2025-11-03', '2026-02-23', ['b']],
    ['2025-07-01', '2026-07-01', ['a', 'b']],
    ['2025-07-01', null, []],
  ] as const)('%s to %s', (fromDay, toDay, found) => {
    expect(seasonsCovered(seasons, [{ fromDay, toDay }])).toEqual(found)
  })
})
