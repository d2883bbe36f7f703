import { and, asc, eq, inArray, isNull } from 'drizzle-orm'
import { atOnce } from '../db/at-once.ts'
import type { Tx } from '../db/database.ts'
import { lyingOn } from '../gardens/areas-held.ts'
import { addDays, type IsoDate } from '../quantities/dates.ts'
import { type IsoWeek, mondayOf, thursdayOf } from '../quantities/iso-week.ts'
import { harvestShares, harvests } from './diary.table.ts'
import { closedKey, type Known, labelKey, sealedKey, weighedKey } from './known.ts'
import { type KnownKept, knownOfGroupKept } from './known-kept.queries.ts'
import { knownOfGroup } from './known-of-group.queries.ts'
import { labelsOf } from './sealed.queries.ts'
import { closingsOf, holdClosings } from './week.queries.ts'

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
  const [{ beds, plantings, ...ofGroup }, ofWeeks] = await atOnce([
    kept ? knownOfGroupKept(tx, groupId, since, kept) : knownOfGroup(tx, groupId, since),
    knownOfWeeks(tx, groupId, weeks),
  ])
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

/** What was closed, labelled and weighed in some weeks. */
async function knownOfWeeks(tx: Tx, groupId: string, weeks: readonly IsoWeek[]) {
  const each = [...new Set(weeks)]
  const [closings, labelled, weighed, inCrate] = await atOnce([
    atOnce(each.map((week) => closingsOf(tx, groupId, week))),
    atOnce(each.map((week) => labelsOf(tx, groupId, week))),
    weighedIn(tx, groupId, weeks),
    inCrates(tx, groupId, weeks),
  ])
  const closed = closings.flat().map((one) => closedKey(one.what, one.gardenId, one.isoWeek))
  const labels = labelled.flat()
  const sealed = labels.filter((one) => one.sealed)
  const hidden = new Set(sealed.map((one) => one.plantingId))
  const alone = [...weighed.keys()].flatMap((key) => key.split(' ')[0] ?? [])
  return {
    closed: new Set(closed),
    labels: new Map(labels.map((one) => [labelKey(one.label, one.isoWeek), one])),
    sealed: new Map(sealed.map((one) => [sealedKey(one.plantingId, one.isoWeek), one.label])),
    weighed,
    picked: new Set([...alone, ...inCrate].filter((id) => !hidden.has(id))),
  }
}

async function weighedIn(tx: Tx, groupId: string, weeks: readonly IsoWeek[]) {
  const rows = await tx
    .select({
      id: harvests.id,
      plantingId: harvests.plantingId,
      harvestedOn: harvests.harvestedOn,
      marketableG: harvests.marketableG,
      unmarketableG: harvests.unmarketableG,
    })
    .from(harvests)
    .where(and(eq(harvests.groupId, groupId), inArray(harvests.isoWeek, [...weeks]), isNull(harvests.removedAt)))
    .orderBy(asc(harvests.id))
  const weighed = new Map<string, string[]>()
  for (const { id, plantingId, ...weight } of rows) {
    if (plantingId === null) continue
    const key = weighedKey(plantingId, weight)
    weighed.set(key, [...(weighed.get(key) ?? []), id])
  }
  return weighed
}

/** The plantings of crates from several: they were picked too. */
async function inCrates(tx: Tx, groupId: string, weeks: readonly IsoWeek[]): Promise<string[]> {
  const rows = await tx
    .selectDistinct({ plantingId: harvestShares.plantingId })
    .from(harvestShares)
    .innerJoin(harvests, and(eq(harvests.groupId, groupId), eq(harvests.id, harvestShares.harvestId)))
    .where(
      and(
        eq(harvestShares.groupId, groupId),
        isNull(harvestShares.removedAt),
        inArray(harvests.isoWeek, [...weeks]),
        isNull(harvests.removedAt),
      ),
    )
    .orderBy(asc(harvestShares.plantingId))
  return rows.map((one) => one.plantingId)
}
