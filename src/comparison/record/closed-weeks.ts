import type { TrialRecord } from './trial-record.ts'

type Closings = TrialRecord['closings']

/** The weeks that were closed of a garden, hours or weights; sorted out once for each record that was read. */
export function closedWeeks({ closings }: Pick<TrialRecord, 'closings'>, gardenId: string, what: string) {
  const ofGardens = made.get(closings) ?? sortedOut(closings)
  made.set(closings, ofGardens)
  return ofGardens.get(`${what} ${gardenId}`) ?? none
}

const none: ReadonlySet<string> = new Set()
const made = new WeakMap<Closings, ReadonlyMap<string, ReadonlySet<string>>>()

function sortedOut(closings: Closings): ReadonlyMap<string, ReadonlySet<string>> {
  const weeks = new Map<string, Set<string>>()
  for (const { gardenId, isoWeek, what } of closings) {
    const key = `${what} ${gardenId}`
    const own = weeks.get(key)
    if (own) own.add(isoWeek)
    else weeks.set(key, new Set([isoWeek]))
  }
  return weeks
}
