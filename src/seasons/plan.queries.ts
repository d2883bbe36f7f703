import { and, eq, inArray } from 'drizzle-orm'
import type { Tx } from '../db/database.ts'
import { idOf } from '../db/new-id.ts'
import { type Author, bedsOf, gardensOf } from '../gardens/gardens.queries.ts'
import { addDays, daysBetween, type IsoDate } from '../quantities/dates.ts'
import { endOf, inBedFrom } from './bed-course.ts'
import { cropsOf, matchedSetsOf, plantingsOf, savePlantings, seasonsOf } from './seasons.queries.ts'
import { matchedSets, plantings } from './seasons.table.ts'

/** All that the plan of a season is read from. */
export async function planRowsOf(tx: Tx, groupId: string) {
  return {
    seasons: await seasonsOf(tx, groupId),
    gardens: await gardensOf(tx, groupId),
    beds: await bedsOf(tx, groupId),
    crops: await cropsOf(tx, groupId),
    plantings: await plantingsOf(tx, groupId),
  }
}

interface Sowings {
  readonly id: string
  readonly seasonId: string
  readonly cropId: string
  readonly cultivar: string
  readonly bedIds: readonly string[]
  readonly areaCm2: number
  readonly how: string
  readonly days: readonly IsoDate[]
  /** How many days each is meant to stand, where that is said. */
  readonly standsDays: number | null
  readonly spacing: string | null
  readonly purpose: string
  readonly seedLot: string | null
  readonly setName: (sowing: number) => string
}

/** One cultivar several times; for harvest, each time a matched set of its own. */
export async function saveSowings(
  tx: Tx,
  author: Author,
  { id, days, standsDays, setName, ...given }: Sowings,
): Promise<void> {
  const usual = { plants: null, interplanted: 0 }
  for (const [i, day] of days.entries()) {
    await savePlantings(tx, author, {
      ...given,
      ...usual,
      id: i === 0 ? id : idOf(id, `sowing ${i}`),
      setName: setName(i + 1),
      standsUntil: standsDays === null ? null : addDays(day, standsDays),
      ...(given.how === 'transplanted' ? { sownOn: null, plantedOn: day } : { sownOn: day, plantedOn: null }),
    })
  }
}

interface Carried {
  readonly seasonId: string
  readonly lines: readonly { readonly plantingId: string; readonly bedId: string; readonly day: IsoDate }[]
}

/** How often one planting can be carried into one season and removed again. */
const mostTimes = 20

/** The ids that a planting has once it is carried into a season, the first time and after each removal. */
const idsCarried = (seasonId: string, from: string) =>
  Array.from({ length: mostTimes }, (_, time) => idOf(seasonId, from, time))

/**
 * Of plantings that were carried into a season, by their ids, the ones they came from, whether they stand or were
 * removed.
 */
export function carriedFrom(seasonId: string, plantingIds: readonly string[]): ReadonlyMap<string, string> {
  return new Map(plantingIds.flatMap((from) => idsCarried(seasonId, from).map((id) => [id, from] as const)))
}

/**
 * Plantings of another season once more, each on its day and in its bed, and none that stands here already. What was a
 * matched set is one again where two or more of it are here, whether they come together or one after the other.
 */
export async function carryOver(tx: Tx, author: Author, { seasonId, lines }: Carried): Promise<void> {
  const { groupId } = author
  const lineOf = new Map(lines.map((line) => [line.plantingId, line]))
  const there = await plantingsOf(tx, groupId)
  const known = await idsEver(tx, groupId, seasonId)
  const standing = new Set(there.map((one) => one.id))
  const fresh = there.flatMap((one) => {
    const line = lineOf.get(one.id)
    const ids = idsCarried(seasonId, one.id)
    const id = ids.find((candidate) => !known.has(candidate))
    if (!line || !id || ids.some((candidate) => standing.has(candidate))) return []
    const days = daysBetween(inBedFrom(one), line.day)
    const moved = (day: IsoDate | null) => (day === null ? null : addDays(day, days))
    return [
      {
        ...author,
        id,
        seasonId,
        bedId: line.bedId,
        cultivarId: one.cultivarId,
        areaCm2: one.areaCm2,
        plants: one.plants,
        purpose: one.purpose,
        how: one.how,
        interplanted: one.interplanted,
        sownOn: moved(one.sownOn),
        plantedOn: moved(one.plantedOn),
        standsUntil: moved(endOf(one)),
        spacing: one.spacing,
      },
    ]
  })
  if (fresh.length > 0) await tx.insert(plantings).values(fresh)
  await setsAgain(tx, author, { seasonId, from: [...lineOf.keys()] })
}

async function idsEver(tx: Tx, groupId: string, seasonId: string): Promise<ReadonlySet<string>> {
  const rows = await tx
    .select({ id: plantings.id })
    .from(plantings)
    .where(and(eq(plantings.groupId, groupId), eq(plantings.seasonId, seasonId)))
  return new Set(rows.map((row) => row.id))
}

/** The sets of the plantings that these came from, of those that are here and in no other set, where two are. */
async function setsAgain(tx: Tx, author: Author, { seasonId, from }: { seasonId: string; from: readonly string[] }) {
  const { groupId } = author
  const all = await plantingsOf(tx, groupId)
  const touched = new Set(all.filter((one) => from.includes(one.id)).map((one) => one.matchedSetId))
  for (const set of await matchedSetsOf(tx, groupId)) {
    if (!touched.has(set.id)) continue
    const members = all.filter((one) => one.matchedSetId === set.id).map((one) => one.id)
    const came = carriedFrom(seasonId, members)
    const id = idOf(seasonId, set.id)
    const here = all.filter((one) => came.has(one.id) && one.cultivarId === set.cultivarId)
    const own = here.filter((one) => one.matchedSetId === null || one.matchedSetId === id)
    if (own.length < 2) continue
    const days = own.flatMap((one) => one.sownOn ?? one.plantedOn ?? []).sort()
    const { name, cultivarId } = set
    const window = { windowFrom: days[0] ?? null, windowTo: days.at(-1) ?? null }
    await tx
      .insert(matchedSets)
      .values({ ...author, id, seasonId, name, cultivarId, ...window })
      .onConflictDoUpdate({ target: [matchedSets.groupId, matchedSets.id], set: window })
    const joining = own.filter((one) => one.matchedSetId === null).map((one) => one.id)
    if (joining.length === 0) continue
    await tx
      .update(plantings)
      .set({ matchedSetId: id })
      .where(and(eq(plantings.groupId, groupId), inArray(plantings.id, joining)))
  }
}
