import { and, asc, eq, isNull } from 'drizzle-orm'
import { amend } from '../db/amend.ts'
import type { Tx } from '../db/database.ts'
import type { Author } from '../gardens/gardens.queries.ts'
import { decisions } from './decisions.table.ts'

/** First decided first. */
export const decisionsOf = (tx: Tx, groupId: string) =>
  tx
    .select()
    .from(decisions)
    .where(and(eq(decisions.groupId, groupId), isNull(decisions.removedAt)))
    .orderBy(asc(decisions.decidedOn), asc(decisions.id))

type NewDecision = Omit<typeof decisions.$inferInsert, keyof Author>

/** A form sent twice is stored once. */
export async function saveDecision(tx: Tx, author: Author, given: NewDecision): Promise<void> {
  await tx
    .insert(decisions)
    .values({ ...author, ...given })
    .onConflictDoNothing({ target: [decisions.groupId, decisions.id] })
}

/** False where somebody has written what happened meanwhile. */
export const saveHappened = (
  tx: Tx,
  seen: { groupId: string; id: string; version: number },
  happened: string,
): Promise<boolean> => amend(tx, decisions, seen, { happened })
