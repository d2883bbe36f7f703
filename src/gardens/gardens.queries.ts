import { and, asc, eq, isNull } from 'drizzle-orm'
import type { Tx } from '../db/database.ts'
import { newId } from '../db/new-id.ts'
import type { IsoDate } from '../quantities/dates.ts'
import { type AreaFrom, areasOf } from './areas-held.ts'
import { bedAreas, beds, blocks, gardenAreas, gardens, methods, sites } from './gardens.table.ts'

export interface Author {
  readonly groupId: string
  readonly createdBy: string | null
}

export const sitesOf = (tx: Tx, groupId: string) =>
  tx
    .select()
    .from(sites)
    .where(and(eq(sites.groupId, groupId), isNull(sites.removedAt)))
    .orderBy(asc(sites.id))

export const blocksOf = (tx: Tx, groupId: string) =>
  tx
    .select()
    .from(blocks)
    .where(and(eq(blocks.groupId, groupId), isNull(blocks.removedAt)))
    .orderBy(asc(blocks.id))

/** The blocks of the site that a garden lies on. */
export async function blocksOfGarden(tx: Tx, groupId: string, gardenId: string) {
  const rows = await tx
    .select({ id: blocks.id, name: blocks.name })
    .from(blocks)
    .innerJoin(gardens, and(eq(gardens.groupId, groupId), eq(gardens.siteId, blocks.siteId), eq(gardens.id, gardenId)))
    .where(and(eq(blocks.groupId, groupId), isNull(blocks.removedAt)))
    .orderBy(asc(blocks.id))
  return rows
}

export const methodsOf = (tx: Tx, groupId: string) =>
  tx
    .select()
    .from(methods)
    .where(and(eq(methods.groupId, groupId), isNull(methods.removedAt)))
    .orderBy(asc(methods.position), asc(methods.id))

/** What each garden is called, in the order in which they are walked. */
export async function gardensCalled(tx: Tx, groupId: string): Promise<ReadonlyMap<string, string>> {
  const rows = await tx
    .select({ id: gardens.id, name: gardens.name })
    .from(gardens)
    .where(and(eq(gardens.groupId, groupId), isNull(gardens.removedAt)))
    .orderBy(asc(gardens.position), asc(gardens.id))
  return new Map(rows.map(({ id, name }) => [id, name]))
}

/** In the order in which they are walked, with their gross areas and the days from which these hold. */
export async function gardensOf(tx: Tx, groupId: string) {
  const rows = await tx
    .select()
    .from(gardens)
    .where(and(eq(gardens.groupId, groupId), isNull(gardens.removedAt)))
    .orderBy(asc(gardens.position), asc(gardens.id))
  const changes = await tx
    .select()
    .from(gardenAreas)
    .where(and(eq(gardenAreas.groupId, groupId), isNull(gardenAreas.removedAt)))
    .orderBy(asc(gardenAreas.fromDay), asc(gardenAreas.id))
  const after = changesOf(changes.map((one) => ({ ...one, id: one.gardenId, areaCm2: one.grossAreaCm2 })))
  return rows.map(({ grossAreaCm2, ...garden }) => ({
    ...garden,
    areas: areasOf({ from: null, areaCm2: grossAreaCm2 }, after(garden.id)),
  }))
}

/** Every bed that ever was one, with its areas and the days from which they hold: one given up has 0 from a day. */
export async function bedsOf(tx: Tx, groupId: string) {
  const rows = await tx
    .select()
    .from(beds)
    .where(and(eq(beds.groupId, groupId), isNull(beds.removedAt)))
    .orderBy(asc(beds.position), asc(beds.id))
  const changes = await tx
    .select()
    .from(bedAreas)
    .where(and(eq(bedAreas.groupId, groupId), isNull(bedAreas.removedAt)))
    .orderBy(asc(bedAreas.fromDay), asc(bedAreas.id))
  const after = changesOf(changes.map((one) => ({ ...one, id: one.bedId })))
  return rows.map(({ areaCm2, thereSince, ...bed }) => ({
    ...bed,
    areas: areasOf({ from: thereSince, areaCm2 }, after(bed.id)),
  }))
}

/** The changes of each piece of ground, by its id. */
function changesOf(rows: readonly { id: string; fromDay: IsoDate; areaCm2: number }[]) {
  const changes = new Map<string, AreaFrom[]>()
  for (const { id, fromDay, areaCm2 } of rows) {
    const own = changes.get(id)
    if (own) own.push({ from: fromDay, areaCm2 })
    else changes.set(id, [{ from: fromDay, areaCm2 }])
  }
  return (id: string): readonly AreaFrom[] => changes.get(id) ?? []
}

interface NewSite {
  readonly id: string
  readonly name: string
  readonly soil: string | null
  readonly exposure: string | null
}

interface NewBlock {
  readonly id: string
  readonly siteId: string
  readonly name: string
  readonly notes: string | null
}

export async function saveBlock(tx: Tx, author: Author, given: NewBlock) {
  await tx
    .insert(blocks)
    .values({ ...author, ...given })
    .onConflictDoNothing({ target: [blocks.groupId, blocks.id] })
}

export async function saveSite(tx: Tx, author: Author, given: NewSite) {
  await tx
    .insert(sites)
    .values({ ...author, ...given })
    .onConflictDoNothing({ target: [sites.groupId, sites.id] })
}

interface NewMethod {
  readonly id: string
  readonly name: string
  readonly workingRules: string
  readonly establishingSeasons: number | null
}

export async function saveMethod(tx: Tx, author: Author, given: NewMethod) {
  const position = (await methodsOf(tx, author.groupId)).length
  await tx
    .insert(methods)
    .values({ ...author, ...given, position, colourIndex: position })
    .onConflictDoNothing({ target: [methods.groupId, methods.id] })
}

interface NewGarden {
  readonly id: string
  readonly siteId: string
  readonly name: string
  readonly grossAreaCm2: number
  readonly groundBefore: string | null
  readonly exposure: string | null
  readonly soil: string | null
}

export async function saveGarden(tx: Tx, author: Author, given: NewGarden) {
  const position = (await gardensOf(tx, author.groupId)).length
  await tx
    .insert(gardens)
    .values({ ...author, ...given, position })
    .onConflictDoNothing({ target: [gardens.groupId, gardens.id] })
}

interface NewBeds {
  readonly id: string
  readonly gardenId: string
  readonly count: number
  readonly areaCm2: number
  readonly name: string
  /** Null where they were there from the first. */
  readonly thereSince: IsoDate | null
}

/** Numbered on from the beds that are there. The first carries the form's id: a form sent twice adds nothing. */
export async function saveBeds(tx: Tx, author: Author, given: NewBeds) {
  await tx
    .select()
    .from(gardens)
    .where(and(eq(gardens.groupId, author.groupId), eq(gardens.id, given.gardenId)))
    .for('update')
  const there = await tx
    .select()
    .from(beds)
    .where(and(eq(beds.groupId, author.groupId), eq(beds.gardenId, given.gardenId)))
  if (there.some((bed) => bed.id === given.id)) return
  await tx.insert(beds).values(
    Array.from({ length: given.count }, (_, i) => ({
      ...author,
      id: i === 0 ? given.id : newId(),
      gardenId: given.gardenId,
      name: `${given.name} ${there.length + i + 1}`,
      areaCm2: given.areaCm2,
      thereSince: given.thereSince,
      position: there.length + i,
    })),
  )
}
