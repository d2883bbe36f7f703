import { readdirSync, readFileSync } from 'node:fs'

const ticksASecond = 100

interface Stat {
  readonly parent: number
  /** In seconds: its own, and that of its children that have ended. */
  readonly processor: number
}

function statOf(pid: number | string): Stat | null {
  try {
    // The name of the program, in brackets, may hold anything.
    const fields = readFileSync(`/proc/${pid}/stat`, 'utf8').split(') ').at(-1)?.split(' ') ?? []
    const at = (index: number) => Number(fields[index])
    return { parent: at(1), processor: (at(11) + at(12) + at(13) + at(14)) / ticksASecond }
  } catch {
    return null
  }
}

/** A process and those that it began and that run now. */
function withChildren(pid: number): number[] {
  const children = readdirSync('/proc').filter((name) => /^\d+$/.test(name) && statOf(name)?.parent === pid)
  return [pid, ...children.map(Number)]
}

/** Seconds of processor that a process, its threads and the processes it began have taken. */
export function processorOf(pid: number): number {
  return withChildren(pid).reduce((sum, one) => sum + (statOf(one)?.processor ?? 0), 0)
}

/** Megabytes that a process holds in memory. */
export function residentOf(pid: number): number {
  const status = readFileSync(`/proc/${pid}/status`, 'utf8')
  return Math.round((Number(/VmRSS:\s+(\d+)/.exec(status)?.[1]) * 1024) / 1e6)
}

/** Megabytes that a process and those it began hold, what they share counted once. */
export function shareOf(pid: number): number {
  const held = withChildren(pid).map((one) => {
    try {
      return Number(/^Pss:\s+(\d+)/m.exec(readFileSync(`/proc/${one}/smaps_rollup`, 'utf8'))?.[1] ?? 0)
    } catch {
      return 0
    }
  })
  return Math.round((held.reduce((sum, one) => sum + one, 0) * 1024) / 1e6)
}
