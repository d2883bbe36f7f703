import type { Database, Tx } from './database.ts'

/** What is still to be done once a transaction has ended well, with the database that it was of. */
type Work = (database: Database) => Promise<void>

const waiting = new WeakMap<Tx, Work[]>()

/** To be done after that transaction, in one of its own; nothing of it where that one fails. */
export function afterwards(tx: Tx, work: Work): void {
  waiting.get(tx)?.push(work)
}

/** What is to be done after a transaction that begins, in the order in which it was asked for. */
export function waitFor(tx: Tx): readonly Work[] {
  const works: Work[] = []
  waiting.set(tx, works)
  return works
}
