import { and, asc, eq, isNull } from 'drizzle-orm'
import type { Tx } from '../db/database.ts'
import { harvestShares, harvests, labourEntries, labourShares, losses } from '../diary/diary.table.ts'
import { standingClosings } from '../diary/week.queries.ts'
import { bedsOf, gardensOf, methodsOf } from '../gardens/gardens.queries.ts'
import { applications, deliveries, inputs } from '../inputs/inputs.table.ts'
import { proportion } from '../quantities/split-exactly.ts'
import { assignmentsOf, plantingsOf, seasonsOf } from '../seasons/seasons.queries.ts'
import { bedsAt, type Ground, partsOfCrate, partsOfWork } from './shared-work.ts'
import type { LabourRecord, SpreadingRecord, TrialRecord } from './trial-record.ts'

/** Everything that the group's comparison rests on; shared crates and hours already divided, to the gram and the minute. */
export async function trialRecord(tx: Tx, groupId: string): Promise<TrialRecord> {
  const [seasons, beds, plantings] = [
    await seasonsOf(tx, groupId),
    await bedsOf(tx, groupId),
    await plantingsOf(tx, groupId),
  ]
  const ground = { beds, plantings }
  const grams = await gramsByPlanting(tx, groupId, ground)
  const closed = new Set(seasons.filter((season) => season.closedAt !== null).map((season) => season.id))
  return {
    seasons: seasons.map(({ id, name, startsOn, endsOn }) => ({ id, name, startsOn, endsOn, closed: closed.has(id) })),
    methods: (await methodsOf(tx, groupId)).map(({ id, name }) => ({ id, name })),
    gardens: (await gardensOf(tx, groupId)).map(({ id, name, grossAreaCm2 }) => ({ id, name, grossAreaCm2 })),
    beds: beds.map(({ id, gardenId, areaCm2 }) => ({ id, gardenId, areaCm2 })),
    assignments: (await assignmentsOf(tx, groupId)).map(({ seasonId, gardenId, bedId, methodId, how, phase }) => ({
      ...{ seasonId, gardenId, bedId, methodId, how, phase },
    })),
    plantings: plantings.map(({ id, seasonId, bedId, crop, cultivar, matchedSetId, areaCm2, purpose, clearedOn }) => ({
      ...{ id, seasonId, bedId, crop, cultivar, matchedSetId, areaCm2, purpose },
      cleared: clearedOn !== null || closed.has(seasonId),
      ...(grams.get(id) ?? { marketableG: 0, unmarketableG: 0 }),
    })),
    losses: await lossesOf(tx, groupId),
    labour: await labourOf(tx, groupId, ground),
    spreadings: await spreadingsOf(tx, groupId, ground),
    closings: await standingClosings(tx, groupId),
  }
}

async function gramsByPlanting(tx: Tx, groupId: string, ground: Ground) {
  const standing = and(eq(harvests.groupId, groupId), isNull(harvests.removedAt))
  const rows = await tx.select().from(harvests).where(standing).orderBy(asc(harvests.id))
  const sharing = and(eq(harvestShares.groupId, groupId), isNull(harvestShares.removedAt))
  const shares = await tx.select().from(harvestShares).where(sharing).orderBy(asc(harvestShares.plantingId))
  const grams = new Map<string, { marketableG: number; unmarketableG: number }>()
  const parts = rows.flatMap((row) => {
    const { plantingId, marketableG, unmarketableG } = row
    if (plantingId !== null) return [{ plantingId, marketableG, unmarketableG }]
    return partsOfCrate(
      row,
      shares.filter((share) => share.harvestId === row.id),
      ground,
    )
  })
  for (const part of parts) {
    const sum = grams.get(part.plantingId) ?? { marketableG: 0, unmarketableG: 0 }
    grams.set(part.plantingId, {
      marketableG: sum.marketableG + part.marketableG,
      unmarketableG: sum.unmarketableG + part.unmarketableG,
    })
  }
  return grams
}

async function lossesOf(tx: Tx, groupId: string) {
  const rows = await tx
    .select()
    .from(losses)
    .where(and(eq(losses.groupId, groupId), isNull(losses.removedAt)))
    .orderBy(asc(losses.plantingId), asc(losses.lostOn), asc(losses.id))
  return rows.map(({ plantingId, lostOn, sharePermille, cause, outsideMethod, alsoNextDoor }) => ({
    ...{ plantingId, lostOn, sharePermille, cause, alsoNextDoor, outsideMethod: outsideMethod === 1 },
  }))
}

async function labourOf(tx: Tx, groupId: string, ground: Ground): Promise<LabourRecord[]> {
  const standing = and(eq(labourEntries.groupId, groupId), isNull(labourEntries.removedAt))
  const rows = await tx.select().from(labourEntries).where(standing).orderBy(asc(labourEntries.id))
  const sharing = and(eq(labourShares.groupId, groupId), isNull(labourShares.removedAt))
  const shares = await tx.select().from(labourShares).where(sharing).orderBy(asc(labourShares.gardenId))
  return rows.flatMap((row): LabourRecord[] => {
    const { seasonId, task, phase, personMinutes } = row
    if (!row.shareRule) return [{ seasonId, task, phase, personMinutes, bedIds: bedsAt(row, ground) }]
    const own = shares.filter((share) => share.labourEntryId === row.id)
    return partsOfWork(personMinutes, row.shareRule, own, ground).map(({ gardenId, minutes }) => ({
      ...{ seasonId, task, phase, personMinutes: minutes },
      bedIds: bedsAt({ gardenId, bedId: null, plantingId: null }, ground),
    }))
  })
}

async function spreadingsOf(tx: Tx, groupId: string, ground: Ground): Promise<SpreadingRecord[]> {
  const rows = await tx
    .select({ application: applications, delivery: deliveries, input: inputs })
    .from(applications)
    .innerJoin(deliveries, and(eq(deliveries.groupId, groupId), eq(deliveries.id, applications.deliveryId)))
    .innerJoin(inputs, and(eq(inputs.groupId, groupId), eq(inputs.id, deliveries.inputId)))
    .where(and(eq(applications.groupId, groupId), isNull(applications.removedAt)))
    .orderBy(asc(applications.id))
  return rows.map(({ application, delivery, input }) => ({
    seasonId: application.seasonId,
    costMinor: costOf(delivery, application.quantityThousandths),
    usefulLifeSeasons: input.usefulLifeSeasons,
    bedIds: bedsAt(application, ground),
  }))
}

interface Priced {
  readonly priceMinor: number | null
  readonly deliveryPriceMinor: number
  readonly quantityThousandths: number
}

const costOf = (delivery: Priced, spread: number) =>
  delivery.priceMinor === null
    ? null
    : proportion(delivery.priceMinor + delivery.deliveryPriceMinor, spread, delivery.quantityThousandths)
