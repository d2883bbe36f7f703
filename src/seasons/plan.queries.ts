import type { Tx } from '../db/database.ts'
import { bedsOf, gardensOf } from '../gardens/gardens.queries.ts'
import { cropsOf, plantingsOf, seasonsOf } from './seasons.queries.ts'

/** All that the plan of a season is read from. */
export async function planRowsOf(tx: Tx, groupId: string) {
  return {
    seasons: await seasonsOf(tx, groupId),
    gardens: await gardensOf(tx, groupId),
    beds: await bedsOf(tx, groupId),
    crops: await cropsOf(tx, groupId),
    plantings: await plantingsOf(tx, groupId),
  }
}
