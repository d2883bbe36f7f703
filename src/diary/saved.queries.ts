import { and, asc, eq, isNull } from 'drizzle-orm'
import type { Tx } from '../db/database.ts'
import { beds, gardens } from '../gardens/gardens.table.ts'
import { linked, textIn } from '../lookups/unsaid.ts'
import { formatHours, formatKilograms } from '../quantities/formatting.ts'
import type { Words } from '../words/catalogue.ts'
import { harvests, labourEntries } from './diary.table.ts'
import type { Known } from './known.ts'

interface Saving {
  readonly tx: Tx
  readonly author: { readonly groupId: string }
  readonly known: Known
  readonly words: Words
  readonly locale: string
}

/**
 * "Saved: 8.4 kg potato, Lower Terrace, Bed 3." of the form that was stored just now; blank for a form of another kind.
 */
export async function savedTold(at: Saving, form: string, sent: unknown): Promise<string> {
  const { id } = (sent ?? {}) as { id?: unknown }
  if (typeof id !== 'string') return ''
  if (form === 'harvests') return weightTold(at, id)
  return form === 'hours' ? hoursTold(at, id) : ''
}

async function weightTold(at: Saving, id: string): Promise<string> {
  const { groupId } = at.author
  const [row] = await at.tx
    .select()
    .from(harvests)
    .where(and(eq(harvests.groupId, groupId), eq(harvests.id, id)))
  const planting = linked(at.known.plantings, row?.plantingId)
  if (!row || !planting) return ''
  const places = await placesOf(at)
  const kilograms = formatKilograms(row.marketableG + row.unmarketableG, at.locale)
  return at.words.diary.savedOne(`${kilograms} ${planting.crop}`, textIn(places, planting.bedId))
}

async function hoursTold(at: Saving, id: string): Promise<string> {
  const { groupId } = at.author
  const one = and(eq(labourEntries.groupId, groupId), eq(labourEntries.id, id))
  const [row] = await at.tx.select().from(labourEntries).where(one)
  if (!row) return ''
  const places = await placesOf(at)
  const bedId = row.bedId ?? linked(at.known.plantings, row.plantingId)?.bedId
  const task = at.words.diary.tasks[row.task as keyof Words['diary']['tasks']]
  const place = textIn(places, row.gardenId ?? bedId)
  return at.words.diary.savedOne(`${formatHours(row.personMinutes, at.locale)} ${task}`, place)
}

/** Gardens, and beds with their garden, by id. */
async function placesOf({ tx, author: { groupId } }: Saving): Promise<ReadonlyMap<string, string>> {
  const rows = await tx
    .select({ gardenId: gardens.id, garden: gardens.name, bedId: beds.id, bed: beds.name })
    .from(gardens)
    .leftJoin(beds, and(eq(beds.groupId, groupId), eq(beds.gardenId, gardens.id), isNull(beds.removedAt)))
    .where(eq(gardens.groupId, groupId))
    .orderBy(asc(gardens.id), asc(beds.id))
  return new Map(
    rows.flatMap(({ gardenId, garden, bedId, bed }) => [
      [gardenId, garden] as const,
      ...(bedId === null ? [] : [[bedId, `${garden}, ${bed}`] as const]),
    ]),
  )
}
