import { and, asc, eq, isNull, sql } from 'drizzle-orm'
import type { Tx } from '../db/database.ts'
import { newId } from '../db/new-id.ts'
import { guesses } from './reports.table.ts'

export const guessesOf = (tx: Tx, groupId: string) =>
  tx
    .select()
    .from(guesses)
    .where(and(eq(guesses.groupId, groupId), isNull(guesses.removedAt)))
    .orderBy(asc(guesses.createdAt), asc(guesses.id))

export type Guess = Awaited<ReturnType<typeof guessesOf>>[number]

interface NewGuess {
  readonly personId: string
  readonly seasonId: string
  readonly referenceMethodId: string
  readonly methodId: string
  readonly percent: number
}

/**
 * One a person, season and method: sent again it is written over, and the database refuses that once the season is
 * closed.
 */
export async function saveGuess(tx: Tx, groupId: string, given: NewGuess): Promise<void> {
  await tx
    .insert(guesses)
    .values({ groupId, createdBy: given.personId, id: newId(), ...given })
    .onConflictDoUpdate({
      target: [guesses.groupId, guesses.seasonId, guesses.personId, guesses.methodId],
      set: { percent: given.percent, version: sql`${guesses.version} + 1` },
      setWhere: sql`${guesses.percent} <> excluded.percent`,
    })
}
