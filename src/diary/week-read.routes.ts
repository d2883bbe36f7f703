import type { FastifyRequest } from 'fastify'
import type { Tx } from '../db/database.ts'
import { bedsOf, gardensOf, methodsOf } from '../gardens/gardens.queries.ts'
import { deliveriesOf, inputsOf } from '../inputs/deliveries.queries.ts'
import { manureWaitsOf } from '../inputs/manure.queries.ts'
import { textIn } from '../lookups/unsaid.ts'
import { type IsoWeek, thursdayOf, weekAfter } from '../quantities/iso-week.ts'
import { plantingsKept } from '../seasons/kept-plantings.queries.ts'
import { assignmentsOf, seasonsOf } from '../seasons/seasons.queries.ts'
import { totallyLost } from './first-picked.queries.ts'
import { knownIn } from './known.queries.ts'
import { stillToWeigh } from './lots.queries.ts'
import { pickedTooSoonIn } from './manure.queries.ts'
import { cratesOfWeek } from './picked.queries.ts'
import { gardensLabelled, sealedIn } from './sealed.queries.ts'
import { closingsOf, containersOf, entriesOfWeek, lastUsed } from './week.queries.ts'
import { seasonOfDay } from './week-rules.ts'
import { today } from './writing.routes.ts'

/** All that the sheet of a week is made from, on the screen and on paper; of one moment. */
export async function rowsOfSheet(tx: Tx, request: FastifyRequest, week: IsoWeek) {
  const { group, role } = request.member
  const seasons = await seasonsOf(tx, group.id)
  const plantings = await plantingsKept(tx, request)
  const written = async (of: IsoWeek) => {
    const { harvests, ...others } = countingIn(await entriesOfWeek(tx, group.id, of))
    const alone = harvests.filter((one) => one.plantingId !== null)
    return { ...others, harvests: [...alone, ...(await cratesOfWeek(tx, group.id, of, plantings))] }
  }
  return {
    gardens: await gardensOf(tx, group.id),
    beds: await bedsOf(tx, group.id),
    seasons,
    methodOf: await methodsIn(tx, group.id, seasonOfDay(seasons, thursdayOf(week))?.id),
    plantings,
    containers: await containersOf(tx, group.id),
    known: await knownIn(tx, group.id, { weeks: [week], today: today(request) }),
    ...(await written(week)),
    lastWeek: await written(weekAfter(week, -1)),
    closedBefore: new Set(
      (await closingsOf(tx, group.id, weekAfter(week, -1))).map((one) => `${one.what} ${one.gardenId}`),
    ),
    gone: await totallyLost(tx, group.id),
    stillToWeigh: await stillToWeigh(tx, group.id),
    sealedBefore: await sealedIn(tx, group.id, weekAfter(week, -1)),
    keeperCloses: role === 'keeper' ? new Set<string>() : await gardensLabelled(tx, group.id, week),
    waits: await manureWaitsOf(tx, group.id),
    tooSoon: await pickedTooSoonIn(tx, group.id, { isoWeek: week }),
    inputs: await inputsOf(tx, group.id),
    loads: await deliveriesOf(tx, group.id),
    lastUsed: await lastUsed(tx, group.id, week),
  }
}

/** What was weighed in a state that does not count stands in the list of the week, and in no sum of the sheet. */
const countingIn = (entries: Awaited<ReturnType<typeof entriesOfWeek>>) => ({
  ...entries,
  harvests: entries.harvests.filter((one) => one.counts === 1),
})

async function methodsIn(tx: Tx, groupId: string, seasonId: string | undefined) {
  const names = new Map((await methodsOf(tx, groupId)).map((one) => [one.id, one.name]))
  const lying = (await assignmentsOf(tx, groupId)).filter((one) => one.seasonId === seasonId)
  return new Map(
    lying.map(({ bedId, gardenId, methodId: id }) => [bedId ?? gardenId, { id, name: textIn(names, id) }] as const),
  )
}
