import { atOnce } from '../db/at-once.ts'
import type { Tx } from '../db/database.ts'
import { lyingOn } from '../gardens/areas-held.ts'
import { addDays, type IsoDate } from '../quantities/dates.ts'
import { type IsoWeek, mondayOf, thursdayOf } from '../quantities/iso-week.ts'
import type { Known } from './known.ts'
import { type KnownKept, knownOfGroupKept } from './known-kept.queries.ts'
import { knownOfGroup } from './known-of-group.queries.ts'
import { knownOfWeeks } from './known-of-weeks.queries.ts'
import { holdClosings } from './week.queries.ts'

/** A planting that was cleared longer ago than this can be neither weighed nor lost by anybody: it is not read. */
const daysKept = 400

interface Of {
  readonly weeks: readonly IsoWeek[]
  readonly today: IsoDate
}

/**
 * All that rows of these weeks are held against, in one reading; the closings stay as they are until the transaction
 * ends. Writers do not wait for each other.
 */
export async function knownForWriting(tx: Tx, groupId: string, of: Of, kept?: KnownKept) {
  // On its way before what is read, so that this sees what is closed while the lock is waited for.
  const held = holdClosings(tx, groupId).execute()
  const [, known] = await atOnce([held, knownIn(tx, groupId, of, kept)])
  return known
}

export async function knownIn(tx: Tx, groupId: string, of: Of, kept?: KnownKept): Promise<Known> {
  const { weeks, today } = of
  const since = sinceOf(of)
  const reading = kept ? knownOfGroupKept(tx, groupId, since, kept) : knownOfGroup(tx, groupId, since)
  const labelled = reading.then((known) => known.labelled)
  const [{ beds, plantings, ...ofGroup }, ofWeeks] = await atOnce([reading, knownOfWeeks(tx, groupId, weeks, labelled)])
  const latest = weeks.toSorted().at(-1)
  return {
    today,
    ...ofWeeks,
    ...ofGroup,
    // As it lies in the latest of the weeks that are written in.
    ground: lyingOn(beds, latest === undefined ? today : thursdayOf(latest)),
    plantings: new Map(plantings.map((one) => [one.id, one])),
  }
}

function sinceOf({ weeks, today }: Of): IsoDate {
  const [first = today] = weeks.map((week) => mondayOf(week)).sort()
  return addDays(first, -daysKept)
}
