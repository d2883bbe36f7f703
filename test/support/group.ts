import { eq } from 'drizzle-orm'
import { groups } from '../../src/accounts/accounts.table.ts'
import type { Database } from '../../src/db/database.ts'
import { asDoor } from '../../src/db/transaction.ts'

/** The id of the group of an address; empty where there is none. */
export async function groupNamed(database: Database, slug: string): Promise<string> {
  const [group] = await asDoor(database, (tx) => tx.select().from(groups).where(eq(groups.slug, slug)))
  return group?.id ?? ''
}
