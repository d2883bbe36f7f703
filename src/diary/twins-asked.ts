import type { IsoWeek } from '../quantities/iso-week.ts'
import { gardenOf, type Known, type KnownPlanting, sealedKey } from './known.ts'
import { standingRefused } from './week-rules.ts'

interface Asked {
  readonly isoWeek: IsoWeek
  /** Monday to Sunday. */
  readonly days: readonly string[]
  /** What is weighed or lost in this save too. */
  readonly also: ReadonlySet<string>
}

/**
 * Plantings of a matched set that was picked this week, themselves neither weighed nor lost in it: still to come,
 * nothing there, or lost? Of what lies under a sealed label nothing is asked, and it asks for nothing elsewhere.
 */
export function twinsAsked(known: Known, { isoWeek, days, also }: Asked): KnownPlanting[] {
  const hidden = (id: string) => known.sealed.has(sealedKey(id, isoWeek))
  const written = new Set([...known.picked, ...also].filter((id) => !hidden(id)))
  const sets = new Set([...written].flatMap((id) => known.plantings.get(id)?.matchedSetId ?? []))
  return [...known.plantings.values()].filter(
    (one) =>
      one.matchedSetId !== null &&
      sets.has(one.matchedSetId) &&
      !written.has(one.id) &&
      !hidden(one.id) &&
      !known.gone.has(one.id) &&
      days.some((day) => standingRefused(one, day) === undefined),
  )
}

export const twinsOfGarden = (known: Known, twins: readonly KnownPlanting[], gardenId: string): KnownPlanting[] =>
  twins.filter((one) => gardenOf(known, one) === gardenId)
