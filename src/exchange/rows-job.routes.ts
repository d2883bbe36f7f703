import type { Database, Tx } from '../db/database.ts'
import { asMember } from '../db/transaction.ts'
import { afterManyRows } from '../db/upkeep.ts'
import { holdClosings } from '../diary/week.queries.ts'
import { packedText, unpackedText } from '../web/temporary.ts'
import { serviceVersion } from '../web/version.ts'
import { catalogue } from '../words/catalogue.ts'
import type { KnownRecord } from './known-record.ts'
import { firstWritten } from './rows-back.queries.ts'
import {
  alreadyThere,
  namesOthers,
  type RowsAlike,
  readAgainst,
  recordKnown,
  rowsAlike,
  storeAlike,
  storeRows,
} from './rows-in.queries.ts'
import { type FileOfRows, type Found, nothingFound, passOver, rowKinds } from './rows-pass.routes.ts'
import { makeSets, setsFor } from './sets-of-file.queries.ts'

/** A file on its way into the record: read and checked first, stored when that is confirmed. */
export interface RowsJob extends FileOfRows {
  readonly personId: string | null
  /** What was found so far. */
  found: Found
  /** Where all lines were right when they were read, the rows that they become. */
  right: RightRows | null
}

interface RightRows {
  /** A line for each statement that stores them: its columns and their number, a tab, their JSON. */
  readonly packed: Uint8Array
  readonly against: string
}

/** Nothing is read yet, or what is right of it by now. */
export const jobOf = (given: Omit<RowsJob, 'found' | 'right'>, right: RightRows | null = null): RowsJob => ({
  ...given,
  found: nothingFound(),
  right,
})

/** Reads the file against the record, beside the pages; what it finds stands in the job. */
export async function checkFile(database: Database, job: RowsJob): Promise<void> {
  const { found, group, kind } = job
  const who = { personId: job.personId, groupId: group.id, readOnly: true }
  const { against, known } = await asMember(database, { ...who, snapshot: true }, async (tx) => ({
    against: await asReadNow(tx, job),
    known: await recordKnown(tx, group, kind),
  }))
  const lookUp = (ids: readonly string[]) => asMember(database, who, (tx) => alreadyThere(tx, group.id, kind, ids))
  const packed: Uint8Array[] = []
  const take = async (rows: readonly Row[]) => {
    if (namesOthers(kind)) return
    for (const { json, ...about } of rowsAlike(kind, rows))
      packed.push(await packedText(`${JSON.stringify(about)}\t${json}\n`))
  }
  await passOver(job, { found, known, lookUp, take })
  const sets = await asMember(database, who, (tx) => setsFor(tx, group.id, found.brought))
  found.unmatched = sets.unmatched.map(({ line, cultivarName: name }) => ({ line, name }))
  const isRight = packed.length > 0 && found.wrong.length === 0
  job.right = isRight ? { packed: Buffer.concat(packed), against } : null
}

/** Another release may read a line otherwise. */
const asReadNow = async (tx: Tx, { group, numbersIn }: RowsJob) =>
  `${serviceVersion} ${await readAgainst(tx, group, numbersIn)}`

class NoLongerRight extends Error {}

/** Writes down what became of a file: its first row in the history, and what was found where it was read anew. */
type Settle = (tx: Tx, first: number | null, found: Found | null) => Promise<void>

/**
 * Stores all of a file or nothing, and what `settle` writes down of it too. As it was read, where nothing has changed
 * since; else it is read once more, against the record as it is now. False where a line is wrong now.
 */
export async function storeFile(database: Database, job: RowsJob, settle: Settle): Promise<boolean> {
  const who = { personId: job.personId, groupId: job.group.id, reason: catalogue.rows.reasonKept }
  const all = async (tx: Tx) => {
    job.found = nothingFound()
    await holdClosings(tx, job.group.id)
    const isAsRead = job.right !== null && job.right.against === (await asReadNow(tx, job))
    await (isAsRead ? storeAsRead(tx, job) : readAndStore(tx, job))
    await settle(tx, await firstWritten(tx, job.group.id, rowKinds[job.kind].table), isAsRead ? null : job.found)
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

const authorOf = ({ group, personId }: RowsJob) => ({ groupId: group.id, createdBy: personId })

async function storeAsRead(tx: Tx, job: RowsJob): Promise<void> {
  const { found, kind, right } = job
  if (right === null) return
  for (const line of (await unpackedText(right.packed)).split('\n').filter(Boolean)) {
    const tab = line.indexOf('\t')
    const about = JSON.parse(line.slice(0, tab)) as Omit<RowsAlike, 'json'>
    await storeAlike(tx, authorOf(job), kind, { ...about, json: line.slice(tab + 1) })
    found.lines += about.count
    found.fresh += about.count
  }
}

async function readAndStore(tx: Tx, job: RowsJob): Promise<void> {
  const { found, group, kind } = job
  const known = await recordKnown(tx, group, kind)
  const lookUp = (ids: readonly string[]) => alreadyThere(tx, group.id, kind, ids)
  const setOf = kind === 'plantings' ? await setsMade(tx, job, known) : null
  const take = (rows: readonly Row[]) => storeRows(tx, authorOf(job), kind, setOf ? inSets(rows, setOf) : rows)
  await passOver(job, { found, known, lookUp, take })
  if (found.wrong.length > 0) throw new NoLongerRight()
}

type Row = Readonly<Record<string, unknown>>

/** The sets of a file's plantings, told over all its lines before the first of them is stored. */
async function setsMade(tx: Tx, job: RowsJob, known: KnownRecord): Promise<ReadonlyMap<string, string>> {
  const found = nothingFound()
  const lookUp = (ids: readonly string[]) => alreadyThere(tx, job.group.id, job.kind, ids)
  await passOver(job, { found, known, lookUp, take: async () => undefined })
  const sets = await setsFor(tx, job.group.id, found.brought)
  return found.wrong.length === 0 ? makeSets(tx, authorOf(job), sets) : new Map()
}

const inSets = (rows: readonly Row[], setOf: ReadonlyMap<string, string>) =>
  rows.map((row) => ({ ...row, matchedSetId: setOf.get(String(row.id)) ?? null }))
