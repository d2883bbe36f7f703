import { and, asc, eq, isNull, not } from 'drizzle-orm'
import { sharesOfHours } from '../comparison/record/as-written.queries.ts'
import { type RowsOfPlantings, rowsOfPlantings } from '../comparison/record/in-each-season.ts'
import { nurseries } from '../comparison/record/nursery.ts'
import { partsOfNursery } from '../comparison/record/nursery-work.ts'
import { partsOfEntry } from '../comparison/record/shared-work.ts'
import { trialRecord } from '../comparison/record/trial-record.queries.ts'
import { untilSeasons } from '../comparison/record/until-seasons.ts'
import type { Tx } from '../db/database.ts'
import { partsOfCrate } from '../diary/crate-parts.ts'
import { harvestShares, harvests, labourEntries } from '../diary/diary.table.ts'
import { sealedWeighings } from '../diary/sealed.queries.ts'
import { entriesWritten } from '../diary/written.queries.ts'
import { bedsOf } from '../gardens/gardens.queries.ts'
import { manuredGround } from '../inputs/manure.queries.ts'
import { linked } from '../lookups/unsaid.ts'
import { assignmentsOf, plantingsOf, seasonsOf } from '../seasons/seasons.queries.ts'
import { type HoursRowSent, type RowTables, reportTables, type WeighingRowSent } from './row-tables.ts'
import { type RowsKept, rowsKept } from './rows-kept.ts'

/**
 * The rows that the figures are computed from, a table each with the names of its columns first: whole units, no name
 * of a person, no note. A crate that was shared stands as the part of each planting, hours that were shared as the part
 * of each garden, and of each phase where its beds carry several; dividing a part over its beds is left to whoever
 * counts again.
 */
export async function tablesBehind(tx: Tx, groupId: string, seasonIds: readonly string[]): Promise<RowTables> {
  const kept = rowsKept(untilSeasons(await trialRecord(tx, groupId), seasonIds), seasonIds)
  const planted = new Set(kept.record.plantings.map((one) => one.id))
  const written = await writtenOf(tx, groupId)
  const plantings = await plantingsOf(tx, groupId)
  const inRow = rowsOfPlantings(plantings, await seasonsOf(tx, groupId))
  return reportTables(kept.record, {
    weighings: await weighingRows(tx, groupId, { planted, written, inRow }),
    hours: await hoursRows(tx, groupId, { kept, written, inRow }),
    manured: await manuredIn(tx, groupId, kept),
    touchesSoil: new Map(plantings.map((one) => [one.id, one.touchesSoil])),
  })
}

type Writing = (id: string) => { readonly paper: boolean; readonly late: boolean }

async function writtenOf(tx: Tx, groupId: string): Promise<Writing> {
  const { entries } = await entriesWritten(tx, groupId)
  const known = new Map(entries.map(({ id, paper, late }) => [id, { paper, late }]))
  return (id) => known.get(id) ?? { paper: false, late: false }
}

interface Weighing {
  readonly planted: ReadonlySet<string>
  readonly written: Writing
  readonly inRow: RowsOfPlantings
}

async function weighingRows(
  tx: Tx,
  groupId: string,
  { planted, written, inRow }: Weighing,
): Promise<WeighingRowSent[]> {
  const plantings = await plantingsOf(tx, groupId)
  const standing = and(
    eq(harvests.groupId, groupId),
    isNull(harvests.removedAt),
    eq(harvests.counts, 1),
    not(await sealedWeighings(tx, groupId)),
  )
  const rows = await tx.select().from(harvests).where(standing).orderBy(asc(harvests.id))
  const sharing = and(eq(harvestShares.groupId, groupId), isNull(harvestShares.removedAt))
  const shares = await tx.select().from(harvestShares).where(sharing).orderBy(asc(harvestShares.plantingId))
  return rows.flatMap((row): WeighingRowSent[] => {
    const { id, seasonId, isoWeek, plantingId, harvestedOn, marketableG, unmarketableG } = row
    const start = { id, seasonId, isoWeek, harvestedOn, ...written(id) }
    const own = shares.filter((share) => share.harvestId === id)
    const parts = plantingId === null ? partsOfCrate(row, own, plantings) : [{ plantingId, marketableG, unmarketableG }]
    return parts
      .map((part) => ({ ...part, plantingId: inRow.inSeason(part.plantingId, seasonId) }))
      .filter((part) => planted.has(part.plantingId))
      .map((part) => ({ ...start, ...part, shared: plantingId === null }))
  })
}

interface Hours {
  readonly kept: RowsKept
  readonly written: Writing
  readonly inRow: RowsOfPlantings
}

async function hoursRows(tx: Tx, groupId: string, { kept, written, inRow }: Hours): Promise<HoursRowSent[]> {
  const [beds, plantings] = [await bedsOf(tx, groupId), await plantingsOf(tx, groupId)]
  const [seasons, assignments] = [await seasonsOf(tx, groupId), await assignmentsOf(tx, groupId)]
  const ground = { seasons, beds, plantings, assignments }
  const standing = and(eq(labourEntries.groupId, groupId), isNull(labourEntries.removedAt))
  const rows = await tx.select().from(labourEntries).where(standing).orderBy(asc(labourEntries.id))
  const shares = await sharesOfHours(tx, groupId)
  const nursery = nurseries(beds, plantings, seasons)
  const bedOf = new Map(ground.plantings.map((one) => [one.id, one.bedId]))
  return rows.flatMap((row): HoursRowSent[] => {
    const { id, seasonId, isoWeek, task, people } = row
    const plantingId = row.plantingId && inRow.inSeason(row.plantingId, seasonId)
    const own = row.shareRule === null ? [] : shares.filter((share) => share.labourEntryId === id)
    const overGardens = row.shareRule !== null && own.every((one) => one.bedId === null)
    const bedId = row.bedId ?? linked(bedOf, row.plantingId) ?? null
    const start = { id, seasonId, isoWeek, task, people, plantingId, bedId, ...written(id) }
    return partsOfEntry(row, own, ground)
      .flatMap((part) => partsOfNursery(part, seasonId, nursery))
      .map(({ gardenId, bedIds, phase, minutes, someBeds, writtenFor, ofNursery }) => ({
        ...start,
        plantingId: ofNursery ? null : plantingId,
        phase,
        personMinutes: minutes,
        gardenId,
        shared: row.shareRule !== null || writtenFor !== null || ofNursery,
        byRule: ofNursery || (overGardens && row.shareRule !== 'given'),
        beds: someBeds || writtenFor ? bedIds : null,
        writtenFor: someBeds ? (writtenFor ?? bedIds) : null,
      }))
      .filter(kept.keepsHours)
  })
}

/** Raw manure that may bind a picking of these seasons: none of it waits for longer than a year. */
async function manuredIn(tx: Tx, groupId: string, { record }: RowsKept) {
  const yearBefore = (day: string) => `${Number(day.slice(0, 4)) - 1}${day.slice(4)}`
  // A record without seasons spans no days, and no row lies in it.
  const first = record.seasons.map((season) => season.startsOn).sort()[0] ?? ''
  const last =
    record.seasons
      .map((season) => season.endsOn)
      .sort()
      // As above.
      .at(-1) ?? ''
  return (await manuredGround(tx, groupId)).filter((one) => one.appliedOn >= yearBefore(first) && one.appliedOn <= last)
}
