import type { Kept } from '../../accounts/kept.ts'
import { changesCounted } from '../../accounts/saved.queries.ts'
import type { Tx } from '../../db/database.ts'
import { asShown } from '../../lookups/unsaid.ts'
import type { Grain } from './as-written.queries.ts'
import { trialRecord } from './trial-record.queries.ts'
import type { TrialRecord } from './trial-record.ts'

/** Who reads, of which group. */
interface Reader {
  readonly member: { readonly group: { readonly id: string } }
  readonly kept: Kept
  readAtOnce<T>(work: (tx: Tx) => Promise<T>): Promise<T>
}

interface RecordAt {
  readonly record: TrialRecord
  /** The count of the group's changes at which it was read. */
  readonly changes: number
}

/** The group's record, read anew only where something of the group was written since. */
export function keptRecord(reader: Reader): Promise<RecordAt> {
  return reader.readAtOnce((tx) => recordKeptAt(tx, reader))
}

/** Within a transaction of one moment: the count is read before the rows. */
export async function recordKeptAt(
  tx: Tx,
  { member, kept }: Pick<Reader, 'member' | 'kept'>,
  grain: Grain = 'sums',
): Promise<RecordAt> {
  const groupId = member.group.id
  const changes = await changesCounted(tx, groupId)
  const make = () => trialRecord(tx, groupId, grain)
  return {
    changes,
    record: await kept.of({ groupId, changes, name: nameOf(grain), make, bytesOf: bytesOfRecord }),
  }
}

const nameOf = (grain: Grain) =>
  `record in ${typeof grain === 'string' ? grain : `rows of ${grain.rowsOf.toSorted().join(', ')}`}`

/** Some 400 bytes a row of a record with 100,000 of them, its strings included, measured from what the heap grew by. */
const bytesOfRow = 400

export function bytesOfRecord({ plantings, labour, losses, spreadings, closings, entries = [] }: TrialRecord): number {
  // A planting of which nothing was weighed holds none.
  const weighed = plantings.reduce((sum, one) => sum + (one.weighed?.length ?? 0), 0)
  // Once it is read, a week takes four times the twenty letters of its text.
  const weeks = plantings.reduce((sum, one) => sum + 4 * asShown(one.weeks).length, 0)
  const lists = [plantings, labour, losses, spreadings, closings, entries]
  return weeks + bytesOfRow * lists.reduce((sum, list) => sum + list.length, weighed)
}
