import { and, eq } from 'drizzle-orm'
import type { PgTable } from 'drizzle-orm/pg-core'
import { groups, members } from '../accounts/accounts.table.ts'
import type { Database, Tx } from '../db/database.ts'
import { newId } from '../db/new-id.ts'
import { asDoor, asMember } from '../db/transaction.ts'
import { decisions } from '../decisions/decisions.table.ts'
import {
  containers,
  harvestShares,
  harvests,
  labourEntries,
  labourShares,
  losses,
  secondReadings,
  weekClosings,
} from '../diary/diary.table.ts'
import { bedClosures, beds, gardens, methods, sites } from '../gardens/gardens.table.ts'
import { applications, deliveries, inputs, stocks } from '../inputs/inputs.table.ts'
import { counts, fieldNotes, weatherDays, weedPatches } from '../notes/notes.table.ts'
import { mondayOf, readIsoWeek, weekAfter } from '../quantities/iso-week.ts'
import { addFirstCrops, cropsOf } from '../seasons/seasons.queries.ts'
import { cultivars, matchedSets, methodAssignments, plantings, seasons } from '../seasons/seasons.table.ts'
import { soilTests } from '../soil/soil.table.ts'
import { generateDemo } from './generator.ts'
import type { Rows } from './rows.ts'
import * as truth from './truth.ts'

/** In an order in which each table finds what it refers to. */
const tables = {
  sites,
  methods,
  gardens,
  beds,
  bedClosures,
  seasons,
  methodAssignments,
  cultivars,
  matchedSets,
  plantings,
  containers,
  harvests,
  harvestShares,
  losses,
  labourEntries,
  labourShares,
  weekClosings,
  inputs,
  stocks,
  deliveries,
  applications,
  soilTests,
  fieldNotes,
  counts,
  weedPatches,
  weatherDays,
  decisions,
  secondReadings,
} as const satisfies Record<keyof Rows, PgTable>

export const demoSlug = 'quern-hill'
const about = { name: 'Quern Hill Growers', currency: 'NZD', timeZone: 'Pacific/Auckland', locale: 'en-NZ' }
const rowsAtOnce = 500

/** The demo that everyone may look at; made when it is first asked for, once, however many ask at a time. */
export async function makeDemo(database: Database): Promise<string> {
  const [there] = await asDoor(database, (tx) =>
    tx
      .select({ id: groups.id })
      .from(groups)
      .where(and(eq(groups.slug, demoSlug), eq(groups.isDemo, 1))),
  )
  if (!there) await writeDemo(database, { slug: demoSlug, isDemo: 1 }, null)
  return demoSlug
}

/** A copy of one's own, to play with: its slug. */
export async function copyDemo(database: Database, personId: string): Promise<string> {
  const slug = `${demoSlug}-${newId().slice(-8)}`
  await writeDemo(database, { slug, isDemo: 0 }, personId)
  return slug
}

async function writeDemo(database: Database, group: { slug: string; isDemo: number }, personId: string | null) {
  const groupId = newId()
  const { rows, mendedHarvest } = generateDemo()
  const made = await asMember(database, { personId, groupId, reason: 'demo' }, async (tx) => {
    const made = await tx
      .insert(groups)
      .values({ ...about, ...group, id: groupId })
      .onConflictDoNothing()
      .returning({ id: groups.id })
    if (made.length === 0) return false
    if (personId) await tx.insert(members).values({ groupId, personId, role: 'keeper' })
    await addFirstCrops(tx, groupId)
    await writeRows(tx, groupId, personId, rows)
    return true
  })
  // Apart from the rest: what is changed after a season has closed comes later than the season.
  if (made)
    await asMember(database, { personId, groupId, reason: 'demo' }, (tx) =>
      changeAfterClosing(tx, groupId, mendedHarvest),
    )
}

async function writeRows(tx: Tx, groupId: string, createdBy: string | null, rows: Rows): Promise<void> {
  const cropIds = new Map((await cropsOf(tx, groupId)).map((crop) => [crop.name, crop.id]))
  for (const name of Object.keys(tables) as (keyof Rows)[]) {
    const own = rows[name].map(({ crop, closedAt, writtenOn, ...row }) => ({
      ...{ groupId, createdBy },
      ...row,
      ...(crop === undefined ? {} : { cropId: cropIds.get(String(crop)) }),
      ...writtenAt(row, writtenOn),
      ...(closedAt === undefined ? {} : { closedAt: new Date(String(closedAt)) }),
    }))
    for (let from = 0; from < own.length; from += rowsAtOnce) {
      await tx.insert(tables[name] as PgTable).values(own.slice(from, from + rowsAtOnce) as never)
    }
  }
}

/** Hours and weights were written down on the Monday after their week where no day is told; everything else now. */
function writtenAt({ isoWeek }: Record<string, unknown>, writtenOn: unknown): { createdAt?: Date } {
  if (writtenOn) return { createdAt: new Date(`${writtenOn}T08:00:00Z`) }
  const week = readIsoWeek(String(isoWeek ?? ''))
  return week ? { createdAt: new Date(`${mondayOf(weekAfter(week, 1))}T08:00:00Z`) } : {}
}

/** A weight that was mended when its season was closed: the history shows it. */
async function changeAfterClosing(tx: Tx, groupId: string, mendedHarvest: string): Promise<void> {
  const { grams } = truth.onPurpose.changedAfterClosing
  await tx
    .update(harvests)
    .set({ marketableG: grams, version: 2 })
    .where(and(eq(harvests.groupId, groupId), eq(harvests.id, mendedHarvest)))
}
