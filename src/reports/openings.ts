import type { IsoDate } from '../quantities/dates.ts'

interface Opening {
  readonly groupId: string
  readonly linkId: string
  readonly day: IsoDate
}

type Write = (groupId: string, counted: { linkId: string; day: IsoDate; openings: number }) => Promise<void>

const waitMs = 2000

/**
 * Counts openings by link and day and writes the sums a little later, so that a hall of guests does not wait in line
 * for one row. What was not written yet is lost when the process is killed: a count is worth that, a slow page is not.
 */
export function openings(write: Write) {
  const waiting = new Map<string, Opening & { openings: number }>()
  let timer: NodeJS.Timeout | undefined
  const writeAll = async () => {
    clearTimeout(timer)
    timer = undefined
    const taken = [...waiting.values()]
    waiting.clear()
    for (const { groupId, ...counted } of taken) await write(groupId, counted).catch(() => undefined)
  }
  return {
    count(opening: Opening): void {
      const key = `${opening.groupId} ${opening.linkId} ${opening.day}`
      // The first opening of a minute.
      waiting.set(key, { ...opening, openings: (waiting.get(key)?.openings ?? 0) + 1 })
      timer ??= setTimeout(() => void writeAll(), waitMs).unref()
    },
    write: writeAll,
  }
}
