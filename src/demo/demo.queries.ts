import { and, eq } from 'drizzle-orm'
import type { PgTable } from 'drizzle-orm/pg-core'
import { groups, members } from '../accounts/accounts.table.ts'
import type { Group } from '../accounts/members.queries.ts'
import type { Database, Tx } from '../db/database.ts'
import { insertAll } from '../db/insert-all.ts'
import { newId } from '../db/new-id.ts'
import { asDoor, asMember } from '../db/transaction.ts'
import { afterManyRows } from '../db/upkeep.ts'
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
import { applications, deliveries, inputMeasures, inputs, stocks } from '../inputs/inputs.table.ts'
import { keysOf, recordOf } from '../lookups/keys.ts'
import { sent } from '../lookups/unsaid.ts'
import { counts, fieldNotes, weatherDays, weedPatches } from '../notes/notes.table.ts'
import { dayIn, type IsoDate } from '../quantities/dates.ts'
import { mondayOf, readIsoWeek, weekAfter } from '../quantities/iso-week.ts'
import { addFirstCrops, cropsOf } from '../seasons/seasons.queries.ts'
import {
  cultivars,
  matchedSets,
  methodAssignments,
  plantings,
  seasonQuestions,
  seasons,
} from '../seasons/seasons.table.ts'
import { soilTests } from '../soil/soil.table.ts'
import { type DemoGroup, generateDemo } from './generator.ts'
import type { Row, Rows } from './rows.ts'
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
  inputs,
  measures: inputMeasures,
  stocks,
  deliveries,
  applications,
  labourEntries,
  labourShares,
  weekClosings,
  soilTests,
  fieldNotes,
  counts,
  weedPatches,
  weatherDays,
  decisions,
  secondReadings,
  questions: seasonQuestions,
} as const satisfies Record<keyof Rows, PgTable>

export const demoSlug = 'quern-hill'
const about = { name: 'Quern Hill Growers', currency: 'NZD', timeZone: 'Pacific/Auckland', locale: 'en-NZ' }

/** The day that an example is made for where nobody says one: today, where its gardens lie. */
export const todayThere = (): IsoDate => dayIn(about.timeZone, new Date())

/** Whether the demo that everyone may look at is there. */
export async function demoStands(database: Database): Promise<boolean> {
  const [there] = await asDoor(database, (tx) =>
    tx
      .select({ id: groups.id })
      .from(groups)
      .where(and(eq(groups.slug, demoSlug), eq(groups.isDemo, 1))),
  )
  return there !== undefined
}

interface DemoAsked {
  readonly slug: string
  readonly isDemo: 0 | 1
  readonly personId: string | null
  readonly day: IsoDate
  /** Finishes reports on what is over, before the season that runs is written: they rest on that alone. */
  readonly report: (made: DemoMade) => Promise<void>
}

export interface DemoMade {
  readonly group: Group
  readonly personId: string | null
  /** The seasons that are over, the earliest first. */
  readonly seasonIds: readonly string[]
}

/** Writes the example; nothing where another has made it meanwhile. */
export async function writeDemo(database: Database, { slug, isDemo, personId, day, report }: DemoAsked): Promise<void> {
  const { over, running, mendedHarvest } = parted(generateDemo(undefined, day))
  const group = { ...about, id: newId(), slug }
  const write = (work: (tx: Tx) => Promise<boolean>) =>
    asMember(database, { personId, groupId: group.id, reason: 'demo' }, work)
  const made = await write(async (tx) => {
    const made = await tx
      .insert(groups)
      .values({ ...group, isDemo })
      .onConflictDoNothing()
      .returning({ id: groups.id })
    if (made.length === 0) return false
    if (personId) await tx.insert(members).values({ groupId: group.id, personId, role: 'keeper' })
    await addFirstCrops(tx, group.id)
    await writeRows(tx, group.id, personId, over)
    return true
  })
  if (!made) return
  // Apart from the rest: what is changed after a season has closed comes later than the season.
  await write(async (tx) => {
    await changeAfterClosing(tx, group.id, mendedHarvest)
    return true
  })
  await afterManyRows(database)
  const seasonIds = over.seasons.map((season) => season.id)
  await report({ group: { ...group, weightUnit: 'kg', areaUnit: 'm2' }, personId, seasonIds })
  await write(async (tx) => {
    await writeRows(tx, group.id, personId, running)
    return true
  })
}

/** What belongs to the season that runs apart from all that was before it. */
function parted({ rows, overCounts, mendedHarvest }: DemoGroup) {
  const side = (part: (name: keyof Rows) => Row[]) => recordOf(keysOf(tables), part)
  return {
    over: side((name) => rows[name].slice(0, overCounts[name])),
    running: side((name) => rows[name].slice(overCounts[name])),
    mendedHarvest,
  }
}

async function writeRows(
  tx: Tx,
  groupId: string,
  createdBy: string | null,
  rows: Record<keyof Rows, readonly Row[]>,
): Promise<void> {
  const cropIds = new Map((await cropsOf(tx, groupId)).map((crop) => [crop.name, crop.id]))
  for (const name of keysOf(tables)) {
    const own = rows[name].map(({ crop, closedAt, lockedAt, writtenOn, ...row }) => ({
      groupId,
      createdBy,
      ...row,
      ...(crop === undefined ? {} : { cropId: cropIds.get(String(crop)) }),
      ...writtenAt(row, writtenOn),
      ...(lockedAt === undefined ? {} : { lockedAt: new Date(String(lockedAt)) }),
      ...(closedAt === undefined ? {} : { closedAt: new Date(String(closedAt)) }),
    }))
    await insertAll(tx, tables[name], own)
  }
}

/** Hours and weights were written down on the Monday after their week where no day is told; everything else now. */
function writtenAt({ isoWeek }: Record<string, unknown>, writtenOn: unknown): { createdAt?: Date } {
  if (writtenOn) return { createdAt: new Date(Math.min(Date.parse(`${writtenOn}T08:00:00Z`), Date.now())) }
  const week = readIsoWeek(sent(isoWeek))
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
