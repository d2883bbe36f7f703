import { asShown } from '../lookups/unsaid.ts'
import { daysBetween, type IsoDate } from '../quantities/dates.ts'
import { type Answer, answer, type Refusal, refused } from '../statistics/answer.ts'

export interface Change {
  /** The rate at which it grows, a week; under 0 it shrinks. */
  readonly perWeek: number
  /** Weeks in which it halves, or doubles where it grows; infinite where it stands still is refused. */
  readonly weeksToHalf: number
}

/**
 * How fast a patch grows or shrinks: r = ln(after / before) / weeks, and ln 2 / |r| weeks to halve or double. Refuses
 * what has no rate: a patch that was not there before or is gone after, two counts of one day, a patch that stood
 * still.
 */
export function changeRate(before: number, after: number, weeks: number): Answer<Change> | Refusal {
  if (!(weeks > 0)) return refused('out of range', `${weeks} weeks`)
  if (!(before > 0 && after > 0)) return refused('zero total', `${before} to ${after}`)
  if (before === after) return refused('no variation', `${before} both times`)
  const perWeek = Math.log(after / before) / weeks
  return answer({ perWeek, weeksToHalf: Math.LN2 / Math.abs(perWeek) })
}

export interface PatchSeen {
  readonly gardenId: string
  readonly bedId: string | null
  readonly species: string
  readonly position: string | null
  readonly seenOn: IsoDate
  readonly areaCm2: number | null
  readonly coverPermille: number | null
  readonly shootsPerM2: number | null
}

interface PatchCourse<T extends PatchSeen> {
  readonly sightings: readonly {
    readonly seen: T
    /** Since the sighting before; null at the first one, or where it was not written down both times. */
    readonly area: Answer<Change> | Refusal | null
    readonly shoots: Answer<Change> | Refusal | null
  }[]
}

/**
 * One patch over time: sightings of one species at one place and position in words. Area and shoots per m2 each have
 * their own rate: a patch can thin out without growing smaller.
 */
export function patchCourses<T extends PatchSeen>(patches: readonly T[]): PatchCourse<T>[] {
  const byPatch = new Map<string, T[]>()
  for (const one of [...patches].sort((a, b) => (a.seenOn < b.seenOn ? -1 : a.seenOn > b.seenOn ? 1 : 0))) {
    const key = JSON.stringify([one.gardenId, one.bedId, plain(one.species), plain(asShown(one.position))])
    byPatch.set(key, [...(byPatch.get(key) ?? []), one])
  }
  return [...byPatch.values()].map((own) => ({
    sightings: own.map((seen, i) => {
      const before = own[i - 1]
      if (!before) return { seen, area: null, shoots: null }
      const weeks = daysBetween(before.seenOn, seen.seenOn) / 7
      const since = (was: number | null, is: number | null) =>
        was === null || is === null ? null : changeRate(was, is, weeks)
      return {
        seen,
        area: since(before.areaCm2, seen.areaCm2),
        shoots: since(before.shootsPerM2, seen.shootsPerM2),
      }
    }),
  }))
}

const plain = (name: string) => name.trim().toLowerCase().replace(/\s+/g, ' ')
