import { and, eq, sql } from 'drizzle-orm'
import { groups } from '../accounts/accounts.table.ts'
import { changesCounted } from '../accounts/saved.queries.ts'
import { afterwards } from '../db/afterwards.ts'
import { atOnce } from '../db/at-once.ts'
import { codeOf } from '../db/constraint.ts'
import type { Database, Tx } from '../db/database.ts'
import { asMember } from '../db/transaction.ts'
import { keptSums, type SumsWritten } from './kept-sums.table.ts'
import { seasonsUnderLabels } from './sealed.queries.ts'
import {
  type HoursInWeek,
  type HowWritten,
  hoursInWeeks,
  type WeighedInSeason,
  weighedInWeeks,
} from './summed.queries.ts'

/** How sums are written down: counted up whenever that, or what is in them, changes. */
const shape = 1

interface Season {
  readonly id: string
  readonly closedAt: Date | null
}

interface Sums {
  readonly weighed: readonly WeighedInSeason[]
  readonly hours: readonly HoursInWeek[]
}

/**
 * What was weighed and worked, summed by the database where it lies (`summed.queries.ts`), or as it was summed before:
 * of a season that is closed, as all before it are, the sums are kept until something of it is written. A label hides
 * nothing of such a season, whatever stands over several, but where its planting has moved to another: then they are
 * summed each time. They are kept after the transaction in which they were read.
 *
 * @param seasons - all of the group, by their first day
 */
export async function summedBySeason(tx: Tx, groupId: string, seasons: readonly Season[]): Promise<Sums> {
  const firstOpen = seasons.findIndex((one) => one.closedAt === null)
  const closed = seasons.slice(0, firstOpen < 0 ? undefined : firstOpen).map((one) => one.id)
  // One behind the other, so that nothing that is read is older than the count.
  const [counted, stored, labelled] = await atOnce([
    changesCounted(tx, groupId),
    keptOf(tx, groupId),
    seasonsUnderLabels(tx, groupId, closed),
  ])
  const settled = closed.filter((id) => !labelled.has(id))
  const kept = new Map([...stored].filter(([id]) => settled.includes(id)))
  const anew = await summedAnew(tx, groupId, { seasons, but: [...kept.keys()] })
  const found = settled.flatMap((seasonId) =>
    kept.has(seasonId) ? [] : [{ seasonId, sums: asWritten(sumsIn(anew, seasonId)) }],
  )
  if (found.length > 0) afterwards(tx, (database) => keep(database, { groupId, counted, found }))
  const ids = [...kept.keys(), ...anew.keys()].sort()
  const all = ids.map((seasonId) => readOf(kept, seasonId) ?? sumsIn(anew, seasonId))
  return { weighed: all.flatMap((one) => one.weighed), hours: all.flatMap((one) => one.hours) }
}

async function keptOf(tx: Tx, groupId: string) {
  const rows = await tx
    .select({ seasonId: keptSums.seasonId, sums: keptSums.sums })
    .from(keptSums)
    .innerJoin(groups, and(eq(groups.id, groupId), eq(groups.timeZone, keptSums.timeZone)))
    .where(and(eq(keptSums.groupId, groupId), eq(keptSums.shape, shape)))
  return new Map(rows.map(({ seasonId, sums }) => [seasonId, sums]))
}

interface Rest {
  readonly seasons: readonly Season[]
  readonly but: readonly string[]
}

/** By season; nothing is asked where all are kept, since what is weighed is always in one of them. */
async function summedAnew(tx: Tx, groupId: string, { seasons, but }: Rest): Promise<ReadonlyMap<string, Sums>> {
  const found = new Map<string, { weighed: WeighedInSeason[]; hours: HoursInWeek[] }>()
  if (seasons.every((one) => but.includes(one.id))) return found
  const of = (seasonId: string) => {
    const sums = found.get(seasonId) ?? { weighed: [], hours: [] }
    found.set(seasonId, sums)
    return sums
  }
  for (const one of await weighedInWeeks(tx, groupId, but)) of(one.seasonId).weighed.push(one)
  for (const one of await hoursInWeeks(tx, groupId, but)) of(one.seasonId).hours.push(one)
  return found
}

const nothing: Sums = { weighed: [], hours: [] }
const sumsIn = (found: ReadonlyMap<string, Sums>, seasonId: string): Sums => found.get(seasonId) ?? nothing

const asWritten = ({ weighed, hours }: Sums): SumsWritten => ({
  weighed: weighed.map((one) => [one.plantingId, one.marketableG, one.unmarketableG, one.weeks, ...countsOf(one)]),
  hours: hours.map((one) => [
    one.gardenId,
    one.bedId,
    one.plantingId,
    one.isoWeek,
    one.task,
    one.who,
    one.phase,
    one.minutes,
    ...countsOf(one),
  ]),
})

const countsOf = ({ entries, paper, late, paperAndLate }: HowWritten) => [entries, paper, late, paperAndLate] as const

function readOf(kept: ReadonlyMap<string, SumsWritten>, seasonId: string): Sums | undefined {
  const sums = kept.get(seasonId)
  return (
    sums && {
      weighed: sums.weighed.map(
        ([plantingId, marketableG, unmarketableG, weeks, entries, paper, late, paperAndLate]) => ({
          seasonId,
          plantingId,
          marketableG,
          unmarketableG,
          weeks,
          entries,
          paper,
          late,
          paperAndLate,
        }),
      ),
      hours: sums.hours.map(
        ([gardenId, bedId, plantingId, isoWeek, task, who, phase, minutes, entries, paper, late, paperAndLate]) => ({
          seasonId,
          gardenId,
          bedId,
          plantingId,
          isoWeek,
          task,
          who,
          phase,
          minutes,
          entries,
          paper,
          late,
          paperAndLate,
        }),
      ),
    }
  )
}

interface ToKeep {
  readonly groupId: string
  /** How many changes the group's history held before they were read. */
  readonly counted: number
  readonly found: readonly { readonly seasonId: string; readonly sums: SumsWritten }[]
}

/**
 * What was read is answered whether it can be kept or not: a standby keeps nothing, and a disk may be full.
 */
async function keep(database: Database, { groupId, counted, found }: ToKeep): Promise<void> {
  try {
    await asMember(database, { personId: null, groupId }, (tx) =>
      tx.execute(sql`select public.keep_season_sums(${counted}, ${shape}, ${JSON.stringify(found)}::json)`),
    )
  } catch (error) {
    if (codeOf(error) !== readOnlyTransaction) process.emitWarning(`Sums of seasons were not kept (${codeOf(error)}).`)
  }
}

const readOnlyTransaction = '25006'
