import { and, asc, desc, eq, lt, type SQL, sql } from 'drizzle-orm'
import { changes, people } from '../accounts/accounts.table.ts'
import { type ClosedSeason, changedSinceClosing } from '../comparison/record/changes-since.queries.ts'
import type { Tx } from '../db/database.ts'
import { containers } from '../diary/diary.table.ts'
import { beds, blocks, gardens, methods, sites } from '../gardens/gardens.table.ts'
import { inputs } from '../inputs/inputs.table.ts'
import { namesOfPlantings } from '../seasons/planting-names.queries.ts'
import { crops, cultivars, matchedSets, plantings, seasons } from '../seasons/seasons.table.ts'

/** What is left out of a row's history here: the frozen contents of a report are long, and stand on its own page. */
const without = (doc: SQL) => sql<Record<string, unknown> | null>`${doc} - 'contents' - 'rows'`

const shown = {
  number: changes.number,
  tableName: changes.tableName,
  rowId: changes.rowId,
  changedAt: changes.changedAt,
  personId: changes.personId,
  person: people.name,
  reason: changes.reason,
  before: without(sql`${changes.before}`),
  after: without(sql`${changes.after}`),
}

interface Wanted {
  readonly table: string | null
  /** Only what was changed after this season closed, in what its figures rest on. */
  readonly closed: ClosedSeason | null
  /** Numbers below this one. */
  readonly below: number | null
}

/** The latest changes first. Who is no member any more has no name here. */
export function latestChanges(tx: Tx, groupId: string, { table, closed, below }: Wanted, most: number) {
  return tx
    .select(shown)
    .from(changes)
    .leftJoin(people, eq(people.id, changes.personId))
    .where(
      and(
        eq(changes.groupId, groupId),
        ...(table === null ? [] : [eq(changes.tableName, table)]),
        closed === null ? undefined : changedSinceClosing(closed),
        ...(below === null ? [] : [lt(changes.number, below)]),
      ),
    )
    .orderBy(desc(changes.number))
    .limit(most)
}

/** The history of one row, as it happened. */
export function changesOfRow(tx: Tx, groupId: string, table: string, rowId: string) {
  return tx
    .select(shown)
    .from(changes)
    .leftJoin(people, eq(people.id, changes.personId))
    .where(and(eq(changes.groupId, groupId), eq(changes.tableName, table), eq(changes.rowId, rowId)))
    .orderBy(asc(changes.number))
}

/** What rows that others refer to are called, by id; those that were removed too, since history speaks of them. */
export async function namesOfGroup(tx: Tx, groupId: string): Promise<ReadonlyMap<string, string>> {
  // Row-level security shows those of the group, and none that left it.
  const members = await tx.select({ id: people.id, name: people.name }).from(people)
  const names = new Map(members.map(({ id, name }) => [id, name]))
  for (const table of [sites, blocks, methods, gardens, seasons, crops, containers, inputs, matchedSets]) {
    const rows = await tx.select({ id: table.id, name: table.name }).from(table).where(eq(table.groupId, groupId))
    for (const row of rows) names.set(row.id, row.name)
  }
  const ofBeds = await tx
    .select({ id: beds.id, name: beds.name, gardenId: beds.gardenId })
    .from(beds)
    .where(eq(beds.groupId, groupId))
  for (const bed of ofBeds) names.set(bed.id, `${names.get(bed.gardenId)}, ${bed.name}`)
  const ofCultivars = await tx
    .select({ id: cultivars.id, name: cultivars.name, cropId: cultivars.cropId })
    .from(cultivars)
    .where(eq(cultivars.groupId, groupId))
  for (const cultivar of ofCultivars) names.set(cultivar.id, `${names.get(cultivar.cropId)}, ${cultivar.name}`)
  const planted = await tx
    .select({ id: plantings.id, bedId: plantings.bedId, cultivarId: plantings.cultivarId })
    .from(plantings)
    .where(eq(plantings.groupId, groupId))
  const called = await namesOfPlantings(tx, groupId)
  for (const one of planted)
    names.set(one.id, `${called.get(one.id) ?? names.get(one.cultivarId)} · ${names.get(one.bedId)}`)
  return names
}
