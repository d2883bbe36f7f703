import { and, asc, eq, isNotNull, isNull, sql } from 'drizzle-orm'
import { amend, rowOf } from '../db/amend.ts'
import type { Tx } from '../db/database.ts'
import { gardensOf } from '../gardens/gardens.queries.ts'
import { beds } from '../gardens/gardens.table.ts'
import { textIn } from '../lookups/unsaid.ts'
import type { IsoWeek } from '../quantities/iso-week.ts'
import { namesOfPlantings } from '../seasons/planting-names.queries.ts'
import { seasonsOf } from '../seasons/seasons.queries.ts'
import { plantings } from '../seasons/seasons.table.ts'
import type { InContainer, Reckoned } from './container-rule.ts'
import { containers, harvestShares, harvests } from './diary.table.ts'
import { closedKey } from './known.ts'
import { labelsOf } from './sealed.queries.ts'
import { closingsWaitedFor, standingClosings } from './week.queries.ts'

export interface WeighedIn extends InContainer {
  readonly isoWeek: IsoWeek
  /** Its planting with its garden; null under a sealed label, and for a crate from several plantings. */
  readonly planting: string | null
  readonly label: string | null
}

/** A container and all that was weighed with it, in the order of days; undefined where there is none. */
export async function containerWeighed(tx: Tx, groupId: string, id: string) {
  const row = await rowOf(tx, containers, groupId, id)
  return row && { ...row, weighed: await weighedIn(tx, groupId, id) }
}

async function weighedIn(tx: Tx, groupId: string, containerId: string): Promise<WeighedIn[]> {
  const rows = await tx
    .select()
    .from(harvests)
    .where(
      and(
        eq(harvests.groupId, groupId),
        eq(harvests.containerId, containerId),
        isNotNull(harvests.grossG),
        isNull(harvests.removedAt),
      ),
    )
    .orderBy(asc(harvests.harvestedOn), asc(harvests.id))
  if (rows.length === 0) return []
  const names = await namesOfPlantings(tx, groupId)
  const gardens = await gardensOfWeighings(tx, groupId, containerId)
  const called = new Map((await gardensOf(tx, groupId)).map((one) => [one.id, one.name]))
  const gardenIds = new Map(gardens.map((one) => [one.id, one.gardenId]))
  const gardenOf = (id: string) => textIn(called, textIn(gardenIds, id))
  const closings = (await standingClosings(tx, groupId)).filter((one) => one.what === 'weights')
  const closed = new Set(closings.map((one) => closedKey('weights', one.gardenId, one.isoWeek)))
  const over = new Set((await seasonsOf(tx, groupId)).flatMap((one) => (one.closedAt === null ? [] : [one.id])))
  const sealed = (await labelsOf(tx, groupId)).filter((one) => one.sealed)
  const labels = new Map(sealed.map((one) => [`${one.plantingId} ${one.isoWeek}`, one.label]))
  return rows.map((row) => {
    const label = labels.get(`${row.plantingId} ${row.isoWeek}`) ?? null
    return {
      id: row.id,
      version: row.version,
      harvestedOn: row.harvestedOn,
      isoWeek: row.isoWeek,
      label,
      marketableG: row.marketableG,
      unmarketableG: row.unmarketableG,
      grossG: Number(row.grossG),
      planting: label === null && row.plantingId !== null ? `${names.get(row.plantingId)}, ${gardenOf(row.id)}` : null,
      closed:
        over.has(row.seasonId) ||
        gardens.some((one) => one.id === row.id && closed.has(closedKey('weights', one.gardenId, row.isoWeek))),
    }
  })
}

/** The gardens that weighings with a container touch, those of their shares among them. */
async function gardensOfWeighings(tx: Tx, groupId: string, containerId: string) {
  const meant = and(eq(harvests.groupId, groupId), eq(harvests.containerId, containerId), isNull(harvests.removedAt))
  const inBed = and(eq(beds.groupId, groupId), eq(beds.id, plantings.bedId))
  const found = { id: harvests.id, gardenId: beds.gardenId }
  const whole = await tx
    .selectDistinct(found)
    .from(harvests)
    .innerJoin(plantings, and(eq(plantings.groupId, groupId), eq(plantings.id, harvests.plantingId)))
    .innerJoin(beds, inBed)
    .where(meant)
  const shared = await tx
    .selectDistinct(found)
    .from(harvests)
    .innerJoin(harvestShares, and(eq(harvestShares.groupId, groupId), eq(harvestShares.harvestId, harvests.id)))
    .innerJoin(plantings, and(eq(plantings.groupId, groupId), eq(plantings.id, harvestShares.plantingId)))
    .innerJoin(beds, inBed)
    .where(and(meant, isNull(harvestShares.removedAt)))
  return [...whole, ...shared]
}

/** Waits for all who write weights into weeks; whoever writes after this transaction reads the new empty weight. */
export async function containerHeld(tx: Tx, groupId: string, id: string) {
  await closingsWaitedFor(tx, groupId)
  return containerWeighed(tx, groupId, id)
}

/** Writes the container over the version that was seen, and the weighings that it changes. */
export async function saveContainerAnew(
  tx: Tx,
  seen: { readonly groupId: string; readonly id: string; readonly version: number },
  given: { readonly name: string; readonly tareG: number; readonly changed: readonly Reckoned<WeighedIn>[] },
): Promise<boolean> {
  if (!(await amend(tx, containers, seen, { name: given.name, tareG: given.tareG }))) return false
  for (const { row, marketableG, unmarketableG } of given.changed) {
    await tx
      .update(harvests)
      .set({ marketableG, unmarketableG, version: sql`${harvests.version} + 1` })
      .where(and(eq(harvests.groupId, seen.groupId), eq(harvests.id, row.id)))
  }
  return true
}
