import { and, asc, eq, isNull } from 'drizzle-orm'
import { amend } from '../db/amend.ts'
import type { Tx } from '../db/database.ts'
import type { Author } from '../gardens/gardens.queries.ts'
import type { IsoDate } from '../quantities/dates.ts'
import type { HeapEntry } from './heap.ts'
import { inputs, stocks } from './inputs.table.ts'

export async function heapsOf(tx: Tx, groupId: string) {
  const rows = await tx
    .select({ heap: stocks, input: inputs.name })
    .from(stocks)
    .innerJoin(inputs, and(eq(inputs.groupId, groupId), eq(inputs.id, stocks.inputId)))
    .where(and(eq(stocks.groupId, groupId), isNull(stocks.removedAt)))
    .orderBy(asc(stocks.startedOn), asc(stocks.id))
  return rows.map(({ heap, input }) => ({ ...heap, input, log: heap.log }))
}

export async function saveHeap(
  tx: Tx,
  author: Author,
  given: { id: string; inputId: string; name: string; startedOn: IsoDate },
): Promise<void> {
  await tx
    .insert(stocks)
    .values({ ...author, ...given })
    .onConflictDoNothing({ target: [stocks.groupId, stocks.id] })
}

/** Locked, so that two who write to one heap at once are both kept. */
export async function heapForWriting(tx: Tx, groupId: string, id: string) {
  const [row] = await tx
    .select()
    .from(stocks)
    .where(and(eq(stocks.groupId, groupId), eq(stocks.id, id), isNull(stocks.removedAt)))
    .for('update')
  return row
}

type Heap = NonNullable<Awaited<ReturnType<typeof heapForWriting>>>

/** An entry sent twice is stored once. */
export async function addToLog(tx: Tx, heap: Heap, entry: HeapEntry): Promise<void> {
  if (heap.log.some((one) => one.id === entry.id)) return
  await amend(tx, stocks, heap, { log: [...heap.log, entry] })
}

export const sayReady = (tx: Tx, heap: Heap, readyOn: IsoDate): Promise<boolean> => amend(tx, stocks, heap, { readyOn })
