import { and, eq, isNotNull, isNull, notInArray, type SQL, sql } from 'drizzle-orm'
import type { Tx } from '../db/database.ts'
import { numberIn } from '../lookups/unsaid.ts'
import type { IsoWeek } from '../quantities/iso-week.ts'
import { harvests, labourEntries } from './diary.table.ts'
import { countingWeighings } from './picked.queries.ts'
import { daysUntilLate, timeZoneOf } from './written.queries.ts'

/** How many entries came into the record how. */
export interface HowWritten {
  readonly entries: number
  readonly paper: number
  readonly late: number
  readonly paperAndLate: number
}

/** What was weighed of a planting in a season. */
export interface WeighedInSeason extends HowWritten {
  readonly seasonId: string
  readonly plantingId: string
  readonly marketableG: number
  readonly unmarketableG: number
  /** Its weeks with their good and bad grams: "2027-W30 700 0", commas between. */
  readonly weeks: string
}

/** Hours of one place, week, task and person. */
export interface HoursInWeek extends HowWritten {
  readonly seasonId: string
  readonly gardenId: string | null
  readonly bedId: string | null
  readonly plantingId: string | null
  readonly isoWeek: IsoWeek
  readonly task: string
  readonly who: string | null
  readonly phase: string | null
  /** Of each entry, and how many entries have as many. */
  readonly minutes: readonly (readonly [number, number])[]
}

/**
 * What was weighed of each planting in each season, all but some, and in each of its weeks; crates from several
 * plantings left out. Summed by the database, with the weeks of a planting in one of its rows: those of ten years do
 * not travel for a page.
 */
export async function weighedInWeeks(tx: Tx, groupId: string, but: readonly string[] = []): Promise<WeighedInSeason[]> {
  const { seasonId, plantingId, isoWeek, marketableG, unmarketableG } = harvests
  const weeks = tx
    .select({
      seasonId,
      plantingId,
      isoWeek,
      good: sql`sum(${marketableG})`.as('good'),
      bad: sql`sum(${unmarketableG})`.as('bad'),
      ...(await howWritten(tx, groupId, harvests, sql`${harvests.harvestedOn}`)),
    })
    .from(harvests)
    .where(and(await countingWeighings(tx, groupId), isNotNull(plantingId), butThose(seasonId, but)))
    .groupBy(seasonId, plantingId, isoWeek)
    .as('weeks')
  const summed = (of: SQL.Aliased<number>) => sql<number>`sum(${of})::int`
  const grams = (of: SQL.Aliased) => sql<number>`sum(${of})::double precision`
  return tx
    .select({
      seasonId: weeks.seasonId,
      plantingId: sql<string>`${weeks.plantingId}`,
      marketableG: grams(weeks.good),
      unmarketableG: grams(weeks.bad),
      weeks: sql<string>`string_agg(concat_ws(' ', ${weeks.isoWeek}, ${weeks.good}, ${weeks.bad}), ',')`,
      entries: summed(weeks.entries),
      paper: summed(weeks.paper),
      late: summed(weeks.late),
      paperAndLate: summed(weeks.paperAndLate),
    })
    .from(weeks)
    .groupBy(weeks.seasonId, weeks.plantingId)
}

const butThose = (column: typeof harvests.seasonId | typeof labourEntries.seasonId, but: readonly string[]) =>
  but.length === 0 ? undefined : notInArray(column, [...but])

/**
 * The hours of each place, week, task and person in all seasons but some, shared ones left out: the minutes of each
 * entry stay, with how many entries have them, since each is divided over its beds by itself, to the minute.
 */
export async function hoursInWeeks(tx: Tx, groupId: string, but: readonly string[] = []): Promise<HoursInWeek[]> {
  const { seasonId, gardenId, bedId, plantingId, isoWeek, task, who, phase, personMinutes } = labourEntries
  const rows = await tx
    .select({
      seasonId,
      gardenId,
      bedId,
      plantingId,
      isoWeek,
      task,
      who,
      phase,
      minutes: sql<string>`string_agg(${personMinutes}::text, ' ')`,
      ...(await howWritten(
        tx,
        groupId,
        labourEntries,
        sql`coalesce(${labourEntries.workedOn}, to_date(${isoWeek} || '-7', 'IYYY-"W"IW-ID'))`,
      )),
    })
    .from(labourEntries)
    .where(
      and(
        eq(labourEntries.groupId, groupId),
        isNull(labourEntries.removedAt),
        isNull(labourEntries.shareRule),
        butThose(seasonId, but),
      ),
    )
    .groupBy(seasonId, gardenId, bedId, plantingId, isoWeek, task, who, phase)
  return rows.map(({ minutes, ...row }) => ({ ...row, minutes: tallied(minutes) })).sort(inTheirOrder)
}

/** Minutes, and how many entries have them, from few to many. */
function tallied(minutes: string): readonly (readonly [number, number])[] {
  const found = new Map<number, number>()
  for (const each of minutes.split(' ').map(Number)) found.set(each, numberIn(found, each) + 1)
  return [...found].sort(([one], [other]) => one - other)
}

const orderOf = ['seasonId', 'isoWeek', 'task', 'gardenId', 'bedId', 'plantingId', 'who', 'phase'] as const

function inTheirOrder(one: HoursInWeek, other: HoursInWeek): number {
  for (const key of orderOf) {
    const found = inOrder(one[key], other[key])
    if (found !== 0) return found
  }
  return 0
}

/** What says nothing comes first. */
function inOrder(a: string | null, b: string | null): number {
  if (a === b) return 0
  return a === null || (b !== null && a < b) ? -1 : 1
}

/** Read off paper, and written down more than fourteen days after its day or the end of its week (`isLate`). */
async function howWritten(tx: Tx, groupId: string, table: typeof harvests | typeof labourEntries, day: SQL) {
  const written = sql`(${table.createdAt} at time zone ${await timeZoneOf(tx, groupId)})::date`
  const paper = sql`${table.source} = 'paper'`
  const late = sql`${written} - ${day} > ${sql.raw(String(daysUntilLate))}`
  const counted = (which: SQL, as: string) => sql<number>`(count(*) filter (where ${which}))::int`.as(as)
  return {
    entries: sql<number>`count(*)::int`.as('entries'),
    paper: counted(paper, 'paper'),
    late: counted(late, 'late'),
    paperAndLate: counted(sql`${paper} and ${late}`, 'paper_and_late'),
  }
}
