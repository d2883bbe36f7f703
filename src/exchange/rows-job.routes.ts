import type { Database, Tx } from '../db/database.ts'
import { asMember } from '../db/transaction.ts'
import { afterManyRows } from '../db/upkeep.ts'
import { holdClosings } from '../diary/week.queries.ts'
import { catalogue } from '../words/catalogue.ts'
import type { KnownRecord } from './known-record.ts'
import { firstWritten } from './rows-back.queries.ts'
import { alreadyThere, recordKnown, storeRows } from './rows-in.queries.ts'
import { type FileOfRows, type Found, nothingFound, passOver, rowKinds } from './rows-pass.routes.ts'
import { makeSets, setsFor } from './sets-of-file.queries.ts'

/** A file on its way into the record: read and checked first, stored when that is confirmed. */
export interface RowsJob extends FileOfRows {
  readonly personId: string | null
  /** What was found so far. */
  found: Found
}

/** Nothing is read yet. */
export const jobOf = (given: Omit<RowsJob, 'found'>): RowsJob => ({ ...given, found: nothingFound() })

/** Reads the file against the record, beside the pages; what it finds stands in the job. */
export async function checkFile(database: Database, job: RowsJob): Promise<void> {
  const who = { personId: job.personId, groupId: job.group.id, readOnly: true }
  const known = await asMember(database, who, (tx) => recordKnown(tx, job.group, job.kind))
  const lookUp = (ids: readonly string[]) =>
    asMember(database, who, (tx) => alreadyThere(tx, job.group.id, job.kind, ids))
  await passOver(job, { found: job.found, known, lookUp, take: async () => undefined })
  const sets = await asMember(database, who, (tx) => setsFor(tx, job.group.id, job.found.brought))
  job.found.unmatched = sets.unmatched.map(({ line, cultivarName: name }) => ({ line, name }))
}

class NoLongerRight extends Error {}

/**
 * Reads the file once more, against the record as it is now, and stores all of it or nothing: what `settle` writes down
 * of it too, which is told the number of its first row in the history. False where the record has changed since the
 * check, so that a line is wrong now.
 */
export async function storeFile(
  database: Database,
  job: RowsJob,
  settle: (tx: Tx, first: number | null) => Promise<void>,
): Promise<boolean> {
  const who = { personId: job.personId, groupId: job.group.id, reason: catalogue.rows.reasonKept }
  const author = { groupId: job.group.id, createdBy: job.personId }
  const all = async (tx: Tx) => {
    job.found = nothingFound()
    await holdClosings(tx, job.group.id)
    const known = await recordKnown(tx, job.group, job.kind)
    const lookUp = (ids: readonly string[]) => alreadyThere(tx, job.group.id, job.kind, ids)
    const setOf = job.kind === 'plantings' ? await setsMade(tx, job, known) : null
    const take = (rows: readonly Row[]) => storeRows(tx, author, job.kind, setOf ? inSets(rows, setOf) : rows)
    await passOver(job, { found: job.found, known, lookUp, take })
    if (job.found.wrong.length > 0) throw new NoLongerRight()
    await settle(tx, await firstWritten(tx, job.group.id, rowKinds[job.kind].table))
  }
  try {
    await asMember(database, who, all)
  } catch (error) {
    if (error instanceof NoLongerRight) return false
    throw error
  }
  await afterManyRows(database)
  return true
}

type Row = Readonly<Record<string, unknown>>

/** The sets of a file's plantings, told over all its lines before the first of them is stored. */
async function setsMade(tx: Tx, job: RowsJob, known: KnownRecord): Promise<ReadonlyMap<string, string>> {
  const lookUp = (ids: readonly string[]) => alreadyThere(tx, job.group.id, job.kind, ids)
  await passOver(job, { found: job.found, known, lookUp, take: async () => undefined })
  const found = await setsFor(tx, job.group.id, job.found.brought)
  const isRight = job.found.wrong.length === 0
  job.found = nothingFound()
  return isRight ? makeSets(tx, { groupId: job.group.id, createdBy: job.personId }, found) : new Map()
}

const inSets = (rows: readonly Row[], setOf: ReadonlyMap<string, string>) =>
  rows.map((row) => ({ ...row, matchedSetId: setOf.get(String(row.id)) ?? null }))
