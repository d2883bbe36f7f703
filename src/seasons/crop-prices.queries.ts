import { and, asc, eq, gte, isNotNull, isNull, lt, lte, or, sql } from 'drizzle-orm'
import { amend } from '../db/amend.ts'
import type { Tx } from '../db/database.ts'
import { newId } from '../db/new-id.ts'
import type { Author } from '../gardens/gardens.queries.ts'
import type { IsoDate } from '../quantities/dates.ts'
import type { PriceFrom } from './crop-prices.ts'
import { cropPrices, crops, cultivars, plantings, seasons } from './seasons.table.ts'

/** The prices of each crop by their days, the one from the beginning first. */
export async function cropPricesOf(tx: Tx, groupId: string): Promise<ReadonlyMap<string, readonly PriceFrom[]>> {
  const first = await tx
    .select({ id: crops.id, minorPerKg: crops.priceMinorPerKg })
    .from(crops)
    .where(eq(crops.groupId, groupId))
  const later = await tx
    .select({ cropId: cropPrices.cropId, from: cropPrices.fromDay, minorPerKg: cropPrices.priceMinorPerKg })
    .from(cropPrices)
    .where(and(eq(cropPrices.groupId, groupId), isNull(cropPrices.removedAt)))
    .orderBy(asc(cropPrices.fromDay), asc(cropPrices.id))
  const prices = new Map<string, PriceFrom[]>(first.map(({ id, minorPerKg }) => [id, [{ from: null, minorPerKg }]]))
  for (const { cropId, from, minorPerKg } of later) prices.get(cropId)?.push({ from, minorPerKg })
  return prices
}

interface Priced extends PriceFrom {
  readonly cropId: string
}

/** Another price from the beginning stands on the crop; one that stands on its day already is written over. */
export async function savePrice(tx: Tx, author: Author, { cropId, from, minorPerKg }: Priced): Promise<void> {
  if (from === null) {
    const own = and(eq(crops.groupId, author.groupId), eq(crops.id, cropId))
    await tx.update(crops).set({ priceMinorPerKg: minorPerKg }).where(own)
    return
  }
  const own = and(eq(cropPrices.groupId, author.groupId), eq(cropPrices.cropId, cropId), eq(cropPrices.fromDay, from))
  const [stands] = await tx
    .select()
    .from(cropPrices)
    .where(and(own, isNull(cropPrices.removedAt)))
  if (stands) await amend(tx, cropPrices, stands, { priceMinorPerKg: minorPerKg })
  else
    await tx.insert(cropPrices).values({ ...author, id: newId(), cropId, fromDay: from, priceMinorPerKg: minorPerKg })
}

interface Span {
  readonly groupId: string
  readonly cropId: string
  readonly from: IsoDate | null
  readonly until: IsoDate | null
}

/** Whether the crop stood in a closed season whose last day lies in the span: what it was worth rests on the price. */
export async function closedSeasonRests(tx: Tx, { groupId, cropId, from, until }: Span): Promise<boolean> {
  const stoodIn = or(
    eq(plantings.seasonId, seasons.id),
    and(
      eq(plantings.standsOverSeasons, 1),
      lte(sql`coalesce(${plantings.plantedOn}, ${plantings.sownOn})`, seasons.endsOn),
      or(isNull(plantings.clearedOn), gte(plantings.clearedOn, seasons.startsOn)),
    ),
  )
  const found = await tx
    .select({ id: seasons.id })
    .from(seasons)
    .innerJoin(plantings, and(eq(plantings.groupId, groupId), isNull(plantings.removedAt), stoodIn))
    .innerJoin(cultivars, and(eq(cultivars.groupId, groupId), eq(cultivars.id, plantings.cultivarId)))
    .where(
      and(
        eq(seasons.groupId, groupId),
        isNull(seasons.removedAt),
        isNotNull(seasons.closedAt),
        eq(cultivars.cropId, cropId),
        from === null ? undefined : gte(seasons.endsOn, from),
        until === null ? undefined : lt(seasons.endsOn, until),
      ),
    )
    .limit(1)
  return found.length > 0
}
