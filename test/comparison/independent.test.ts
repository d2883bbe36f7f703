import fc from 'fast-check'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { groups } from '../../src/accounts/accounts.table.ts'
import { firstTable } from '../../src/comparison/first-table.ts'
import { trialRecord } from '../../src/comparison/trial-record.queries.ts'
import type { Database } from '../../src/db/database.ts'
import { newId } from '../../src/db/new-id.ts'
import { asMember } from '../../src/db/transaction.ts'
import { harvests, labourEntries } from '../../src/diary/diary.table.ts'
import { beds, gardens, methods, sites } from '../../src/gardens/gardens.table.ts'
import { crops, cultivars, methodAssignments, plantings, seasons } from '../../src/seasons/seasons.table.ts'
import { openTestDatabase } from '../support/database.ts'
import { totalsInPlainSql } from './plain-sql.ts'

let database: Database
beforeAll(async () => {
  database = await openTestDatabase()
})
afterAll(() => database.close())

const gardenOf = fc.record({
  method: fc.nat({ max: 1 }),
  beds: fc.array(fc.integer({ min: 1, max: 500_000 }), { minLength: 1, maxLength: 3 }),
  harvests: fc.array(
    fc.record({
      bed: fc.nat({ max: 2 }),
      good: fc.nat({ max: 90_000 }),
      bad: fc.nat({ max: 9_000 }),
      removed: fc.boolean(),
    }),
    { maxLength: 5 },
  ),
  hours: fc.array(fc.integer({ min: 1, max: 2_000 }), { maxLength: 4 }),
})
type GeneratedGarden = typeof gardenOf extends fc.Arbitrary<infer G> ? G : never

it('the first table equals a plain query over generated seasons, to the last digit', async () => {
  await fc.assert(
    fc.asyncProperty(fc.array(gardenOf, { minLength: 1, maxLength: 4 }), async (generated) => {
      const { groupId, seasonId } = await store(generated)
      const { table, plain } = await asMember(database, { personId: null, groupId, readOnly: true }, async (tx) => ({
        table: firstTable(await trialRecord(tx, groupId), seasonId),
        plain: await totalsInPlainSql(tx, seasonId),
      }))
      const ours = [...table.methods]
        .sort((a, b) => (a.method < b.method ? -1 : 1))
        .map(({ method, totals }) => ({
          method,
          bedAreaCm2: totals.bedAreaCm2,
          marketableG: totals.marketableG,
          unmarketableG: totals.unmarketableG,
          minutes: totals.minutesWithoutHarvest + totals.minutesOfHarvest,
          plantedAreaCm2: totals.plantedAreaCm2,
        }))
      expect(ours).toEqual(plain)
      for (const { figures, totals } of table.methods) {
        expect(figures[0]?.value).toBe((totals.marketableG / totals.bedAreaCm2) * 10)
      }
    }),
    { numRuns: 25 },
  )
})

async function store(generated: readonly GeneratedGarden[]) {
  const [groupId, seasonId, siteId, cropId, cultivarId] = [newId(), newId(), newId(), newId(), newId()]
  const methodIds = [newId(), newId()]
  await asMember(database, { personId: null, groupId }, async (tx) => {
    const place = { currency: 'NZD', timeZone: 'Pacific/Auckland', locale: 'en-NZ' }
    await tx.insert(groups).values({ id: groupId, slug: groupId, name: 'Quern Hill Growers', ...place })
    await tx.insert(sites).values({ groupId, id: siteId, name: 'Quern Hill' })
    await tx.insert(crops).values({ groupId, id: cropId, name: 'carrot' })
    await tx.insert(cultivars).values({ groupId, id: cultivarId, cropId, name: 'Kestrel' })
    await tx.insert(methods).values(methodIds.map((id, i) => ({ groupId, id, name: `Method ${i}` })))
    await tx
      .insert(seasons)
      .values({ groupId, id: seasonId, name: '2025/26', startsOn: '2025-08-01', endsOn: '2026-05-31' })
    for (const [i, garden] of generated.entries()) {
      const gardenId = newId()
      const grossAreaCm2 = garden.beds.reduce((a, b) => a + b, 0) + 1000
      await tx.insert(gardens).values({ groupId, id: gardenId, siteId, name: `Garden ${i}`, grossAreaCm2 })
      const bedRows = garden.beds.map((areaCm2, b) => ({ groupId, id: newId(), gardenId, name: `Bed ${b}`, areaCm2 }))
      await tx.insert(beds).values(bedRows)
      const assigned = { phase: 'established', how: 'choice', methodId: methodIds[garden.method] ?? '' }
      await tx.insert(methodAssignments).values({ groupId, id: newId(), seasonId, gardenId, ...assigned })
      const planted = bedRows.map(({ id, areaCm2 }) => ({
        groupId,
        id: newId(),
        seasonId,
        bedId: id,
        cultivarId,
        areaCm2,
        sownOn: '2025-10-01',
      }))
      await tx.insert(plantings).values(planted)
      for (const one of garden.harvests) {
        await tx.insert(harvests).values({
          groupId,
          id: newId(),
          seasonId,
          plantingId: planted[one.bed % planted.length]?.id ?? '',
          harvestedOn: '2026-01-28',
          isoWeek: '2026-W05',
          marketableG: one.good,
          unmarketableG: one.bad,
          unmarketableReason: 'small',
          removedAt: one.removed ? new Date() : null,
        })
      }
      for (const personMinutes of garden.hours) {
        const entry = { isoWeek: '2026-W05', task: 'weeding', phase: 'established', personMinutes, gardenId }
        await tx.insert(labourEntries).values({ groupId, id: newId(), seasonId, ...entry })
      }
    }
  })
  return { groupId, seasonId }
}
