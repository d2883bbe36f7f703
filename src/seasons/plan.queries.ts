import type { Tx } from '../db/database.ts'
import { idOf } from '../db/new-id.ts'
import { type Author, bedsOf, gardensOf } from '../gardens/gardens.queries.ts'
import { addDays, type IsoDate } from '../quantities/dates.ts'
import { endOf } from './bed-course.ts'
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
  readonly days: readonly string[]
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
      ...{ ...given, ...usual, id: i === 0 ? id : idOf(id, `sowing ${i}`), setName: setName(i + 1) },
      standsUntil: standsDays === null ? null : addDays(day as IsoDate, standsDays),
      ...(given.how === 'transplanted' ? { sownOn: null, plantedOn: day } : { sownOn: day, plantedOn: null }),
    })
  }
}

interface Carried {
  readonly id: string
  readonly seasonId: string
  readonly days: number
  readonly lines: readonly { readonly plantingId: string; readonly bedId: string }[]
}

/** Plantings of another season once more, moved by some days; what was a matched set is one again where two or more of it go. */
export async function carryOver(tx: Tx, author: Author, { id, seasonId, days, lines }: Carried): Promise<void> {
  const bedOf = new Map(lines.map((line) => [line.plantingId, line.bedId]))
  const taken = (await plantingsOf(tx, author.groupId)).filter((one) => bedOf.has(one.id))
  const moved = (day: string | null) => (day === null ? null : addDays(day as IsoDate, days))
  const together = (setId: string) => taken.filter((one) => one.matchedSetId === setId).length > 1
  const sets = (await matchedSetsOf(tx, author.groupId)).filter((set) => together(set.id))
  if (sets.length > 0) {
    const values = sets.map(({ id: from, name, cultivarId, windowFrom, windowTo }) => ({
      ...{ ...author, id: idOf(id, from), seasonId, name, cultivarId },
      ...{ windowFrom: moved(windowFrom), windowTo: moved(windowTo) },
    }))
    await tx
      .insert(matchedSets)
      .values(values)
      .onConflictDoNothing({ target: [matchedSets.groupId, matchedSets.id] })
  }
  await tx
    .insert(plantings)
    .values(
      taken.map((one) => ({
        ...{ ...author, id: idOf(id, one.id), seasonId, bedId: bedOf.get(one.id) ?? '' },
        ...{ cultivarId: one.cultivarId, areaCm2: one.areaCm2, plants: one.plants, purpose: one.purpose },
        ...{ how: one.how, sownOn: moved(one.sownOn), plantedOn: moved(one.plantedOn), standsUntil: moved(endOf(one)) },
        ...{ interplanted: one.interplanted, spacing: one.spacing },
        matchedSetId: sets.some((set) => set.id === one.matchedSetId) ? idOf(id, one.matchedSetId ?? '') : null,
      })),
    )
    .onConflictDoNothing({ target: [plantings.groupId, plantings.id] })
}
