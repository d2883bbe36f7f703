import { and, eq, not, or, type SQL, sql } from 'drizzle-orm'
import { changes } from '../../accounts/accounts.table.ts'
import { changedAfter } from '../../accounts/changed-after.queries.ts'
import type { Tx } from '../../db/database.ts'
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
  const found = new Map<string, number>()
  for (const season of seasons) {
    if (!season.closedAt) continue
    const [row] = await tx
      .select({ rows: sql<string>`count(*)` })
      .from(changes)
      .where(and(eq(changes.groupId, groupId), changedSinceClosing(season)))
    // No row counted is no change.
    found.set(season.id, Number(row?.rows ?? 0))
  }
  return found
}

/**
 * What was changed after a season closed in what its figures rest on: counted, listed in the history and said in
 * reports by this alone.
 */
export const changedSinceClosing = (season: ClosedSeason): SQL | undefined =>
  season.closedAt === null ? undefined : and(changedAfter(lateOf(season.closedAt, season.createdAt)), behind(season))

/** A season that was written down after its end, whole, has not been changed by that. */
const lateOf = (closedAt: Date, createdAt: Date): Date => (createdAt > closedAt ? createdAt : closedAt)

/**
 * How each kind of row reaches the figures of a season; what was moved into it or out of it counts, so both states are
 * looked at.
 */
const behind = (season: ClosedSeason) =>
  or(
    ...ofSeason.map((table) => and(of(table), names('season_id', season.id))),
    and(of('applications'), names('season_id', season.id), not(onlyLifeKept)),
    and(of('harvests'), names('season_id', season.id), everCounted),
    and(of('plantings'), or(names('season_id', season.id), standsInto(season)), not(onlyClearedAfter(season))),
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
const heldBy = (season: ClosedSeason, column: string) =>
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
const standsInto = (season: ClosedSeason) =>
  or(
    ...[changes.before, changes.after].map(
      (state) => sql`(${state} ->> 'stands_over_seasons' = '1'
        and coalesce(${state} ->> 'cleared_on', '9999') >= ${season.startsOn}
        and coalesce(${state} ->> 'planted_on', ${state} ->> 'sown_on') <= ${season.endsOn}
        and exists (select from ${seasons} where ${seasons.groupId} = ${changes.groupId}
          and ${seasons.id}::text = ${state} ->> 'season_id' and ${seasons.startsOn} < ${season.startsOn}::date))`,
    ),
  )

/** Cleared on a day after its end: it stood to the end of the season before and after that was written. */
const onlyClearedAfter = (season: ClosedSeason) =>
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
  season: ClosedSeason,
  fits: SQL,
) =>
  sql`exists (select from ${table} where ${table.groupId} = ${changes.groupId} and ${table.seasonId} = ${season.id}
    and ${table.removedAt} is null and ${fits})`
