import type { Tx } from '../db/database.ts'
import { plantingsOf } from '../seasons/seasons.queries.ts'
import { countsOf } from './notes.queries.ts'
import { plantStands, type Stand } from './plant-stands.ts'

/** What was counted as "plants standing" of plants sown, by planting. */
export async function plantStandsOf(tx: Tx, groupId: string): Promise<Stand[]> {
  const counted = (await countsOf(tx, groupId)).filter((one) => one.what === 'plants standing' && one.outOf !== null)
  if (counted.length === 0) return []
  const inNumbers = counted.map((one) => ({ ...one, standing: Number(one.value), sown: Number(one.outOf) }))
  return plantStands(inNumbers, await plantingsOf(tx, groupId))
}
