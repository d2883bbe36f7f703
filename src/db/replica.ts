import { sql } from 'drizzle-orm'
import { isAway } from './away.ts'
import { codeOf } from './constraint.ts'
import type { Database, Tx } from './database.ts'
import { rowsRead } from './rows-read.ts'
import { openWithoutAsking } from './server.ts'
import { type Acting, asMember } from './transaction.ts'

/** From where something was read, or why the primary read it although there is a replica. */
export type ReadFrom = 'replica' | 'primary: behind' | 'primary: no answer'

const msToConnect = 2000
/** Within which a replica says where it stands; what it is asked after that may take longer. */
const msToSay = 2000
const msOfPause = 15_000

interface Waits {
  readonly msToSay: number
  readonly msOfPause: number
}

/**
 * A standby of the database, for what only reads. It may be behind, stopped, cut off or promoted at any moment: whoever
 * reads is then answered by the primary.
 */
export class Replica {
  readonly database: Database
  /** Told of each reading. */
  onRead: (from: ReadFrom) => void = () => undefined
  /** Told once when it stops answering, with the error, and once when it answers again, with null. */
  onTrouble: (trouble: unknown) => void = () => undefined
  /** Of the primary, asked once: what takes its place is of the same. */
  private cluster: string | null = null
  private readonly waits: Waits
  private notBefore = 0
  private inTrouble = false

  constructor(database: Database, waits: Waits = { msToSay, msOfPause }) {
    this.database = database
    this.waits = waits
  }

  /** False while it is given a rest; then one reading tries it, and the others are the primary's meanwhile. */
  mayBeAsked(): boolean {
    if (!this.inTrouble) return true
    if (performance.now() < this.notBefore) return false
    this.rest()
    return true
  }

  /** What `work` gives, where the replica says in time where it stands. */
  within<T>(work: (said: () => void) => Promise<T>): Promise<T> {
    return new Promise((resolve, reject) => {
      let isLate = false
      const silent = setTimeout(() => {
        isLate = true
        reject(new Silent())
      }, this.waits.msToSay)
      const said = () => {
        this.answers()
        if (isLate) throw new Silent()
        clearTimeout(silent)
      }
      // Where it came too late its end is nobody's any more.
      work(said)
        .then(resolve, reject)
        .finally(() => clearTimeout(silent))
    })
  }

  async clusterOf(primary: () => Promise<string>): Promise<string> {
    this.cluster ??= await primary()
    return this.cluster
  }

  failed(trouble: unknown): void {
    this.rest()
    if (!this.inTrouble) this.onTrouble(trouble)
    this.inTrouble = true
  }

  private answers(): void {
    if (this.inTrouble) this.onTrouble(null)
    this.inTrouble = false
  }

  private rest(): void {
    this.notBefore = performance.now() + this.waits.msOfPause
  }
}

/** It connects when somebody reads, and the service starts without it. */
export const openReplica = (url: string): Replica => new Replica(openWithoutAsking(url, msToConnect))

class Behind extends Error {}
class Silent extends Error {}

interface Read {
  readonly primary: Database
  readonly replica: Replica | null
  readonly who: Acting & { readonly readOnly: true; readonly snapshot: true }
  /** The count of what was written of the group; what is written without being counted may not be read so. */
  readonly counted: (tx: Tx, groupId: string) => Promise<number>
}

/**
 * Reads what one group wrote, of one moment, from the replica where that holds exactly what the primary held when it
 * was asked, else from the primary. Whoever writes holds the group's counter to the end, so equal counts are equal
 * records. One that is ahead is not read either: it may show what the primary shows a moment later, and the next page
 * would be older than this one.
 */
export async function readingEither<T>(read: Read, work: (tx: Tx) => Promise<T>): Promise<T> {
  const { primary, replica, who } = read
  if (!replica?.mayBeAsked()) return asMember(primary, who, work)
  const found = await fromReplica({ ...read, replica }, work)
  return found === null ? asMember(primary, who, work) : found.value
}

async function fromReplica<T>({ primary, replica, who, counted }: Read & { replica: Replica }, work: Work<T>) {
  const changes = await asMember(primary, who, (tx) => counted(tx, who.groupId))
  let hasSaid = false
  try {
    const cluster = await replica.clusterOf(async () => (await asMember(primary, who, standsAs)).cluster)
    const value = await replica.within((said) =>
      asMember(replica.database, who, async (tx) => {
        const stands = await standsAs(tx)
        said()
        hasSaid = true
        const isOurs = stands.inRecovery && stands.cluster === cluster
        if (!isOurs || (await counted(tx, who.groupId)) !== changes) throw new Behind()
        return work(tx)
      }),
    )
    replica.onRead('replica')
    return { value }
  } catch (error) {
    if (error instanceof Behind) {
      replica.onRead('primary: behind')
      return null
    }
    const isGone = !hasSaid || isAway(error)
    // What the work itself says, that something is not there say, is an answer as well. What the database says may be
    // of the replica alone: cancelled for what it replays, a table that it does not have yet.
    if (!isGone && codeOf(error) === '') throw error
    if (isGone) replica.failed(error)
    replica.onRead('primary: no answer')
    return null
  }
}

type Work<T> = (tx: Tx) => Promise<T>

/** A standby that was promoted, or one of another cluster, may have counted as far with other rows. */
async function standsAs(tx: Tx): Promise<{ readonly inRecovery: boolean; readonly cluster: string }> {
  const asked = sql`select pg_is_in_recovery() as recovering, system_identifier::text as id from pg_control_system()`
  const [found] = await rowsRead(tx, asked, ({ recovering, id }) => ({
    inRecovery: recovering === true,
    cluster: String(id),
  }))
  return found ?? { inRecovery: false, cluster: '' }
}
