import { and, eq, inArray, isNull, max, sql } from 'drizzle-orm'
import type { Tx } from '../db/database.ts'
import { labourEntries, labourShares } from '../diary/diary.table.ts'
import { pickedTooSoonIn } from '../diary/manure.queries.ts'
import { areaOver, lyingOver, sumOfAreas } from '../gardens/areas-held.ts'
import { bedsOf, gardensOf, methodsOf, sitesOf } from '../gardens/gardens.queries.ts'
import type { PickedTooSoon } from '../inputs/manure-interval.ts'
import { linked, linkOf, nameIfAny, textIn } from '../lookups/unsaid.ts'
import { assignmentsOf, plantingsOf, seasonsOf } from '../seasons/seasons.queries.ts'
import type { GardenTold, MethodTold, Told, TooSoonTold } from './told.ts'

/** What is told of the gardens, with their ground as it lay in the last of these seasons. */
export async function gardensTold(tx: Tx, groupId: string, seasonIds: readonly string[]): Promise<Told> {
  const assignments = (await assignmentsOf(tx, groupId)).filter((one) => seasonIds.includes(one.seasonId))
  const [sites, beds] = [await sitesOf(tx, groupId), await bedsOf(tx, groupId)]
  const methods = await methodsOf(tx, groupId)
  const last = (await seasonsOf(tx, groupId)).findLast((one) => seasonIds.includes(one.id))
  const working = await workersOf(tx, groupId, seasonIds)
  const gardens = (await gardensOf(tx, groupId)).flatMap((garden): GardenTold[] => {
    const own = assignments.filter((one) => one.gardenId === garden.id)
    if (own.length === 0 || !last) return []
    const site = sites.find((one) => one.id === garden.siteId)
    const ownBeds = lyingOver(beds, last).filter((bed) => bed.gardenId === garden.id)
    const here = working.get(garden.id)
    return [
      {
        garden: garden.name,
        site: nameIfAny(site),
        grossAreaCm2: areaOver(garden.areas, last),
        beds: ownBeds.length,
        bedAreaCm2: sumOfAreas(ownBeds),
        methods: methods.filter(({ id }) => own.some((one) => one.methodId === id)).map((one) => one.name),
        groundBefore: garden.groundBefore,
        exposure: garden.exposure ?? site?.exposure ?? null,
        soil: garden.soil ?? site?.soil ?? null,
        // A garden nobody wrote for had no writers.
        writers: here?.writers.size ?? 0,
        // The same.
        mostAtOnce: here?.mostAtOnce ?? 0,
      },
    ]
  })
  return {
    gardens,
    tooSoon: await tooSoonTold(tx, groupId, seasonIds),
    methods: methods.flatMap((method): MethodTold[] => {
      const own = new Set(assignments.filter((one) => one.methodId === method.id).map((one) => one.seasonId))
      return own.size === 0 ? [] : [{ method: method.name, workingRules: method.workingRules, seasons: own.size }]
    }),
  }
}

async function tooSoonTold(tx: Tx, groupId: string, seasonIds: readonly string[]): Promise<TooSoonTold[]> {
  const soonest = new Map<string, PickedTooSoon>()
  for (const one of await pickedTooSoonIn(tx, groupId, { seasonIds })) {
    if ((soonest.get(one.plantingId)?.waited ?? Infinity) > one.waited) soonest.set(one.plantingId, one)
  }
  if (soonest.size === 0) return []
  const gardens = new Map((await gardensOf(tx, groupId)).map((garden) => [garden.id, garden.name]))
  const beds = new Map((await bedsOf(tx, groupId)).map((bed) => [bed.id, textIn(gardens, bed.gardenId)]))
  return (await plantingsOf(tx, groupId)).flatMap((planting): TooSoonTold[] => {
    const picked = soonest.get(planting.id)
    if (!picked) return []
    const { input, harvestedOn, waited, days, touchesSoil } = picked
    const where = { planting: `${planting.crop}, ${planting.cultivar}`, garden: textIn(beds, planting.bedId) }
    return [{ ...where, input, pickedOn: harvestedOn, waited, days, notKnown: touchesSoil === null }]
  })
}

interface Workers {
  readonly writers: Set<string>
  mostAtOnce: number
}

async function workersOf(tx: Tx, groupId: string, seasonIds: readonly string[]): Promise<Map<string, Workers>> {
  const { gardenId, bedId, plantingId, createdBy, people } = labourEntries
  // A row for whoever wrote at a place, however often; divided entries stay apart, since each has its shares.
  const dividedId = sql<string | null>`case when ${labourEntries.shareRule} is not null then ${labourEntries.id} end`
  const entries = await tx
    .select({ gardenId, bedId, plantingId, createdBy, dividedId, people: max(people) })
    .from(labourEntries)
    .where(
      and(
        eq(labourEntries.groupId, groupId),
        inArray(labourEntries.seasonId, [...seasonIds]),
        isNull(labourEntries.removedAt),
      ),
    )
    .groupBy(gardenId, bedId, plantingId, createdBy, dividedId)
  const gardensOfEntry = await placesOf(tx, groupId, entries)
  const working = new Map<string, Workers>()
  for (const entry of entries) {
    for (const gardenId of gardensOfEntry(entry)) {
      const here = working.get(gardenId) ?? { writers: new Set(), mostAtOnce: 0 }
      if (entry.createdBy) here.writers.add(entry.createdBy)
      // Of no rows there is no group.
      here.mostAtOnce = Math.max(here.mostAtOnce, entry.people ?? 0)
      working.set(gardenId, here)
    }
  }
  return working
}

type Entry = Pick<typeof labourEntries.$inferSelect, 'gardenId' | 'bedId' | 'plantingId'> & {
  readonly dividedId: string | null
}

/** The gardens in which an entry was worked: its own, its bed's, its planting's, or all that share it. */
async function placesOf(
  tx: Tx,
  groupId: string,
  entries: readonly Entry[],
): Promise<(entry: Entry) => readonly string[]> {
  const gardenOfBed = new Map((await bedsOf(tx, groupId)).map((bed) => [bed.id, bed.gardenId]))
  // Of ten years all plantings are many, and hours are seldom written for one.
  const forOne = entries.some((one) => one.plantingId !== null)
  const bedOfPlanting = new Map(forOne ? (await plantingsOf(tx, groupId)).map((one) => [one.id, one.bedId]) : [])
  const sharing = and(eq(labourShares.groupId, groupId), isNull(labourShares.removedAt))
  const shares = await tx.select().from(labourShares).where(sharing)
  return (entry) => {
    if (entry.dividedId !== null)
      return shares.filter((one) => one.labourEntryId === entry.dividedId).map((one) => one.gardenId)
    const bedId = linkOf(entry.bedId ?? linked(bedOfPlanting, entry.plantingId))
    const gardenId = entry.gardenId ?? gardenOfBed.get(bedId)
    return gardenId ? [gardenId] : []
  }
}
