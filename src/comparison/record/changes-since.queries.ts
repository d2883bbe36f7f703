import { and, eq, gt, inArray, isNotNull, not, or, type SQL, sql } from 'drizzle-orm'
import { changes } from '../../accounts/accounts.table.ts'
import { changedAfter } from '../../accounts/changed-after.queries.ts'
import type { Tx } from '../../db/database.ts'
import { rowsRead } from '../../db/rows-read.ts'
import { beds } from '../../gardens/gardens.table.ts'
import { applications, deliveries } from '../../inputs/inputs.table.ts'
import type { IsoDate } from '../../quantities/dates.ts'
import { methodAssignments, plantings, seasons } from '../../seasons/seasons.table.ts'

export interface ClosedSeason {
  readonly id: string
  readonly startsOn: IsoDate
  readonly endsOn: IsoDate
  readonly closedAt: Date | null
  readonly createdAt: Date
}

/** For each closed season, how many rows that its figures rest on were written or changed since it closed. */
export async function changesSinceClosing(
  tx: Tx,
  groupId: string,
  seasons: readonly ClosedSeason[],
): Promise<ReadonlyMap<string, number>> {
  const closed = seasons.flatMap(({ id, startsOn, endsOn, closedAt, createdAt }) =>
    closedAt === null ? [] : [{ id, startsOn, endsOn, late: lateOf(closedAt, createdAt) }],
  )
  const [first] = closed.map((one) => one.late).sort()
  if (first === undefined) return new Map()
  const values = closed.map(
    (one) => sql`(${one.id}, ${one.startsOn}::date, ${one.endsOn}::date, ${one.late}::timestamptz)`,
  )
  // The earliest by itself, so that the database knows how few there are.
  const late = and(eq(changes.groupId, groupId), gt(changes.changedAt, new Date(first)), changedAfter(each.late))
  // What names its season is joined by it, and not held beside each season in turn: nearly all that is written does.
  const before = sql`${changes.before} ->> 'season_id'`
  const after = sql`${changes.after} ->> 'season_id'`
  const movedAway = and(isNotNull(changes.before), sql`${before} is distinct from ${after}`)
  const counted = sql`
    with each_closed (id, starts_on, ends_on, late) as (values ${sql.join(values, sql`, `)})
    select id, sum(rows)::int as rows from (
      select each_closed.id, count(*) as rows from ${changes} join each_closed on each_closed.id = ${after}
        where ${and(late, named(each))} group by each_closed.id
      union all
      select each_closed.id, count(*) from ${changes} join each_closed on each_closed.id = ${before}
        where ${and(late, movedAway, named(each))} group by each_closed.id
      union all
      select each_closed.id, count(*) from each_closed, ${changes}
        where ${and(late, inArray(changes.tableName, reached), reaches(each))} group by each_closed.id
    ) found group by id`
  const rows = await rowsRead(tx, counted, ({ id, rows }) => [String(id), Number(rows)] as const)
  return new Map(rows)
}

/** A season by its values, or by the columns of a list of seasons. */
interface SeasonAsked {
  readonly id: SQL | string
  readonly startsOn: SQL | IsoDate
  readonly endsOn: SQL | IsoDate
}

const each = {
  id: sql`each_closed.id`,
  startsOn: sql`each_closed.starts_on`,
  endsOn: sql`each_closed.ends_on::text`,
  late: sql`each_closed.late`,
}

/**
 * What was changed after a season closed in what its figures rest on: counted, listed in the history and said in
 * reports by this alone.
 */
export const changedSinceClosing = (season: ClosedSeason): SQL | undefined =>
  season.closedAt === null
    ? undefined
    : and(
        changedAfter(new Date(lateOf(season.closedAt, season.createdAt))),
        or(and(names('season_id', season.id), named(season)), reaches(season)),
      )

/** A season that was written down after its end, whole, has not been changed by that. */
const lateOf = (closedAt: Date, createdAt: Date): string => (createdAt > closedAt ? createdAt : closedAt).toISOString()

/** Which of the rows that name a season, before the change or after it, its figures rest on. */
const named = (season: SeasonAsked) =>
  or(
    inArray(changes.tableName, ofSeason),
    and(of('applications'), not(onlyLifeKept)),
    and(of('harvests'), everCounted),
    and(of('plantings'), not(onlyClearedAfter(season))),
  )

/** The tables whose rows reach a season otherwise. */
const reached = [
  ...['plantings', 'losses', 'deliveries', 'inputs', 'beds', 'gardens', 'bed_areas', 'garden_areas', 'week_closings'],
]

/**
 * How each kind of row that does not name a season reaches its figures; what was moved into it or out of it counts, so
 * both states are looked at.
 */
