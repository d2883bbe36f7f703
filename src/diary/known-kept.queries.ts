import { LastKept } from '../accounts/last-kept.ts'
import { beforeFirst, writtenSince } from '../accounts/saved.queries.ts'
import type { Tx } from '../db/database.ts'
import { dateOf, type IsoDate } from '../quantities/dates.ts'
import { isStillKnown, type KnownOfGroup, knownOfGroup, tablesOfKnown } from './known-of-group.queries.ts'

interface SinceDay {
  /** Plantings that were cleared before are not in it. */
  readonly since: IsoDate
  readonly known: KnownOfGroup
}

/** Some 600 bytes a row, its strings included. */
const bytesOfRow = 600

function bytesOf({ known: { beds, assignments, plantings, containers, loads, gone } }: SinceDay): number {
  return (
    bytesOfRow * (3 * beds.length + assignments.length + plantings.length + containers.size + loads.size + gone.size)
  )
}

export class KnownKept extends LastKept<SinceDay> {
  constructor(mostBytes: number) {
    super(mostBytes, bytesOf)
  }
}

/**
 * As `knownOfGroup`, read anew only where one of its tables was written since, by whomever: rows of a week follow each
 * other, and the plan that they are held against stays. Before anything is written in the same transaction: what is
 * taken back would be kept otherwise, so what is read after that is not kept.
 */
export async function knownOfGroupKept(tx: Tx, groupId: string, since: IsoDate, kept: KnownKept) {
  const before = kept.of(groupId)
  const { last, tables } = await writtenSince(tx, groupId, before?.at ?? beforeFirst)
  const holds = tables !== null && before !== undefined && before.value.since <= since
  const value = holds && !isOneOf(tables) ? before.value : await readFrom(tx, groupId, since)
  // What was written while this one read is looked for again: it may be in it, and never missing.
  if (last) kept.keep(groupId, { at: last, value })
  return { ...value.known, plantings: value.known.plantings.filter((one) => isStillKnown(one, since)) }
}

const isOneOf = (tables: ReadonlySet<string>) => [...tables].some((one) => tablesOfKnown.has(one))

/** From the first day of the year on, so that it is the same for the weeks of a year. */
async function readFrom(tx: Tx, groupId: string, day: IsoDate): Promise<SinceDay> {
  const since = dateOf(Number(day.slice(0, 4)), 1, 1)
  return { since, known: await knownOfGroup(tx, groupId, since) }
}
