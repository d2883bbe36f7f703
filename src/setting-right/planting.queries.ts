import { and, eq, isNull, ne, sql } from 'drizzle-orm'
import { rowOf } from '../db/amend.ts'
import type { Tx } from '../db/database.ts'
import { bedsOf, gardensOf } from '../gardens/gardens.queries.ts'
import { textIn } from '../lookups/unsaid.ts'
import { namesOfPlantings } from '../seasons/planting-names.queries.ts'
import { cropsOf, matchedSetsOf, plantingsOf, seasonsOf } from '../seasons/seasons.queries.ts'
import { cultivars, matchedSets, plantings } from '../seasons/seasons.table.ts'

/** A planting with the lists that its correction chooses from. */
export async function plantingToCorrect(tx: Tx, groupId: string, id: string) {
  const row = await rowOf(tx, plantings, groupId, id)
  const cultivar = row && (await rowOf(tx, cultivars, groupId, row.cultivarId))
  if (!row || !cultivar) return undefined
  const sets = (await matchedSetsOf(tx, groupId)).filter((set) => set.seasonId === row.seasonId)
  const named = ({ id: value, name: label }: { id: string; name: string }) => ({ value, label })
  const [gardens, beds, all] = [await gardensOf(tx, groupId), await bedsOf(tx, groupId), await plantingsOf(tx, groupId)]
  const others = all.filter((one) => one.id !== id && one.seasonId === row.seasonId)
  return {
    ...row,
    name: textIn(await namesOfPlantings(tx, groupId), id),
    cropId: cultivar.cropId,
    cultivar: cultivar.name,
    sets,
    seasonChoices: (await seasonsOf(tx, groupId)).map(named),
    matchedWith: others.filter((one) => one.matchedSetId !== null && one.matchedSetId === row.matchedSetId).length,
    setChoices: sets.filter((set) => set.cultivarId === row.cultivarId).map(named),
    cropChoices: (await cropsOf(tx, groupId)).map(named),
    gardenOfBed: new Map(beds.map((bed) => [bed.id, bed.gardenId])),
    bedChoices: gardens.flatMap((garden) =>
      beds
        .filter((bed) => bed.gardenId === garden.id)
        .map((bed) => ({ value: bed.id, label: `${garden.name}, ${bed.name}` })),
    ),
  }
}

/** The row by itself, as a part of it is made from. */
export async function plantingAlone(tx: Tx, groupId: string, id: string): Promise<typeof plantings.$inferSelect> {
  const row = await rowOf(tx, plantings, groupId, id)
  if (!row) throw new Error(`The planting ${id} is gone.`)
  return row
}

export type PlantingToCorrect = NonNullable<Awaited<ReturnType<typeof plantingToCorrect>>>

interface SetRenamed {
  readonly groupId: string
  readonly setId: string
  readonly cultivarId: string
  readonly before: string
  readonly cultivar: string
}

/**
 * The other plantings of a set are of the cultivar that this one turned out to be; a set named by the old one is named
 * by it.
 */
export async function renameSet(tx: Tx, plantingId: string, given: SetRenamed): Promise<void> {
  const { groupId, setId, cultivarId } = given
  await tx
    .update(plantings)
    .set({ cultivarId, version: sql`${plantings.version} + 1` })
    .where(
      and(
        eq(plantings.groupId, groupId),
        eq(plantings.matchedSetId, setId),
        ne(plantings.id, plantingId),
        isNull(plantings.removedAt),
      ),
    )
  const name = sql`case when ${matchedSets.name} = ${given.before} then ${given.cultivar} else ${matchedSets.name} end`
  await tx
    .update(matchedSets)
    .set({ cultivarId, name, version: sql`${matchedSets.version} + 1` })
    .where(and(eq(matchedSets.groupId, groupId), eq(matchedSets.id, setId)))
}
