import { and, asc, eq, isNull, sql } from 'drizzle-orm'
import { amend } from '../db/amend.ts'
import type { Tx } from '../db/database.ts'
import type { Author } from '../gardens/gardens.queries.ts'
import { seasonQuestions } from './seasons.table.ts'

/** How the answer will be counted, as fixed beforehand. */
export interface Terms {
  readonly weights: 'marketable' | 'all'
  readonly mix: 'pooled areas' | 'equal parts'
  readonly outsideLosses: 'counted' | 'set left out'
  /** Names of the crops that count; all matched ones where none is named. */
  readonly crops?: readonly string[]
  /** The few pairs of methods that it asks of; every other method beside the reference where none is named. */
  readonly pairs?: readonly { readonly methodA: string; readonly methodB: string }[]
}

interface NewQuestion {
  readonly id: string
  /** Of the draft that is written over; null where none was there yet. */
  readonly version: number | null
  readonly question: string
  readonly referenceMethodId: string
  readonly primaryMeasure: string
  readonly marginPercent: number | null
  readonly seasonsToLookAt: number
  readonly sentenceIfSeen: string
  readonly sentenceIfNotSeen: string
  readonly terms: Terms
}

export const questionsOf = (tx: Tx, groupId: string) =>
  tx
    .select()
    .from(seasonQuestions)
    .where(and(eq(seasonQuestions.groupId, groupId), isNull(seasonQuestions.removedAt)))
    .orderBy(asc(seasonQuestions.createdAt), asc(seasonQuestions.id))

export async function questionOf(tx: Tx, groupId: string, seasonId: string) {
  return (await questionsOf(tx, groupId)).find((one) => one.seasonId === seasonId)
}

/**
 * A draft is written over until it is locked; the database refuses a change after that. False where somebody else has
 * begun it or written it meanwhile.
 */
export async function saveQuestion(tx: Tx, author: Author, seasonId: string, given: NewQuestion): Promise<boolean> {
  const { id, version, ...words } = given
  const made =
    version === null
      ? await tx
          .insert(seasonQuestions)
          .values({ ...author, ...words, id, seasonId })
          .onConflictDoNothing()
          .returning({ id: seasonQuestions.id })
      : []
  if (made.length === 1) return true
  const before = await questionOf(tx, author.groupId, seasonId)
  if (!before) return false
  // The form of a first draft, sent again, writes over the one that it made.
  const seen = version ?? (before.id === id ? 1 : 0)
  return amend(tx, seasonQuestions, { groupId: author.groupId, id: before.id, version: seen }, words)
}

/** Locking has its date; false where there is nothing to lock or it is locked already. */
export async function lockQuestion(tx: Tx, groupId: string, seasonId: string): Promise<boolean> {
  const locked = await tx
    .update(seasonQuestions)
    .set({ lockedAt: sql`now()` })
    .where(
      and(
        eq(seasonQuestions.groupId, groupId),
        eq(seasonQuestions.seasonId, seasonId),
        isNull(seasonQuestions.lockedAt),
        isNull(seasonQuestions.removedAt),
      ),
    )
    .returning({ id: seasonQuestions.id })
  return locked.length === 1
}
