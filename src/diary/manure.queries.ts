import { and, asc, eq, inArray, isNull, not } from 'drizzle-orm'
import type { Tx } from '../db/database.ts'
import { manuredGround } from '../inputs/manure.queries.ts'
import { harvestsTooSoon, type PickedTooSoon } from '../inputs/manure-interval.ts'
import type { IsoWeek } from '../quantities/iso-week.ts'
import { plantingsOf } from '../seasons/seasons.queries.ts'
import { harvestShares, harvests } from './diary.table.ts'
import { sealedWeighings } from './sealed.queries.ts'

/** Of some seasons, or of a week; of all where neither is said. */
interface Span {
  readonly seasonIds?: readonly string[]
  readonly isoWeek?: IsoWeek
}

/** Every picking that came sooner after raw manure than the interval. */
export async function pickedTooSoonIn(tx: Tx, groupId: string, span: Span): Promise<PickedTooSoon[]> {
  const manured = await manuredGround(tx, groupId)
  if (manured.length === 0) return []
  const picked = await pickings(tx, groupId, span)
  return harvestsTooSoon(await plantingsOf(tx, groupId), manured, picked)
}

/** Each planting that was picked on a day, once; those of a shared crate too. */
async function pickings(tx: Tx, groupId: string, { seasonIds, isoWeek }: Span) {
  const rows = await tx
    .select({ own: harvests.plantingId, shared: harvestShares.plantingId, harvestedOn: harvests.harvestedOn })
    .from(harvests)
    .leftJoin(
      harvestShares,
      and(
        eq(harvestShares.groupId, groupId),
        eq(harvestShares.harvestId, harvests.id),
        isNull(harvestShares.removedAt),
      ),
    )
    .where(
      and(
        eq(harvests.groupId, groupId),
        isNull(harvests.removedAt),
        not(await sealedWeighings(tx, groupId)),
        ...(seasonIds ? [inArray(harvests.seasonId, [...seasonIds])] : []),
        ...(isoWeek ? [eq(harvests.isoWeek, isoWeek)] : []),
      ),
    )
    .orderBy(asc(harvests.harvestedOn), asc(harvests.id))
  const once = new Map(
    rows.flatMap(({ own, shared, harvestedOn }) => {
      const plantingId = own ?? shared
      return plantingId ? [[`${plantingId} ${harvestedOn}`, { plantingId, harvestedOn }] as const] : []
    }),
  )
  return [...once.values()]
}
