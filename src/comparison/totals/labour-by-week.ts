import { isOneOf, keysOf } from '../../lookups/keys.ts'

/** Tasks as they are drawn together: few enough to be told apart in grey. */
export const taskGroups = {
  ground: ['preparing beds', 'carrying materials', 'spreading mulch or compost', 'making compost'],
  planting: ['raising seedlings', 'sowing', 'planting'],
  tending: ['weeding', 'watering', 'feeding', 'pest care', 'training and pruning'],
  harvest: ['harvest', 'washing and packing'],
  other: ['clearing', 'paths and edges', 'tools and fences', 'recording', 'other'],
} as const

export type TaskGroup = keyof typeof taskGroups

interface LabourOfWeek {
  readonly week: string
  readonly task: string
  readonly minutes: number
}

/**
 * Minutes by task group and week; in a week that is not closed they are unknown (null), whatever is written down so
 * far.
 */
export function labourByWeek(
  entries: readonly LabourOfWeek[],
  weeks: readonly string[],
  closed: ReadonlySet<string>,
): { group: TaskGroup; minutes: (number | null)[] }[] {
  return keysOf(taskGroups).map((group) => ({
    group,
    minutes: weeks.map((week) => {
      if (!closed.has(week)) return null
      const own = entries.filter((entry) => entry.week === week && groupOf(entry.task) === group)
      return own.reduce((sum, entry) => sum + entry.minutes, 0)
    }),
  }))
}

/** A task of no group is other work: no minute is lost. */
function groupOf(task: string): TaskGroup {
  return keysOf(taskGroups).find((group) => isOneOf(taskGroups[group], task)) ?? 'other'
}
