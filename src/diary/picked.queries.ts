import { and, asc, eq, isNull } from 'drizzle-orm'
import type { Tx } from '../db/database.ts'
import { partsOfCrate } from './crate-parts.ts'
import { harvestShares, harvests } from './diary.table.ts'

type Plantings = Parameters<typeof partsOfCrate>[2]

export interface Weighed {
  readonly isoWeek: string
  readonly marketableG: number
  readonly unmarketableG: number
}

/** The weighings of each planting, in the order of their ids; shared crates in their parts, divided to the gram. */
export async function weighedByPlanting(tx: Tx, groupId: string, plantings: Plantings) {
  const standing = and(eq(harvests.groupId, groupId), isNull(harvests.removedAt))
  const rows = await tx.select().from(harvests).where(standing).orderBy(asc(harvests.id))
  const sharing = and(eq(harvestShares.groupId, groupId), isNull(harvestShares.removedAt))
  const shares = await tx.select().from(harvestShares).where(sharing).orderBy(asc(harvestShares.plantingId))
  const weighed = new Map<string, Weighed[]>()
  for (const row of rows) {
    const own = shares.filter((share) => share.harvestId === row.id)
    for (const { plantingId, marketableG, unmarketableG } of partsOfWeighing(row, own, plantings)) {
      const part = { isoWeek: row.isoWeek, marketableG, unmarketableG }
      weighed.set(plantingId, [...(weighed.get(plantingId) ?? []), part])
    }
  }
  return weighed
}

type Share = { readonly plantingId: string; readonly share: number | null }

function partsOfWeighing(row: typeof harvests.$inferSelect, shares: readonly Share[], plantings: Plantings) {
  const { plantingId, marketableG, unmarketableG } = row
  return plantingId === null ? partsOfCrate(row, shares, plantings) : [{ plantingId, marketableG, unmarketableG }]
}

/** What was picked of each planting in all. */
export async function gramsByPlanting(tx: Tx, groupId: string, plantings: Plantings) {
  const weighed = await weighedByPlanting(tx, groupId, plantings)
  const sum = (parts: readonly Weighed[], of: 'marketableG' | 'unmarketableG') =>
    parts.reduce((total, part) => total + part[of], 0)
  return new Map(
    [...weighed].map(([id, parts]) => [
      id,
      { marketableG: sum(parts, 'marketableG'), unmarketableG: sum(parts, 'unmarketableG') },
    ]),
  )
}
