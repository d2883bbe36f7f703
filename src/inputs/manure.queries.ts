import type { Tx } from '../db/database.ts'
import { plantingsOf } from '../seasons/seasons.queries.ts'
import { applicationsOf, placesOf } from './applications.queries.ts'
import { type Manured, type ManureWait, manureWaits } from './manure-interval.ts'
import { placeOfRow } from './place.ts'

/** Where raw or partly rotted manure was spread, by the beds that it lies on. */
export async function manuredGround(tx: Tx, groupId: string): Promise<Manured[]> {
  const raw = (await applicationsOf(tx, groupId)).filter((one) => one.input.rawManure > 0)
  if (raw.length === 0) return []
  const places = await placesOf(tx, groupId)
  return raw.map((one) => ({
    appliedOn: one.appliedOn,
    input: one.input.name,
    bedIds: placeOfRow(places, one)?.bedIds ?? [],
  }))
}

/** How long harvest waits on each planting that stands on raw manure. */
export async function manureWaitsOf(tx: Tx, groupId: string): Promise<ManureWait[]> {
  const manured = await manuredGround(tx, groupId)
  return manured.length === 0 ? [] : manureWaits(await plantingsOf(tx, groupId), manured)
}
