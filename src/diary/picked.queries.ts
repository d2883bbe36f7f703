import { and, asc, eq, inArray, isNull, not } from 'drizzle-orm'
import type { Tx } from '../db/database.ts'
import { rowsWith } from '../lookups/rows-with.ts'
import type { IsoDate } from '../quantities/dates.ts'
import type { IsoWeek } from '../quantities/iso-week.ts'
import { partsOfCrate } from './crate-parts.ts'
import { harvestShares, harvests } from './diary.table.ts'
import { sealedWeighings } from './sealed.queries.ts'

type Plantings = Parameters<typeof partsOfCrate>[2]

export interface WeighedPart {
  readonly id: string
  readonly seasonId: string
  readonly on: IsoDate
  /** A part of a crate from several plantings. */
  readonly shared: boolean
  readonly isoWeek: IsoWeek
  readonly marketableG: number
  readonly unmarketableG: number
}

/** The weighings of each planting, in the order of their ids; shared crates in their parts, divided to the gram. */
export async function weighedByPlanting(tx: Tx, groupId: string, plantings: Plantings) {
  const weighed = new Map<string, WeighedPart[]>()
  for (const { plantingId, harvestedOn, ...part } of await partsWeighed(tx, groupId, plantings)) {
    const own = weighed.get(plantingId)
    const one = { ...part, on: harvestedOn }
    if (own) own.push(one)
    else weighed.set(plantingId, [one])
  }
  return weighed
}

interface PickedInWeek extends Pick<WeighedPart, 'isoWeek' | 'marketableG' | 'unmarketableG'> {
  readonly plantingId: string
  /** The last day of that week on which it was weighed. */
  readonly lastOn: IsoDate
}

/** What was weighed of each planting, a week a row; crates are divided over all the group's plantings. */
export async function pickedByWeek(tx: Tx, groupId: string, plantings: Plantings): Promise<PickedInWeek[]> {
  const weeks = new Map<string, PickedInWeek>()
  for (const { plantingId, isoWeek, harvestedOn, marketableG, unmarketableG } of await partsWeighed(
    tx,
    groupId,
    plantings,
  )) {
    const key = `${plantingId} ${isoWeek}`
    const before = weeks.get(key) ?? { lastOn: harvestedOn, marketableG: 0, unmarketableG: 0 }
    weeks.set(key, {
      ...{ plantingId, isoWeek, lastOn: before.lastOn > harvestedOn ? before.lastOn : harvestedOn },
      marketableG: before.marketableG + marketableG,
      unmarketableG: before.unmarketableG + unmarketableG,
    })
  }
  return [...weeks.values()]
}

async function partsWeighed(tx: Tx, groupId: string, plantings: Plantings) {
  const standing = and(
    eq(harvests.groupId, groupId),
    isNull(harvests.removedAt),
    eq(harvests.counts, 1),
    not(await sealedWeighings(tx, groupId)),
  )
  const { id, seasonId, isoWeek, harvestedOn, plantingId, shareRule, marketableG, unmarketableG } = harvests
  const columns = { id, seasonId, isoWeek, harvestedOn, plantingId, shareRule, marketableG, unmarketableG }
  const rows = await tx.select(columns).from(harvests).where(standing).orderBy(asc(id))
  const sharing = and(eq(harvestShares.groupId, groupId), isNull(harvestShares.removedAt))
  const shares = await tx.select().from(harvestShares).where(sharing).orderBy(asc(harvestShares.plantingId))
  return rows.flatMap(({ isoWeek, harvestedOn, ...row }) => {
    const own = row.plantingId === null ? rowsWith(shares, 'harvestId', row.id) : []
    const { id, seasonId, plantingId } = row
    const entry = { id, seasonId, isoWeek, harvestedOn, shared: true }
    if (plantingId !== null) {
      const { marketableG, unmarketableG } = row
      return [{ plantingId, marketableG, unmarketableG, id, seasonId, isoWeek, harvestedOn, shared: false }]
    }
    return partsOfCrate(row, own, plantings).map((part) => ({ ...part, ...entry }))
  })
}

/** The crates from several plantings that were weighed in a week, in the part of each. */
export async function cratesOfWeek(tx: Tx, groupId: string, isoWeek: IsoWeek, plantings: Plantings) {
  const crates = await tx
    .select()
    .from(harvests)
    .where(
      and(
        ...[eq(harvests.groupId, groupId), eq(harvests.isoWeek, isoWeek)],
        ...[isNull(harvests.plantingId), isNull(harvests.removedAt), eq(harvests.counts, 1)],
      ),
    )
    .orderBy(asc(harvests.id))
  if (crates.length === 0) return []
  const ids = crates.map((one) => one.id)
  const shares = await tx
    .select()
    .from(harvestShares)
    .where(
      and(
        ...[eq(harvestShares.groupId, groupId), inArray(harvestShares.harvestId, ids), isNull(harvestShares.removedAt)],
      ),
    )
    .orderBy(asc(harvestShares.plantingId))
  return crates.flatMap((crate) => {
    const own = shares.filter((one) => one.harvestId === crate.id)
    return partsOfCrate(crate, own, plantings).map((part) => ({ ...crate, ...part, ofCrate: true }))
  })
}