const reaches = (season: SeasonAsked) =>
  or(
    and(
      of('plantings'),
      not(sql`coalesce(${names('season_id', season.id)}, false)`),
      standsInto(season),
      not(onlyClearedAfter(season)),
    ),
    and(of('losses'), exists(plantings, season, names('planting_id', sql`${plantings.id}::text`))),
    and(
      of('deliveries'),
      differs('price_minor', 'delivery_price_minor', 'quantity_thousandths', 'input_id', 'removed_at'),
      exists(applications, season, sql`${applications.deliveryId}::text = ${changes.rowId}`),
    ),
    and(
      of('inputs'),
      differs('own_made', 'kind', 'removed_at'),
      exists(applications, season, sql`${applications.deliveryId} in (${deliveriesChanged})`),
    ),
    and(
      of('beds'),
      differs('area_cm2', 'garden_id', 'block_id', 'there_since', 'removed_at'),
      heldBy(season, 'there_since'),
      exists(methodAssignments, season, names('garden_id', sql`${methodAssignments.gardenId}::text`)),
    ),
    and(
      of('gardens'),
      differs('gross_area_cm2', 'site_id', 'exposure', 'soil', 'ground_before', 'removed_at'),
      exists(methodAssignments, season, sql`${methodAssignments.gardenId}::text = ${changes.rowId}`),
    ),
    and(
      of('bed_areas'),
      heldBy(season, 'from_day'),
      exists(methodAssignments, season, sql`${methodAssignments.gardenId} in (${gardensOfBeds})`),
    ),
    and(
      of('garden_areas'),
      heldBy(season, 'from_day'),
      exists(methodAssignments, season, names('garden_id', sql`${methodAssignments.gardenId}::text`)),
    ),
    and(of('week_closings'), sql`${thursday} between ${season.startsOn}::date and ${season.endsOn}::date`),
  )

const ofSeason = ['labour_entries', 'method_assignments']
const of = (table: string) => eq(changes.tableName, table)

const names = (column: string, id: SQL | string) =>
  sql`${id} in (${changes.before} ->> ${column}, ${changes.after} ->> ${column})`

/** A name, a note or a supplier is in no figure. Of a row that is new every column differs. */
const differs = (...columns: readonly string[]) =>
  or(...columns.map((column) => sql`${changes.before} ->> ${column} is distinct from ${changes.after} ->> ${column}`))

/**
 * Ground that was there by the end of the season, before the change or after it; what begins later is in none of its
 * figures.
 */
const heldBy = (season: SeasonAsked, column: string) =>
  or(
    ...[changes.before, changes.after].map(
      (state) => sql`(${state} is not null and coalesce(${state} ->> ${column}, '') <= ${season.endsOn})`,
    ),
  )

/** It keeps the useful life that it had, while its input has another by now. */
const onlyLifeKept = sql`(${changes.before} is not null and ${changes.after} is not null
  and ${changes.before} - 'useful_life_seasons' - 'version' = ${changes.after} - 'useful_life_seasons' - 'version')`

/** A weight in a state that its crop does not count is in no figure. */
const everCounted = or(
  ...[changes.before, changes.after].map(
    (state) => sql`(${state} is not null and coalesce(${state} ->> 'counts', '1') = '1')`,
  ),
)

/** What stands over seasons counts in those after its first as well, as long as it stood. */
const standsInto = (season: SeasonAsked) =>
  or(
    ...[changes.before, changes.after].map(
      (state) => sql`(${state} ->> 'stands_over_seasons' = '1'
        and coalesce(${state} ->> 'cleared_on', '9999') >= ${season.startsOn}::date::text
        and coalesce(${state} ->> 'planted_on', ${state} ->> 'sown_on') <= ${season.endsOn}
        and exists (select from ${seasons} where ${seasons.groupId} = ${changes.groupId}
          and ${seasons.id}::text = ${state} ->> 'season_id' and ${seasons.startsOn} < ${season.startsOn}::date))`,
    ),
  )

/** Cleared on a day after its end: it stood to the end of the season before and after that was written. */
const onlyClearedAfter = (season: SeasonAsked) =>
  sql`(${changes.before} is not null and ${changes.after} is not null
    and ${changes.before} - 'cleared_on' - 'version' = ${changes.after} - 'cleared_on' - 'version'
    and coalesce(${changes.before} ->> 'cleared_on', '9999') > ${season.endsOn}
    and coalesce(${changes.after} ->> 'cleared_on', '9999') > ${season.endsOn})`

const gardensOfBeds = sql`select ${beds.gardenId} from ${beds}
  where ${beds.groupId} = ${changes.groupId} and ${names('bed_id', sql`${beds.id}::text`)}`

const deliveriesChanged = sql`select ${deliveries.id} from ${deliveries}
  where ${deliveries.groupId} = ${changes.groupId} and ${deliveries.inputId}::text = ${changes.rowId}`

/** A week is of the season in which its Thursday lies. */
const thursday = sql`to_date(coalesce(${changes.after}, ${changes.before}) ->> 'iso_week' || '-4', 'IYYY-"W"IW-ID')`

const exists = (
  table: typeof plantings | typeof applications | typeof methodAssignments,
  season: SeasonAsked,
  fits: SQL,
) =>
  sql`exists (select from ${table} where ${table.groupId} = ${changes.groupId}
    and ${table.seasonId} = ${season.id}::uuid and ${table.removedAt} is null and ${fits})`
