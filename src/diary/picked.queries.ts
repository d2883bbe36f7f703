import { and, asc, eq, inArray, isNull, not, or, type SQL, sql } from 'drizzle-orm'
import type { Tx } from '../db/database.ts'
import { rowsWith } from '../lookups/rows-with.ts'
import type { IsoDate } from '../quantities/dates.ts'
import type { IsoWeek } from '../quantities/iso-week.ts'
import type { ByRow } from './by-row.ts'
import { partsOfCrate } from './crate-parts.ts'
import { harvestShares, harvests } from './diary.table.ts'
import { sealedWeighings } from './sealed.queries.ts'

type Plantings = Parameters<typeof partsOfCrate>[2]

/** A weighing, or what was weighed in a week. */
interface WeighedSum {
  readonly seasonId: string
  readonly isoWeek: IsoWeek
  readonly marketableG: number
  readonly unmarketableG: number
}

export interface WeighedPart extends WeighedSum {
  readonly id: string
  readonly on: IsoDate
  /** A part of a crate from several plantings. */
  readonly shared: boolean
}

/**
 * The weighings of each planting, in the order of their ids; shared crates in their parts, divided to the gram.
 */
export async function weighedByPlanting(tx: Tx, groupId: string, plantings: Plantings, which: ByRow) {
  const weighed = new Map<string, WeighedPart[]>()
  const { plantingId: alone, seasonId } = harvests
  const only = which === 'all' ? undefined : or(isNull(alone), inArray(seasonId, [...which]))
  for (const { plantingId, harvestedOn, ...part } of await partsWeighed(tx, groupId, plantings, only)) {
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

/**
 * What was weighed of some plantings, a week a row. Weighings of one planting are summed by the database; crates from
 * several are divided over all the group's plantings, to the gram.
 */
export async function pickedByWeek(
  tx: Tx,
  groupId: string,
  plantings: Plantings,
  asked: ReadonlySet<string>,
): Promise<PickedInWeek[]> {
  const weeks = new Map<string, PickedInWeek>()
  const add = (one: PickedInWeek) => {
    const key = `${one.plantingId} ${one.isoWeek}`
    const before = weeks.get(key)
    weeks.set(key, before ? together(before, one) : one)
  }
  for (const { plantingId, ...one } of await summedByWeek(tx, groupId, asked)) {
    if (plantingId) add({ plantingId, ...one })
  }
  const crates = await partsWeighed(tx, groupId, plantings, isNull(harvests.plantingId))
  for (const { plantingId, isoWeek, harvestedOn: lastOn, marketableG, unmarketableG } of crates) {
    if (asked.has(plantingId)) add({ plantingId, isoWeek, lastOn, marketableG, unmarketableG })
  }
  return [...weeks.values()]
}

interface PickedSum {
  readonly plantingId: string
  readonly seasonId: string
  /** The last day of them. */
  readonly on: IsoDate
  /** Marketable or not. */
  readonly grams: number
}

/**
 * All that was weighed of some plantings, summed by the database for each season or each of its days; crates from
 * several, divided over all the group's plantings to the gram, each by itself.
 */
export async function gramsPicked(
  tx: Tx,
  groupId: string,
  plantings: Plantings,
  { asked, by }: { readonly asked: ReadonlySet<string>; readonly by: 'season' | 'day' },
): Promise<PickedSum[]> {
  if (asked.size === 0) return []
  const { plantingId, seasonId, harvestedOn, marketableG, unmarketableG } = harvests
  const summed = await tx
    .select({
      plantingId: sql<string>`${plantingId}`,
      seasonId,
      on: sql<IsoDate>`max(${harvestedOn})::text`,
      grams: sql<number>`sum(${marketableG} + ${unmarketableG})::double precision`,
    })
    .from(harvests)
    .where(and(await countingWeighings(tx, groupId), inArray(plantingId, [...asked])))
    .groupBy(plantingId, seasonId, ...(by === 'day' ? [harvestedOn] : []))
    .orderBy(asc(plantingId), asc(sql`max(${harvestedOn})`))
  const crates = await partsWeighed(tx, groupId, plantings, isNull(plantingId))
  const divided = crates.flatMap(({ harvestedOn: on, marketableG, unmarketableG, ...part }) =>
    asked.has(part.plantingId)
      ? [{ plantingId: part.plantingId, seasonId: part.seasonId, on, grams: marketableG + unmarketableG }]
      : [],
  )
  return [...summed, ...divided]
}

const together = (before: PickedInWeek, one: PickedInWeek): PickedInWeek => ({
  ...one,
  lastOn: before.lastOn > one.lastOn ? before.lastOn : one.lastOn,
  marketableG: before.marketableG + one.marketableG,
  unmarketableG: before.unmarketableG + one.unmarketableG,
})

async function summedByWeek(tx: Tx, groupId: string, asked: ReadonlySet<string>) {
  if (asked.size === 0) return []
  const { plantingId, isoWeek, harvestedOn, marketableG, unmarketableG } = harvests
  return tx
    .select({
      plantingId,
      isoWeek,
      lastOn: sql<IsoDate>`max(${harvestedOn})::text`,
      marketableG: sql<number>`sum(${marketableG})::double precision`,
      unmarketableG: sql<number>`sum(${unmarketableG})::double precision`,
    })
    .from(harvests)
    .where(and(await countingWeighings(tx, groupId), inArray(plantingId, [...asked])))
    .groupBy(plantingId, isoWeek)
    .orderBy(asc(plantingId), asc(isoWeek))
}

/** The weighings that figures rest on. */
export const countingWeighings = async (tx: Tx, groupId: string) =>
  and(
    eq(harvests.groupId, groupId),
    isNull(harvests.removedAt),
    eq(harvests.counts, 1),
    not(await sealedWeighings(tx, groupId)),
  )

async function partsWeighed(tx: Tx, groupId: string, plantings: Plantings, only?: SQL) {
  const standing = and(await countingWeighings(tx, groupId), only)
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
        eq(harvests.groupId, groupId),
        eq(harvests.isoWeek, isoWeek),
        isNull(harvests.plantingId),
        isNull(harvests.removedAt),
        eq(harvests.counts, 1),
      ),
    )
    .orderBy(asc(harvests.id))
  if (crates.length === 0) return []
  const ids = crates.map((one) => one.id)
  const shares = await tx
    .select()
    .from(harvestShares)
    .where(
      and(eq(harvestShares.groupId, groupId), inArray(harvestShares.harvestId, ids), isNull(harvestShares.removedAt)),
    )
    .orderBy(asc(harvestShares.plantingId))
  return crates.flatMap((crate) => {
    const own = shares.filter((one) => one.harvestId === crate.id)
    return partsOfCrate(crate, own, plantings).map((part) => ({ ...crate, ...part, ofCrate: true }))
  })
}
