import type { SQL } from 'drizzle-orm'
import type { Tx } from './database.ts'

type Row = Readonly<Record<string, unknown>>

/** The rows of a statement that no table describes, each read column by column: both engines answer with `rows`. */
export async function rowsRead<T>(tx: Pick<Tx, 'execute'>, query: SQL, read: (row: Row) => T): Promise<T[]> {
  return rowsIn(await tx.execute(query)).map(read)
}

/** As an engine answered to `execute`. */
export function rowsIn(answer: unknown): readonly Row[] {
  if (typeof answer === 'object' && answer !== null && 'rows' in answer && Array.isArray(answer.rows))
    return answer.rows
  throw new TypeError('The database answered without rows.')
}
