import { and, asc, eq, isNull } from 'drizzle-orm'
import type { Tx } from '../../db/database.ts'
import { labourEntries, labourShares, losses } from '../../diary/diary.table.ts'
import { weighedByPlanting } from '../../diary/picked.queries.ts'
import { sealedBySeason } from '../../diary/sealed.queries.ts'
import { readTwiceOf } from '../../diary/second-readings.queries.ts'
import { standingClosings } from '../../diary/week.queries.ts'
import { entriesWritten } from '../../diary/written.queries.ts'
import { bedsOf, gardensOf, methodsOf } from '../../gardens/gardens.queries.ts'
import { bedClosures } from '../../gardens/gardens.table.ts'
import { applications, deliveries, inputs } from '../../inputs/inputs.table.ts'
import { type Part, partOf, spreadBefore } from '../../inputs/load.ts'
import { assignmentsOf, type PlantingRow, plantingsOf, seasonsOf } from '../../seasons/seasons.queries.ts'
import { changesSinceClosing } from './changes-since.queries.ts'
import { bedsAt, type Ground, partsOfWork } from './shared-work.ts'
import type { EntryRecord, LabourRecord, SpreadingRecord, TrialRecord, WeighedRecord } from './trial-record.ts'

/** Everything that the group's comparison rests on; shared crates and hours already divided, to the gram and the minute. */
export async function trialRecord(tx: Tx, groupId: string): Promise<TrialRecord> {
  const [seasons, beds, plantings] = [
    await seasonsOf(tx, groupId),
    await bedsOf(tx, groupId),
    await plantingsOf(tx, groupId),
  ]
  const ground = { seasons, beds, plantings }
  const grams = await weighedByPlanting(tx, groupId, plantings)
  const closed = new Set(seasons.filter((season) => season.closedAt !== null).map((season) => season.id))
  const changedSince = await changesSinceClosing(tx, groupId, seasons)
  const sealed = await sealedBySeason(tx, groupId)
  return {
    seasons: seasons.map(({ id, name, startsOn, endsOn, isUniformYear }) => ({
      ...{ id, name, startsOn, endsOn, closed: closed.has(id), uniform: isUniformYear === 1 },
      ...{ changedSince: changedSince.get(id) ?? 0, sealed: sealed.get(id) ?? 0 },
    })),
    methods: (await methodsOf(tx, groupId)).map(({ id, name, establishingSeasons }) => ({
      ...{ id, name, establishingSeasons },
    })),
    gardens: (await gardensOf(tx, groupId)).map(({ id, name, areas, siteId, exposure, soil, groundBefore }) => ({
      ...{ id, name, areas, siteId, exposure, soil, groundBefore },
    })),
    beds: beds.map(({ id, gardenId, areas, name, blockId }) => ({ id, gardenId, areas, name, blockId })),
    assignments: (await assignmentsOf(tx, groupId)).map(
      ({ seasonId, gardenId, bedId, methodId, how, phase, yearOfMethod }) => ({
        ...{ seasonId, gardenId, bedId, methodId, how, phase, yearOfMethod },
      }),
    ),
    plantings: plantings.map((one) => plantingRecord(one, closed, grams.get(one.id) ?? [])),
    losses: await lossesOf(tx, groupId),
    labour: await labourOf(tx, groupId, ground),
    spreadings: await spreadingsOf(tx, groupId, ground),
    closings: await standingClosings(tx, groupId),
    closures: await closuresOf(tx, groupId),
    entries: await entriesOf(tx, groupId, ground),
    readTwice: await readTwiceOf(tx, groupId),
  }
}

function plantingRecord(one: PlantingRow, closed: ReadonlySet<string>, weighed: readonly WeighedRecord[]) {
  const { id, seasonId, bedId, crop, cultivar, matchedSetId, areaCm2, purpose, clearedOn } = one
  const sum = (of: 'marketableG' | 'unmarketableG') => weighed.reduce((total, part) => total + part[of], 0)
  return {
    ...{ id, seasonId, bedId, crop, cultivar, matchedSetId, areaCm2, purpose },
    cleared: clearedOn !== null || closed.has(seasonId),
    ...{ marketableG: sum('marketableG'), unmarketableG: sum('unmarketableG'), weighed },
    from: (one.how === 'transplanted' ? (one.plantedOn ?? one.sownOn) : (one.sownOn ?? one.plantedOn)) ?? null,
    to: clearedOn,
  }
}

