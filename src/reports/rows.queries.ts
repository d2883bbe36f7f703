import { and, asc, eq, isNull, not } from 'drizzle-orm'
import { seasonWeeks } from '../comparison/near-weeks.ts'
import { partsOfWork } from '../comparison/shared-work.ts'
import { trialRecord } from '../comparison/trial-record.queries.ts'
import type { TrialRecord } from '../comparison/trial-record.ts'
import type { Tx } from '../db/database.ts'
import { partsOfCrate } from '../diary/crate-parts.ts'
import { harvestShares, harvests, labourEntries, labourShares } from '../diary/diary.table.ts'
import { sealedWeighings } from '../diary/sealed.queries.ts'
import { bedsOf } from '../gardens/gardens.queries.ts'
import { plantingsOf } from '../seasons/seasons.queries.ts'
import type { RowTables } from './row-tables.ts'

/**
 * The rows that the figures are computed from, a table each with the names of its columns first: whole units, no name of a
 * person, no note. A crate that was shared stands as the part of each planting, hours that were shared as the part of each
 * garden; dividing a garden's part over its beds is left to whoever counts again.
 */
export async function rowsBehind(tx: Tx, groupId: string, seasonIds: readonly string[]): Promise<RowTables> {
  const record = ofSeasons(await trialRecord(tx, groupId), seasonIds)
  const planted = new Set(record.plantings.map((one) => one.id))
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
    harvests: await harvestRows(tx, groupId, planted),
    losses: [
      ['planting', 'lost_on', 'share_permille', 'cause', 'outside_method'],
      ...record.losses.map((one) => [
        ...[one.plantingId, one.lostOn, one.sharePermille, one.cause ?? null, one.outsideMethod ? 1 : 0],
      ]),
    ],
    labour: await labourRows(tx, groupId, new Set(seasonIds)),
    spreadings: [
      ['season', 'cost_minor', 'useful_life_seasons', 'beds'],
      ...record.spreadings.map((one) => [
        ...[one.seasonId, one.cashMinor === undefined ? one.costMinor : one.cashMinor],
        ...[one.usefulLifeSeasons, bedIds(one.bedIds)],
      ]),
    ],
    closings: [['garden', 'week', 'what'], ...record.closings.map((one) => [one.gardenId, one.isoWeek, one.what])],
  }
}

/**
 * The record of some seasons: what the keeper agreed to give out. Spreadings of earlier seasons stay in where their cost still
 * falls on one of these, and so do those earlier seasons by name, since their order says how old a spreading is.
 */
function ofSeasons(record: TrialRecord, seasonIds: readonly string[]): TrialRecord {
  const own = new Set(seasonIds)
  const at = (id: string) => record.seasons.findIndex((season) => season.id === id)
  const lasts = (one: TrialRecord['spreadings'][number]) =>
    seasonIds.some((id) => at(id) >= at(one.seasonId) && at(id) < at(one.seasonId) + one.usefulLifeSeasons)
  const spreadings = record.spreadings.filter(lasts)
  const named = new Set([...seasonIds, ...spreadings.map((one) => one.seasonId)])
  const first = Math.min(...[...named].map(at))
  const last = Math.max(...[...named].map(at))
  const plantings = record.plantings.filter((one) => own.has(one.seasonId))
  const planted = new Set(plantings.map((one) => one.id))
  const weeks = new Set(seasonIds.flatMap((id) => seasonWeeks(record, id) as string[]))
  return {
    ...record,
    seasons: record.seasons.filter((_, i) => i >= first && i <= last),
    assignments: record.assignments.filter((one) => own.has(one.seasonId)),
    ...{ plantings, spreadings },
    losses: record.losses.filter((one) => planted.has(one.plantingId)),
    closings: record.closings.filter((one) => weeks.has(one.isoWeek)),
  }
}

async function harvestRows(tx: Tx, groupId: string, planted: ReadonlySet<string>) {
  const plantings = await plantingsOf(tx, groupId)
  const standing = and(
    eq(harvests.groupId, groupId),
    isNull(harvests.removedAt),
    not(await sealedWeighings(tx, groupId)),
  )
  const rows = await tx.select().from(harvests).where(standing).orderBy(asc(harvests.id))
  const sharing = and(eq(harvestShares.groupId, groupId), isNull(harvestShares.removedAt))
  const shares = await tx.select().from(harvestShares).where(sharing).orderBy(asc(harvestShares.plantingId))
  const columns = ['harvest', 'planting', 'harvested_on', 'marketable_g', 'unmarketable_g', 'shared']
  return [
    columns,
    ...rows.flatMap((row) => {
      const { id, plantingId, harvestedOn, marketableG, unmarketableG } = row
      if (plantingId !== null) {
        return planted.has(plantingId) ? [[id, plantingId, harvestedOn, marketableG, unmarketableG, 0]] : []
      }
      const own = shares.filter((share) => share.harvestId === id)
      return partsOfCrate(row, own, plantings)
        .filter((part) => planted.has(part.plantingId))
        .map((part) => [...[id, part.plantingId, harvestedOn, part.marketableG, part.unmarketableG, 1]])
    }),
  ]
}

async function labourRows(tx: Tx, groupId: string, seasons: ReadonlySet<string>) {
  const ground = { beds: await bedsOf(tx, groupId), plantings: await plantingsOf(tx, groupId) }
  const standing = and(eq(labourEntries.groupId, groupId), isNull(labourEntries.removedAt))
  const rows = await tx.select().from(labourEntries).where(standing).orderBy(asc(labourEntries.id))
  const sharing = and(eq(labourShares.groupId, groupId), isNull(labourShares.removedAt))
  const shares = await tx.select().from(labourShares).where(sharing).orderBy(asc(labourShares.gardenId))
  const bedOf = new Map(ground.plantings.map((one) => [one.id, one.bedId]))
  const columns = ['entry', 'season', 'week', 'task', 'phase', 'person_minutes', 'garden', 'bed', 'shared']
  return [
    columns,
    ...rows
      .filter((row) => seasons.has(row.seasonId))
      .flatMap((row) => {
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
