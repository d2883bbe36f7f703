import { and, asc, eq, isNull } from 'drizzle-orm'
import type { Tx } from '../db/database.ts'
import type { Author } from '../gardens/gardens.queries.ts'
import { measures } from './inputs.table.ts'

export const measuresOf = (tx: Tx, groupId: string) =>
  tx
    .select()
    .from(measures)
    .where(and(eq(measures.groupId, groupId), isNull(measures.removedAt)))
    .orderBy(asc(measures.name), asc(measures.id))

export async function saveMeasure(
  tx: Tx,
  author: Author,
  given: { id: string; name: string; volumeMl: number | null; massG: number | null },
): Promise<void> {
  await tx
    .insert(measures)
    .values({ ...author, ...given })
    .onConflictDoNothing({ target: [measures.groupId, measures.id] })
}