async function closuresOf(tx: Tx, groupId: string) {
  const { bedId, fromDay, toDay } = bedClosures
  return tx
    .select({ bedId, fromDay, toDay })
    .from(bedClosures)
    .where(and(eq(bedClosures.groupId, groupId), isNull(bedClosures.removedAt)))
    .orderBy(asc(bedClosures.fromDay), asc(bedClosures.id))
}

async function entriesOf(tx: Tx, groupId: string, ground: Ground): Promise<EntryRecord[]> {
  const { places, entries } = await entriesWritten(tx, groupId)
  return entries.map(({ id, ...entry }) => ({
    ...{ id, ...entry },
    bedIds: [
      ...new Set((places.get(id) ?? []).flatMap((place) => bedsAt({ ...place, seasonId: entry.seasonId }, ground))),
    ],
  }))
}

async function lossesOf(tx: Tx, groupId: string) {
  const rows = await tx
    .select()
    .from(losses)
    .where(and(eq(losses.groupId, groupId), isNull(losses.removedAt)))
    .orderBy(asc(losses.plantingId), asc(losses.lostOn), asc(losses.id))
  return rows.map(({ id, plantingId, lostOn, sharePermille, cause, outsideMethod, alsoNextDoor }) => ({
    ...{ id, plantingId, lostOn, sharePermille, cause, alsoNextDoor, outsideMethod: outsideMethod === 1 },
  }))
}

async function labourOf(tx: Tx, groupId: string, ground: Ground): Promise<LabourRecord[]> {
  const standing = and(eq(labourEntries.groupId, groupId), isNull(labourEntries.removedAt))
  const rows = await tx.select().from(labourEntries).where(standing).orderBy(asc(labourEntries.id))
  const sharing = and(eq(labourShares.groupId, groupId), isNull(labourShares.removedAt))
  const shares = await tx.select().from(labourShares).where(sharing).orderBy(asc(labourShares.gardenId))
  return rows.flatMap((row): LabourRecord[] => {
    const { seasonId, task, phase, personMinutes, isoWeek, plantingId, who } = row
    const entry = { seasonId, task, phase, isoWeek, plantingId, who, id: row.id, workedOn: row.workedOn }
    if (!row.shareRule) return [{ ...entry, personMinutes, gardenId: row.gardenId, bedIds: bedsAt(row, ground) }]
    const own = shares.filter((share) => share.labourEntryId === row.id)
    const shared = { minutes: personMinutes, rule: row.shareRule, seasonId }
    return partsOfWork(shared, own, ground).map(({ gardenId, minutes }) => ({
      ...{ ...entry, gardenId, personMinutes: minutes, sharedMinutes: personMinutes },
      sharedByRule: row.shareRule !== 'given',
      bedIds: bedsAt({ seasonId, gardenId, bedId: null, plantingId: null }, ground),
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
  const before = spreadBefore(rows.map((row) => row.application))
  return rows.map(({ application, delivery, input }) => ({
    seasonId: application.seasonId,
    ...costOf(delivery, { ...application, beforeThousandths: before.get(application.id) ?? 0 }, input.ownMade === 1),
    usefulLifeSeasons: input.usefulLifeSeasons,
    bedIds: bedsAt(application, ground),
    ...{ phase: application.phase, plantingId: application.plantingId, kind: input.kind },
    ...{ id: application.id, on: application.appliedOn, input: input.name, gardenId: application.gardenId },
  }))
}

interface Priced {
  readonly priceMinor: number | null
  readonly deliveryPriceMinor: number
  readonly quantityThousandths: number
}

/** Price and carriage in the part that was spread; of something of the group's own only the carriage was paid. */
function costOf({ priceMinor, deliveryPriceMinor, quantityThousandths }: Priced, spread: Part, ownMade: boolean) {
  const part = (minor: number) => partOf(minor, spread, quantityThousandths)
  const costMinor = priceMinor === null ? null : part(priceMinor + deliveryPriceMinor)
  return { costMinor, cashMinor: ownMade ? part(deliveryPriceMinor) : costMinor }
}
