import { and, asc, eq, isNull } from 'drizzle-orm'
import { partsOfWork } from '../comparison/shared-work.ts'
import { trialRecord } from '../comparison/trial-record.queries.ts'
import type { Tx } from '../db/database.ts'
import { partsOfCrate } from '../diary/crate-parts.ts'
import { harvestShares, harvests, labourEntries, labourShares } from '../diary/diary.table.ts'
import { bedsOf } from '../gardens/gardens.queries.ts'
import { plantingsOf } from '../seasons/seasons.queries.ts'
import type { RowTables } from './row-tables.ts'

/**
 * The rows that the figures are computed from, a table each with the names of its columns first: whole units, no name of a
 * person, no note. A crate that was shared stands as the part of each planting, hours that were shared as the part of each
 * garden; dividing a garden's part over its beds is left to whoever counts again.
 */
export async function rowsBehind(tx: Tx, groupId: string): Promise<RowTables> {
  const record = await trialRecord(tx, groupId)
  const bedIds = (ids: readonly string[]) => ids.join(' ')
  return {
    seasons: [
      ['season', 'name', 'starts_on', 'ends_on', 'closed'],
      ...record.seasons.map((one) => [one.id, one.name, one.startsOn, one.endsOn, one.closed ? 1 : 0]),
    ],
    methods: [['method', 'name'], ...record.methods.map((one) => [one.id, one.name])],
    gardens: [
      ['garden', 'name', 'gross_area_cm2'],
      ...record.gardens.map((one) => [one.id, one.name, one.grossAreaCm2]),
    ],
    beds: [['bed', 'garden', 'area_cm2'], ...record.beds.map((one) => [one.id, one.gardenId, one.areaCm2])],
    assignments: [
      ['season', 'garden', 'bed', 'method', 'phase', 'how'],
      ...record.assignments.map((one) => [
        ...[one.seasonId, one.gardenId, one.bedId, one.methodId],
        ...[one.phase ?? null, one.how ?? null],
      ]),
    ],
    plantings: [
      ['planting', 'season', 'bed', 'crop', 'cultivar', 'matched_set', 'area_cm2', 'purpose', 'cleared'],
      ...record.plantings.map((one) => [
        ...[one.id, one.seasonId, one.bedId, one.crop, one.cultivar, one.matchedSetId, one.areaCm2],
        ...[one.purpose, one.cleared ? 1 : 0],
      ]),
    ],
    harvests: await harvestRows(tx, groupId),
    losses: [
      ['planting', 'lost_on', 'share_permille', 'cause', 'outside_method'],
      ...record.losses.map((one) => [
        ...[one.plantingId, one.lostOn, one.sharePermille, one.cause ?? null, one.outsideMethod ? 1 : 0],
      ]),
    ],
    labour: await labourRows(tx, groupId),
    spreadings: [
      ['season', 'cost_minor', 'useful_life_seasons', 'beds'],
      ...record.spreadings.map((one) => [one.seasonId, one.costMinor, one.usefulLifeSeasons, bedIds(one.bedIds)]),
    ],
    closings: [['garden', 'week', 'what'], ...record.closings.map((one) => [one.gardenId, one.isoWeek, one.what])],
  }
}

async function harvestRows(tx: Tx, groupId: string) {
  const plantings = await plantingsOf(tx, groupId)
  const standing = and(eq(harvests.groupId, groupId), isNull(harvests.removedAt))
  const rows = await tx.select().from(harvests).where(standing).orderBy(asc(harvests.id))
  const sharing = and(eq(harvestShares.groupId, groupId), isNull(harvestShares.removedAt))
  const shares = await tx.select().from(harvestShares).where(sharing).orderBy(asc(harvestShares.plantingId))
  const columns = ['harvest', 'planting', 'harvested_on', 'marketable_g', 'unmarketable_g', 'shared']
  return [
    columns,
    ...rows.flatMap((row) => {
      const { id, plantingId, harvestedOn, marketableG, unmarketableG } = row
      if (plantingId !== null) return [[id, plantingId, harvestedOn, marketableG, unmarketableG, 0]]
      const own = shares.filter((share) => share.harvestId === id)
      return partsOfCrate(row, own, plantings).map((part) => [
        ...[id, part.plantingId, harvestedOn, part.marketableG, part.unmarketableG, 1],
      ])
    }),
  ]
}

async function labourRows(tx: Tx, groupId: string) {
  const ground = { beds: await bedsOf(tx, groupId), plantings: await plantingsOf(tx, groupId) }
  const standing = and(eq(labourEntries.groupId, groupId), isNull(labourEntries.removedAt))
  const rows = await tx.select().from(labourEntries).where(standing).orderBy(asc(labourEntries.id))
  const sharing = and(eq(labourShares.groupId, groupId), isNull(labourShares.removedAt))
  const shares = await tx.select().from(labourShares).where(sharing).orderBy(asc(labourShares.gardenId))
  const bedOf = new Map(ground.plantings.map((one) => [one.id, one.bedId]))
  const columns = ['entry', 'season', 'week', 'task', 'phase', 'person_minutes', 'garden', 'bed', 'shared']
  return [
    columns,
    ...rows.flatMap((row) => {
      const start = [row.id, row.seasonId, row.isoWeek, row.task, row.phase]
      const bedId = row.bedId ?? bedOf.get(row.plantingId ?? '') ?? null
      if (!row.shareRule) return [[...start, row.personMinutes, row.gardenId, bedId, 0]]
      const own = shares.filter((share) => share.labourEntryId === row.id)
      return partsOfWork(row.personMinutes, row.shareRule, own, ground).map((part) => [
        ...[...start, part.minutes, part.gardenId, null, 1],
      ])
    }),
  ]
}
