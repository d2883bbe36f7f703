import { and, desc, eq, gte, isNotNull, isNull, not, or, sql } from 'drizzle-orm'
import type { Tx } from '../db/database.ts'
import type { IsoDate } from '../quantities/dates.ts'
import { crops, cultivars, plantings, seasons } from '../seasons/seasons.table.ts'
import { harvestShares, harvests, losses } from './diary.table.ts'
import { sealedWeighings } from './sealed.queries.ts'
import type { Lot } from './state.ts'

const grams = sql<number>`${harvests.marketableG} + ${harvests.unmarketableG}`

/** The earlier weighing that a form names as the same lot; none where it names none. */
export async function lotsNamed(tx: Tx, groupId: string, id: string | null | undefined) {
  if (!id) return new Map<string, Lot>()
  const { plantingId, harvestedOn, counts } = harvests
  const rows = await tx
    .select({ id: harvests.id, plantingId, harvestedOn, counts, grams })
    .from(harvests)
    .where(
      and(
        eq(harvests.groupId, groupId),
        eq(harvests.id, id),
        isNull(harvests.removedAt),
        not(await sealedWeighings(tx, groupId)),
      ),
    )
  return new Map(rows.map((row) => [row.id, row]))
}

/** All weighings of one planting that may be weighed again, by their ids. */
export async function lotsOf(tx: Tx, groupId: string): Promise<ReadonlyMap<string, Lot>> {
  const { plantingId, harvestedOn, counts } = harvests
  const rows = await tx
    .select({ id: harvests.id, plantingId, harvestedOn, counts, grams })
    .from(harvests)
    .where(
      and(
        eq(harvests.groupId, groupId),
        isNull(harvests.removedAt),
        isNotNull(plantingId),
        not(await sealedWeighings(tx, groupId)),
      ),
    )
  return new Map(rows.map((row) => [row.id, row]))
}

/**
 * Weighings since a day that may be weighed again: of what is kept, and whatever was weighed in a state that does not
 * count.
 */
export async function lotsSince(tx: Tx, groupId: string, day: IsoDate) {
  const { id, plantingId, harvestedOn, state } = harvests
  return tx
    .select({ id, plantingId, harvestedOn, state, grams, weighedAs: crops.weighedAs })
    .from(harvests)
    .innerJoin(plantings, and(eq(plantings.groupId, groupId), eq(plantings.id, harvests.plantingId)))
    .innerJoin(cultivars, and(eq(cultivars.groupId, groupId), eq(cultivars.id, plantings.cultivarId)))
    .innerJoin(crops, and(eq(crops.groupId, groupId), eq(crops.id, cultivars.cropId)))
    .where(
      and(
        eq(harvests.groupId, groupId),
        isNull(harvests.removedAt),
        gte(harvests.harvestedOn, day),
        or(isNotNull(crops.weighedAs), eq(harvests.counts, 0), eq(harvests.state, 'from store')),
        not(await sealedWeighings(tx, groupId)),
      ),
    )
    .orderBy(desc(harvests.harvestedOn), desc(harvests.id))
}

/** Seed that was saved, by the name of its lot: the planting and the season that it is of. */
export async function seedSaved(tx: Tx, groupId: string) {
  return tx
    .select({ lot: harvests.seedLot, plantingId: harvests.plantingId, savedOn: harvests.harvestedOn })
    .from(harvests)
    .where(and(eq(harvests.groupId, groupId), isNull(harvests.removedAt), eq(harvests.state, 'seed')))
    .orderBy(harvests.harvestedOn, harvests.id)
}

/** The days on which what grows again was cut, by planting and season: their order numbers the cuts. */
export async function cutDays(tx: Tx, groupId: string) {
  return tx
    .selectDistinct({ plantingId: plantings.id, seasonId: harvests.seasonId, day: harvests.harvestedOn })
    .from(harvests)
    .innerJoin(plantings, and(eq(plantings.groupId, groupId), eq(plantings.id, harvests.plantingId)))
    .innerJoin(cultivars, and(eq(cultivars.groupId, groupId), eq(cultivars.id, plantings.cultivarId)))
    .innerJoin(crops, and(eq(crops.groupId, groupId), eq(crops.id, cultivars.cropId)))
    .where(
      and(
        eq(harvests.groupId, groupId),
        isNull(harvests.removedAt),
        eq(harvests.counts, 1),
        eq(crops.regrows, 1),
        not(await sealedWeighings(tx, groupId)),
      ),
    )
}

/**
 * Plantings cleared in seasons that are open, of which nothing was weighed yet in the state that counts, and that are
 * not lost.
 */
export async function stillToWeigh(tx: Tx, groupId: string): Promise<ReadonlySet<string>> {
  // Two questions, each by an index: one that asks for either reads all weights for every planting.
  const weighed = sql`(exists (select from ${harvests} where ${harvests.groupId} = ${groupId}
    and ${harvests.plantingId} = ${plantings.id} and ${harvests.removedAt} is null and ${harvests.counts} = 1)
    or exists (select from ${harvestShares} join ${harvests} on ${harvests.groupId} = ${harvestShares.groupId}
    and ${harvests.id} = ${harvestShares.harvestId} and ${harvests.removedAt} is null and ${harvests.counts} = 1
    where ${harvestShares.groupId} = ${groupId} and ${harvestShares.plantingId} = ${plantings.id}
    and ${harvestShares.removedAt} is null))`
  const gone = sql`exists (select from ${losses} where ${losses.groupId} = ${groupId} and ${losses.removedAt} is null
    and ${losses.plantingId} = ${plantings.id} and ${losses.sharePermille} = 1000)`
  const rows = await tx
    .select({ id: plantings.id })
    .from(plantings)
    .innerJoin(cultivars, and(eq(cultivars.groupId, groupId), eq(cultivars.id, plantings.cultivarId)))
    .innerJoin(crops, and(eq(crops.groupId, groupId), eq(crops.id, cultivars.cropId)))
    .innerJoin(seasons, and(eq(seasons.groupId, groupId), eq(seasons.id, plantings.seasonId)))
    .where(
      and(
        eq(plantings.groupId, groupId),
        isNull(plantings.removedAt),
        isNull(seasons.closedAt),
        isNotNull(plantings.clearedOn),
        isNotNull(crops.weighedAs),
        not(weighed),
        not(gone),
      ),
    )
  return new Set(rows.map((row) => row.id))
}
