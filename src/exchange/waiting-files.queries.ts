import { and, asc, count, eq, gt, inArray, notInArray, type SQL, sql } from 'drizzle-orm'
import type { Database, Tx } from '../db/database.ts'
import { newId } from '../db/new-id.ts'
import { rowsRead } from '../db/rows-read.ts'
import type { FoundKept } from './found-kept.ts'
import { waitingFiles } from './waiting-files.table.ts'

const mostOfGroup = 3
/** Packed bytes of all groups. */
const mostOfAll = 400_000_000
/** Without a sign for so long, whoever worked on a file is gone. */
const leftAlone = sql`${waitingFiles.workedAt} < now() - interval '30 seconds'`
const isKept = gt(waitingFiles.workedAt, sql`now() - interval '1 hour'`)
const underWay = ['reading', 'storing'] as const

export type WaitingFile = Pick<
  typeof waitingFiles.$inferSelect,
  'id' | 'personId' | 'kind' | 'numbersIn' | 'state' | 'run' | 'lines' | 'found' | 'changed' | 'first'
>

const { id, personId, kind, numbersIn, state, run, lines, found, changed, first } = waitingFiles
const asWaiting = { id, personId, kind, numbersIn, state, run, lines, found, changed, first }

type NewFile = Pick<WaitingFile, 'personId' | 'kind' | 'numbersIn'> & { readonly contents: Uint8Array }

/** Keeps a file that is to be read; null where there is no room, since all of them are being worked on. */
export async function keepFile(tx: Tx, groupId: string, given: NewFile): Promise<WaitingFile | null> {
  if (!(await makeRoom(tx, groupId, given.contents.length))) return null
  const values = { ...given, groupId, id: newId(), run: newId(), state: 'reading' } as const
  const [kept] = await tx.insert(waitingFiles).values(values).returning(asWaiting)
  return kept ?? null
}

/** Lets go of the oldest that nothing is done with, of the group and of all, where there are many. */
async function makeRoom(tx: Tx, groupId: string, bytes: number): Promise<boolean> {
  const ofGroup = eq(waitingFiles.groupId, groupId)
  const [own] = await tx.select({ files: count() }).from(waitingFiles).where(and(ofGroup, isKept))
  if (own !== undefined && own.files >= mostOfGroup) {
    const oldest = tx
      .select({ id: waitingFiles.id })
      .from(waitingFiles)
      .where(and(ofGroup, notInArray(waitingFiles.state, [...underWay])))
      .orderBy(asc(waitingFiles.createdAt), asc(waitingFiles.id))
      .limit(1)
    const gone = await tx
      .delete(waitingFiles)
      .where(and(ofGroup, inArray(waitingFiles.id, oldest)))
      .returning({ id: waitingFiles.id })
    if (gone.length === 0) return false
  }
  const room = sql`select public.room_for_waiting_file(${bytes}::bigint, ${mostOfAll}::bigint) as room`
  return (await rowsRead(tx, room, ({ room: there }) => there === true)).every(Boolean)
}

const one = (groupId: string, fileId: string) => and(eq(waitingFiles.groupId, groupId), eq(waitingFiles.id, fileId))

/** With whether nobody works on it any more, although it is not done. */
export async function waitingFile(tx: Tx, groupId: string, fileId: string) {
  const isLeft = sql<boolean>`${inArray(waitingFiles.state, [...underWay])} and ${leftAlone}`
  const [there] = await tx
    .select({ ...asWaiting, isLeft })
    .from(waitingFiles)
    .where(and(one(groupId, fileId), isKept))
  return there
}

/** What a file holds, and the rows that reading it found right. */
export async function contentsOf(tx: Tx, groupId: string, fileId: string) {
  const { contents, rightRows, readAgainst } = waitingFiles
  const [there] = await tx.select({ contents, rightRows, readAgainst }).from(waitingFiles).where(one(groupId, fileId))
  return there
}

/** Takes a file that was read to be stored: of several who confirm it, one. */
export const takeToStore = (tx: Tx, groupId: string, fileId: string) =>
  take(tx, groupId, { fileId, state: 'storing', where: eq(waitingFiles.state, 'read') })

/** Takes over what a process that is gone has begun: of several who ask for it, one. */
export const takeOver = (tx: Tx, groupId: string, left: Pick<WaitingFile, 'id' | 'state'>) =>
  take(tx, groupId, { fileId: left.id, state: left.state, where: and(eq(waitingFiles.state, left.state), leftAlone) })

interface Taking {
  readonly fileId: string
  readonly state: WaitingFile['state']
  readonly where: SQL | undefined
}

async function take(tx: Tx, groupId: string, taking: Taking): Promise<WaitingFile | undefined> {
  const begun = { state: taking.state, run: newId(), workedAt: sql`now()`, changed: 0, lines: 0 }
  const where = and(one(groupId, taking.fileId), taking.where, isKept)
  const [taken] = await tx.update(waitingFiles).set(begun).where(where).returning(asWaiting)
  return taken
}

type Run = Pick<WaitingFile, 'id' | 'run'>
const ofRun = (groupId: string, { id: fileId, run: own }: Run) =>
  and(one(groupId, fileId), eq(waitingFiles.run, own), inArray(waitingFiles.state, [...underWay]))

/** A sign of life of whoever works on it. */
export async function stillAtWork(tx: Tx, groupId: string, own: Run, read: number): Promise<void> {
  const sign = { workedAt: sql`now()`, lines: read }
  await tx.update(waitingFiles).set(sign).where(ofRun(groupId, own))
}

interface Became {
  readonly state: 'read' | 'stored' | 'failed'
  readonly found?: FoundKept
  readonly changed?: 0 | 1
  readonly first?: number | null
  readonly rightRows?: Uint8Array | null
  readonly readAgainst?: string | null
}

/** Writes down what became of it; false where it was dropped, or taken over by another run. */
export async function settleFile(tx: Tx, groupId: string, own: Run, became: Became): Promise<boolean> {
  const emptied = became.state === 'stored' ? { contents: new Uint8Array(), rightRows: null } : {}
  const set = { ...became, ...emptied, workedAt: sql`now()` }
  const settled = await tx.update(waitingFiles).set(set).where(ofRun(groupId, own)).returning({ id: waitingFiles.id })
  return settled.length === 1
}

/** What is being stored stays until it is done. */
export async function dropFile(tx: Tx, groupId: string, fileId: string): Promise<void> {
  await tx.delete(waitingFiles).where(and(one(groupId, fileId), notInArray(waitingFiles.state, ['storing'])))
}

/** Those that have waited for longer than they are kept, of all groups: for upkeep, in no role of the service. */
export async function forgetWaitingFiles(database: Database): Promise<void> {
  await database.transaction((tx) => tx.delete(waitingFiles).where(sql`not ${isKept}`))
}
