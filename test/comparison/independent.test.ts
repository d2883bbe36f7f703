import fc from 'fast-check'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { groups } from '../../src/accounts/accounts.table.ts'
import { firstTable } from '../../src/comparison/matched/first-table.ts'
import { trialRecord } from '../../src/comparison/record/trial-record.queries.ts'
import type { Database } from '../../src/db/database.ts'
import { newId } from '../../src/db/new-id.ts'
import { asMember } from '../../src/db/transaction.ts'
import { harvestShares, harvests, labourEntries, labourShares } from '../../src/diary/diary.table.ts'
import { beds, gardens, methods, sites } from '../../src/gardens/gardens.table.ts'
import { applications, deliveries, inputs } from '../../src/inputs/inputs.table.ts'
import { crops, cultivars, methodAssignments, plantings, seasons } from '../../src/seasons/seasons.table.ts'
import { aDay, aWeek } from '../support/calendar.ts'
import { openTestDatabase } from '../support/database.ts'
import { totalsInPlainSql } from './plain-sql.ts'

let database: Database
beforeAll(async () => {
  database = await openTestDatabase()
})
afterAll(() => database.close())

const weighing = { good: fc.nat({ max: 90_000 }), bad: fc.nat({ max: 9_000 }), removed: fc.boolean() }
const gardenOf = fc.record({
  method: fc.nat({ max: 1 }),
  /** A bed with a method of its own, where it has one. */
  beds: fc.array(fc.record({ area: fc.integer({ min: 1, max: 500_000 }), own: fc.option(fc.nat({ max: 1 })) }), {
    minLength: 1,
    maxLength: 3,
  }),
  harvests: fc.array(fc.record({ bed: fc.nat({ max: 2 }), ...weighing }), { maxLength: 5 }),
  hours: fc.array(fc.integer({ min: 1, max: 2_000 }), { maxLength: 4 }),
})
const yearOf = fc.record({
  gardens: fc.array(gardenOf, { minLength: 1, maxLength: 4 }),
  /** From the first plantings of all gardens. */
  crates: fc.array(fc.record(weighing), { maxLength: 2 }),
  /** Over all gardens. */
  sharedHours: fc.array(fc.integer({ min: 1, max: 5_000 }), { maxLength: 2 }),
  spreadings: fc.array(
    fc.record({
      price: fc.nat({ max: 100_000 }),
      delivered: fc.integer({ min: 1, max: 9_000 }),
      spread: fc.integer({ min: 1, max: 9_000 }),
      life: fc.integer({ min: 1, max: 4 }),
      season: fc.nat({ max: 2 }),
      garden: fc.nat({ max: 3 }),
      oneBed: fc.boolean(),
    }),
    { maxLength: 4 },
  ),
})
type Year = typeof yearOf extends fc.Arbitrary<infer G> ? G : never

