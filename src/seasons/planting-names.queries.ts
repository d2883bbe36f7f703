import { eq } from 'drizzle-orm'
import { groups } from '../accounts/accounts.table.ts'
import type { Tx } from '../db/database.ts'
import { plantingNames } from './planting-names.ts'
import { plantingsOf } from './seasons.queries.ts'

/** What each planting of a group is called, by its id, with days as the group writes them. */
export async function namesOfPlantings(tx: Tx, groupId: string): Promise<ReadonlyMap<string, string>> {
  const [group] = await tx.select({ locale: groups.locale }).from(groups).where(eq(groups.id, groupId))
  return plantingNames(await plantingsOf(tx, groupId), group?.locale ?? 'en')
}
