import { and, asc, eq, isNull } from 'drizzle-orm'
import type { Tx } from '../db/database.ts'
import type { Author } from '../gardens/gardens.queries.ts'
import { inputMeasures } from './inputs.table.ts'

export const measuresOf = (tx: Tx, groupId: string) =>
  tx
    .select()
    .from(inputMeasures)
    .where(and(eq(inputMeasures.groupId, groupId), isNull(inputMeasures.removedAt)))
    .orderBy(asc(inputMeasures.name), asc(inputMeasures.id))

export async function saveMeasure(
  tx: Tx,
  author: Author,
  given: { id: string; name: string; volumeMl: number | null; massG: number | null },
): Promise<void> {
  await tx
    .insert(inputMeasures)
    .values({ ...author, ...given })
    .onConflictDoNothing({ target: [inputMeasures.groupId, inputMeasures.id] })
}