it('the first table equals a plain query over generated seasons, to the last digit', async () => {
  await fc.assert(
    fc.asyncProperty(yearOf, async (generated) => {
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
          costMinor: totals.costMinor,
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

async function store(generated: Year) {
  const [groupId, siteId, cropId, cultivarId] = [newId(), newId(), newId(), newId()]
  const [seasonIds, methodIds] = [[newId(), newId(), newId()] as const, [newId(), newId()]]
  const seasonId = seasonIds[1]
  await asMember(database, { personId: null, groupId }, async (tx) => {
    const place = { currency: 'NZD', timeZone: 'Pacific/Auckland', locale: 'en-NZ' }
    await tx.insert(groups).values({ id: groupId, slug: groupId, name: 'Quern Hill Growers', ...place })
    await tx.insert(sites).values({ groupId, id: siteId, name: 'Quern Hill' })
    await tx.insert(crops).values({ groupId, id: cropId, name: 'carrot' })
    await tx.insert(cultivars).values({ groupId, id: cultivarId, cropId, name: 'Kestrel' })
    await tx.insert(methods).values(methodIds.map((id, i) => ({ groupId, id, name: `Method ${i}` })))
    await tx.insert(seasons).values(
      seasonIds.map((id, i) => ({
        ...{ groupId, id, name: `Season ${i}` },
        ...{ startsOn: aDay(`${2024 + i}-08-01`), endsOn: aDay(`${2025 + i}-05-31`) },
      })),
    )
    const assigned = { groupId, seasonId, phase: 'established', how: 'choice' }
    const ground: { gardenId: string; bedIds: string[]; plantingIds: string[] }[] = []
    for (const [i, garden] of generated.gardens.entries()) {
      const gardenId = newId()
      const grossAreaCm2 = garden.beds.reduce((sum, bed) => sum + bed.area, 0) + 1000
      await tx.insert(gardens).values({ groupId, id: gardenId, siteId, name: `Garden ${i}`, grossAreaCm2, position: i })
      const bedRows = garden.beds.map(({ area, own }, b) => ({
        row: { groupId, id: newId(), gardenId, name: `Bed ${b}`, areaCm2: area, position: b },
        own,
      }))
      await tx.insert(beds).values(bedRows.map(({ row }) => row))
      const methodId = methodIds[garden.method] ?? ''
      await tx.insert(methodAssignments).values({ ...assigned, id: newId(), gardenId, methodId })
      for (const { row, own } of bedRows) {
        if (own === null) continue
        const alone = { gardenId, bedId: row.id, methodId: methodIds[own] ?? '' }
        await tx.insert(methodAssignments).values({ ...assigned, id: newId(), ...alone })
      }
      const planted = bedRows.map(({ row }) => ({
        ...{ groupId, id: newId(), seasonId, bedId: row.id, cultivarId },
        ...{ areaCm2: row.areaCm2, sownOn: aDay('2025-10-01') },
      }))
      await tx.insert(plantings).values(planted)
      for (const one of garden.harvests) {
        const plantingId = planted[one.bed % planted.length]?.id ?? ''
        await tx.insert(harvests).values({ ...weighed(groupId, seasonId, one), id: newId(), plantingId })
      }
      for (const personMinutes of garden.hours) {
        await tx.insert(labourEntries).values({ ...worked(groupId, seasonId, personMinutes), id: newId(), gardenId })
      }
      ground.push({
        gardenId,
        bedIds: bedRows.map(({ row }) => row.id),
        plantingIds: planted.map((planting) => planting.id),
      })
    }
    for (const one of generated.crates) {
      const id = newId()
      await tx.insert(harvests).values({ ...weighed(groupId, seasonId, one), id, shareRule: 'area' })
      const from = ground.map(({ plantingIds }) => plantingIds[0] ?? '')
      await tx
        .insert(harvestShares)
        .values(from.map((plantingId) => ({ groupId, id: newId(), harvestId: id, plantingId })))
    }
    for (const personMinutes of generated.sharedHours) {
      const id = newId()
      await tx.insert(labourEntries).values({ ...worked(groupId, seasonId, personMinutes), id, shareRule: 'area' })
      await tx
        .insert(labourShares)
        .values(ground.map(({ gardenId }) => ({ groupId, id: newId(), labourEntryId: id, gardenId })))
    }
    for (const [i, one] of generated.spreadings.entries()) {
      const [inputId, deliveryId] = [newId(), newId()]
      const input = { name: `Compost ${i}`, kind: 'compost', unit: 'barrow', usefulLifeSeasons: one.life }
      await tx.insert(inputs).values({ groupId, id: inputId, ...input })
      const bought = { deliveredOn: '2024-08-02', quantityThousandths: one.delivered, priceMinor: one.price } as const
      await tx.insert(deliveries).values({ groupId, id: deliveryId, inputId, ...bought, deliveryPriceMinor: 777 })
      const there = ground[one.garden % ground.length]
      const at = one.oneBed ? { bedId: there?.bedIds[0] ?? '' } : { gardenId: there?.gardenId ?? '' }
      const spread = { quantityThousandths: one.spread, phase: 'established', appliedOn: '2025-09-01' } as const
      await tx
        .insert(applications)
        .values({ groupId, id: newId(), deliveryId, seasonId: seasonIds[one.season] ?? '', ...at, ...spread })
    }
  })
  return { groupId, seasonId }
}

const weighed = (groupId: string, seasonId: string, one: { good: number; bad: number; removed: boolean }) => ({
  ...{ groupId, seasonId, harvestedOn: aDay('2026-01-28'), isoWeek: aWeek('2026-W05') },
  ...{ marketableG: one.good, unmarketableG: one.bad, unmarketableReason: 'small' },
  removedAt: one.removed ? new Date() : null,
})

const worked = (groupId: string, seasonId: string, personMinutes: number) => ({
  ...{ groupId, seasonId, isoWeek: aWeek('2026-W05'), task: 'weeding', phase: 'established', personMinutes },
})
