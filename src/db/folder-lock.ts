import { mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'

export type FolderLock =
  | { readonly kind: 'answer'; readonly release: () => void }
  | { readonly kind: 'refused'; readonly owner: number }

/**
 * Takes a data folder for this process. The embedded engine lets two processes open one folder and then loses rows, so a
 * second is refused here; after a kill the next start takes over. Returns the release, or the pid of the live owner.
 *
 * Each process puts up a flag of its own, named after it, and then looks for others: of two, the later to look sees the
 * other, so two can never both go on (Dijkstra 1965, Communications of the ACM 8:569, raises flags so). A flag is only
 * taken down by its owner or after its owner's death, and its name is never used again. Of several who start at once the
 * first by name waits for the rest to step back. Processes must see each other's pids: not so for two containers that
 * share a folder.
 */
export function lockFolder(folder: string): FolderLock {
  mkdirSync(folder, { recursive: true })
  const own = flagOf(process.pid)
  const lower = () => rmSync(join(folder, own), { force: true })
  writeFileSync(join(folder, own), '', { mode: 0o600 })
  for (let look = 0; ; look++) {
    const [other] = othersAlive(folder, own)
    if (other === undefined) return { kind: 'answer', release: lower }
    if (other < own || look === mostLooks) {
      lower()
      return { kind: 'refused', owner: pidOf(other) }
    }
    Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0, msBetweenLooks)
  }
}

const mostLooks = 40
const msBetweenLooks = 25
const prefix = 'in-use.'

/** The name of a flag: pid and, where the system tells, the start time, since a pid is given out again. */
const flagOf = (pid: number) => `${prefix}${pid}.${startOf(pid) ?? ''}`
const pidOf = (flag: string) => Number(flag.split('.')[1])

/** The flags of other live processes, first by name; those of the dead are taken down. */
function othersAlive(folder: string, own: string): string[] {
  const others = readdirSync(folder).filter((name) => name.startsWith(prefix) && name !== own)
  return others.sort().filter((flag) => {
    const alive = isAlive(flag)
    if (!alive) rmSync(join(folder, flag), { force: true })
    return alive
  })
}

function isAlive(flag: string): boolean {
  const pid = pidOf(flag)
  if (startOf(process.pid) !== undefined) return flag === flagOf(pid)
  try {
    process.kill(pid, 0)
    return pid !== process.pid
  } catch (error) {
    return (error as NodeJS.ErrnoException).code === 'EPERM'
  }
}

/** Field 22 of /proc/<pid>/stat: clock ticks from boot to the start; undefined where there is none, or only a zombie. */
function startOf(pid: number): string | undefined {
  try {
    const stat = readFileSync(`/proc/${pid}/stat`, 'utf8')
    const fields = stat.slice(stat.lastIndexOf(')') + 2).split(' ')
    return fields[0] === 'Z' ? undefined : fields[19]
  } catch {
    return undefined
  }
}
