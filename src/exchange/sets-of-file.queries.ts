import { and, eq, isNull } from 'drizzle-orm'
import type { Tx } from '../db/database.ts'
import { idOf } from '../db/new-id.ts'
import type { Author } from '../gardens/gardens.queries.ts'
import { cultivarNamed } from '../seasons/seasons.queries.ts'
import { cultivars, matchedSets } from '../seasons/seasons.table.ts'
import { cultivarKey, type SetsBrought, type SetsOfFile, type SetThere, setsOfFile } from './sets-of-file.ts'

/** The sets that stand, and which of them the plantings of a file come into. */
export async function setsFor(tx: Tx, groupId: string, brought: readonly SetsBrought[]): Promise<SetsOfFile> {
  const rows = await tx
    .select({ set: matchedSets, cropId: cultivars.cropId, cultivar: cultivars.name })
    .from(matchedSets)
    .innerJoin(cultivars, and(eq(cultivars.groupId, groupId), eq(cultivars.id, matchedSets.cultivarId)))
    .where(and(eq(matchedSets.groupId, groupId), isNull(matchedSets.removedAt)))
  const there = rows.map(
    ({ set, cropId, cultivar }): SetThere => ({
      id: set.id,
      cultivar: cultivarKey(cropId, cultivar),
      seasonId: set.seasonId,
      name: set.name,
      windowFrom: set.windowFrom,
      windowTo: set.windowTo,
    }),
  )
  return setsOfFile(brought, there)
}

/** Makes the sets that a file makes, each once however often it is sent; the set of each planting that has one. */
export async function makeSets(tx: Tx, author: Author, found: SetsOfFile): Promise<ReadonlyMap<string, string>> {
  const setOf = new Map(found.joins)
  for (const { first, name, members } of found.made) {
    const id = idOf(author.groupId, 'set', first.id)
    const [cropId = ''] = first.cultivar.split(' ')
    const cultivarId = await cultivarNamed(tx, author, cropId, first.cultivarName)
    const days = members.flatMap((one) => one.day ?? []).sort()
    const window = { windowFrom: days[0] ?? null, windowTo: days.at(-1) ?? null }
    await tx
      .insert(matchedSets)
      .values({ ...author, ...window, id, seasonId: first.seasonId, cultivarId, name })
      .onConflictDoNothing({ target: [matchedSets.groupId, matchedSets.id] })
    for (const member of members) setOf.set(member.id, id)
  }
  return setOf
}
