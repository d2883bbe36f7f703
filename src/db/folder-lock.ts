import { mkdirSync, openSync, readFileSync, rmSync, writeSync } from 'node:fs'
import { join } from 'node:path'

/**
 * Takes a data folder for this process. The embedded engine lets two processes open one folder and then loses rows, so
 * a second is refused here; after a kill the next start takes over. Returns the release, or the pid of the live owner.
 */
export function lockFolder(
  folder: string,
): { kind: 'answer'; release: () => void } | { kind: 'refused'; owner: number } {
  mkdirSync(folder, { recursive: true })
  const file = join(folder, 'in-use')
  for (;;) {
    if (taken(file)) return { kind: 'answer', release: () => rmSync(file, { force: true }) }
    const owner = ownerOf(file)
    if (owner && isAlive(owner)) return { kind: 'refused', owner: owner.pid }
    rmSync(file, { force: true })
  }
}

interface Owner {
  readonly pid: number
  readonly startedAt: string
}

function taken(file: string): boolean {
  try {
    writeSync(openSync(file, 'wx', 0o600), `${process.pid} ${startOf(process.pid) ?? ''}\n`)
    return true
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'EEXIST') return false
    throw error
  }
}

function ownerOf(file: string): Owner | undefined {
  try {
    const [pid, startedAt] = readFileSync(file, 'utf8').trim().split(' ')
    return pid ? { pid: Number(pid), startedAt: startedAt ?? '' } : undefined
  } catch {
    return undefined
  }
}

/** A pid alone may have been given to another process since: where the system tells, the start time must agree. */
function isAlive(owner: Owner): boolean {
  const start = startOf(owner.pid)
  if (start !== undefined && owner.startedAt !== '') return start === owner.startedAt
  try {
    process.kill(owner.pid, 0)
    return true
  } catch (error) {
    return (error as NodeJS.ErrnoException).code === 'EPERM'
  }
}

/** Field 22 of /proc/<pid>/stat: clock ticks from boot to the start; undefined where there is no such file. */
function startOf(pid: number): string | undefined {
  try {
    const stat = readFileSync(`/proc/${pid}/stat`, 'utf8')
    return stat.slice(stat.lastIndexOf(')') + 2).split(' ')[19]
  } catch {
    return undefined
  }
}
