import { and, desc, eq, isNull, not } from 'drizzle-orm'
import type { Tx } from '../db/database.ts'
import { harvests, labourEntries, losses } from '../diary/diary.table.ts'
import { sealedWeighings } from '../diary/sealed.queries.ts'
import type { LastWritten } from './season-so-far.ts'

const most = 2

/** The latest entries of the diary, whoever wrote them; what lies under a sealed label is not among them. */
export async function lastWritten(tx: Tx, groupId: string): Promise<LastWritten[]> {
  const weights = await tx
    .select()
    .from(harvests)
    .where(and(eq(harvests.groupId, groupId), isNull(harvests.removedAt), not(await sealedWeighings(tx, groupId))))
    .orderBy(desc(harvests.createdAt), desc(harvests.id))
    .limit(most)
  const work = await tx
    .select()
    .from(labourEntries)
    .where(and(eq(labourEntries.groupId, groupId), isNull(labourEntries.removedAt)))
    .orderBy(desc(labourEntries.createdAt), desc(labourEntries.id))
    .limit(most)
  const gone = await tx
    .select()
    .from(losses)
    .where(and(eq(losses.groupId, groupId), isNull(losses.removedAt)))
    .orderBy(desc(losses.createdAt), desc(losses.id))
    .limit(1)
  const rows: LastWritten[] = [
    ...weights.map((one) => ({
      kind: 'harvests' as const,
      id: one.id,
      at: one.createdAt,
      isoWeek: one.isoWeek,
      task: null,
      gardenId: null,
      plantingId: one.plantingId,
      amount: one.marketableG + one.unmarketableG,
    })),
    ...work.map((one) => ({
      kind: 'labour' as const,
      id: one.id,
      at: one.createdAt,
      isoWeek: one.isoWeek,
      plantingId: one.plantingId,
      gardenId: one.gardenId,
      task: one.task,
      amount: one.personMinutes,
    })),
    ...gone.map((one) => ({
      kind: 'losses' as const,
      id: one.id,
      at: one.createdAt,
      isoWeek: one.isoWeek,
      task: null,
      gardenId: null,
      plantingId: one.plantingId,
      amount: null,
    })),
  ]
  return rows.sort((a, b) => b.at.getTime() - a.at.getTime()).slice(0, most)
}
