import type { Database } from '../db/database.ts'
import { asMember } from '../db/transaction.ts'
import { readingIn } from '../web/reading-in.ts'
import { removeFolder, temporaryFolder, unpackedFile } from '../web/temporary.ts'
import { keptOf } from './found-kept.ts'
import type { GroupOfRows } from './rows-in.queries.ts'
import { checkFile, jobOf, type RowsJob, storeFile } from './rows-job.routes.ts'
import { contentsOf, settleFile, stillAtWork, type WaitingFile } from './waiting-files.queries.ts'

const msBetweenSigns = 1000

interface FileWork {
  /** Reads or stores a file that this process has taken, beside the pages; its state says which. */
  begin(group: GroupOfRows, taken: WaitingFile): void
  /** Ends with the last work that was begun; never fails. */
  ended(): Promise<void>
}

export function fileWork(database: Database): FileWork {
  const going = new Set<Promise<void>>()
  return {
    begin: (group, taken) => {
      const work = readingIn(taken.numbersIn, () => workOn(database, group, taken))
      going.add(work)
      void work.then(() => going.delete(work))
    },
    ended: async () => {
      await Promise.all(going)
    },
  }
}

/** What was taken over from this run meanwhile, or dropped, is not stored by it. */
class NoLongerOurs extends Error {}

async function workOn(database: Database, group: GroupOfRows, taken: WaitingFile): Promise<void> {
  const who = { personId: taken.personId, groupId: group.id }
  const folder = await temporaryFolder()
  let job: RowsJob | undefined
  const sign = () =>
    asMember(database, who, (tx) => stillAtWork(tx, group.id, taken, job === undefined ? 0 : job.found.lines))
  // A sign that could not be given is followed by the next.
  const signs = setInterval(() => void sign().catch(() => undefined), msBetweenSigns)
  try {
    const file = await asMember(database, { ...who, readOnly: true }, (tx) => contentsOf(tx, group.id, taken.id))
    if (file === undefined) return
    const { personId, kind, numbersIn } = taken
    const { contents, rightRows: packed, readAgainst: against } = file
    const right = packed && against !== null ? { packed, against } : null
    job = jobOf({ group, personId, kind, numbersIn, file: await unpackedFile(folder, contents) }, right)
    await (taken.state === 'storing' ? storing(database, job, taken) : reading(database, job, taken))
  } catch {
    // Where not even this can be written down, whoever asks for the file next takes it over.
    await asMember(database, who, (tx) => settleFile(tx, group.id, taken, { state: 'failed' })).catch(() => undefined)
  } finally {
    clearInterval(signs)
    await removeFolder(folder)
  }
}

const whoOf = ({ personId, group }: RowsJob) => ({ personId, groupId: group.id })

async function reading(database: Database, job: RowsJob, taken: WaitingFile): Promise<void> {
  await checkFile(database, job)
  const { found, right } = job
  const rows = { rightRows: right?.packed ?? null, readAgainst: right?.against ?? null }
  const read = { state: 'read', found: keptOf(found), lines: found.lines, ...rows } as const
  await asMember(database, whoOf(job), (tx) => settleFile(tx, job.group.id, taken, read))
}

async function storing(database: Database, job: RowsJob, taken: WaitingFile): Promise<void> {
  const isStored = await storeFile(database, job, async (tx, first, found) => {
    const stored = { state: 'stored', first, ...(found && { found: keptOf(found) }) } as const
    if (!(await settleFile(tx, job.group.id, taken, stored))) throw new NoLongerOurs()
  })
  if (isStored) return
  const changed = { state: 'read', found: keptOf(job.found), changed: 1, rightRows: null } as const
  await asMember(database, whoOf(job), (tx) => settleFile(tx, job.group.id, taken, changed))
}
