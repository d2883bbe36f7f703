import { afterAll, beforeAll, expect, it } from 'vitest'
import type { Database } from '../../src/db/database.ts'
import { asMember } from '../../src/db/transaction.ts'
import { gramsPicked, weighedByPlanting } from '../../src/diary/picked.queries.ts'
import { plantingsOf } from '../../src/seasons/seasons.queries.ts'
import { oddGroup } from '../benchmark/odd-group.ts'
import { openTestDatabase } from '../support/database.ts'

let database: Database
let groupId: string
beforeAll(async () => {
  database = await openTestDatabase()
  groupId = (await oddGroup(database, { seasons: 2, harvests: 600, labour: 10 }, 4)).groupId
})
afterAll(() => database.close())

interface Picked {
  readonly plantingId: string
  readonly seasonId: string
  readonly on: string
  readonly grams: number
}

/** Grams under each key, in the order of the keys. */
function gramsBy(rows: readonly Picked[], keyOf: (one: Picked) => string) {
  const sums = new Map<string, number>()
  for (const one of rows) sums.set(keyOf(one), (sums.get(keyOf(one)) ?? 0) + one.grams)
  return [...sums].sort(([a], [b]) => (a < b ? -1 : 1))
}

it.each([
  ['season', (one: Picked) => `${one.plantingId} ${one.seasonId}`],
  ['day', (one: Picked) => `${one.plantingId} ${one.seasonId} ${one.on}`],
] as const)('what was weighed in each %s is what its weighings come to, crates in their parts', async (by, keyOf) => {
  await asMember(database, { personId: null, groupId, readOnly: true }, async (tx) => {
    const plantings = await plantingsOf(tx, groupId)
    const each = [...(await weighedByPlanting(tx, groupId, plantings, 'all'))].flatMap(([plantingId, parts]) =>
      parts.map((one): Picked => ({ ...one, plantingId, grams: one.marketableG + one.unmarketableG })),
    )
    const half = new Set(plantings.slice(0, plantings.length / 2).map((one) => one.id))
    const asked = each.filter((one) => half.has(one.plantingId))
    const found = await gramsPicked(tx, groupId, plantings, { asked: half, by })
    expect(gramsBy(found, keyOf)).toEqual(gramsBy(asked, keyOf))
    if (by === 'season') expect(found.length).toBeLessThan(asked.length)
    expect((await weighedByPlanting(tx, groupId, plantings, [])).size).toBeGreaterThan(0)
    expect(await gramsPicked(tx, groupId, plantings, { asked: new Set(), by })).toEqual([])
  })
})
