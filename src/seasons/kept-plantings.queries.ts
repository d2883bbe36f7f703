import type { Kept } from '../accounts/kept.ts'
import { changesCounted } from '../accounts/saved.queries.ts'
import type { Tx } from '../db/database.ts'
import { type PlantingRow, plantingsOf } from './seasons.queries.ts'

interface Asker {
  readonly member: { readonly group: { readonly id: string } }
  readonly kept: Kept
}

/**
 * A group's plantings with their names, read anew only where something of the group was written since. Within a
 * transaction of one moment (`readAtOnce`): what is written in this one and taken back would be kept otherwise.
 */
export async function plantingsKept(tx: Tx, { member, kept }: Asker): Promise<readonly PlantingRow[]> {
  const groupId = member.group.id
  const changes = await changesCounted(tx, groupId)
  const make = () => plantingsOf(tx, groupId)
  return kept.of({ groupId, changes, name: 'plantings', make, bytesOf: (rows) => bytesOfPlanting * rows.length })
}

/** With its strings, measured from what the heap grew by with 1,800 of them: 1.6 KB. */
const bytesOfPlanting = 1_600
