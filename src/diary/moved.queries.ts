import { rowOf } from '../db/amend.ts'
import type { Tx } from '../db/database.ts'
import { bedsOf, gardensOf } from '../gardens/gardens.queries.ts'
import { linkOf, nameIfAny } from '../lookups/unsaid.ts'
import type { IsoWeek } from '../quantities/iso-week.ts'
import { namesOfPlantings } from '../seasons/planting-names.queries.ts'
import { plantingsOf, seasonIsClosed, seasonsOf } from '../seasons/seasons.queries.ts'
import { plantings } from '../seasons/seasons.table.ts'
import { standsIn } from '../seasons/seasons-stood.ts'
import { closingsHeld, gardensTouched } from './week.queries.ts'

interface Choice {
  readonly value: string
  readonly label: string
}

/** Where an entry may be moved to: the plantings of its season, and for hours any garden and bed. */
export async function placesToMoveTo(tx: Tx, groupId: string, seasonId: string) {
  const [gardens, beds] = [await gardensOf(tx, groupId), await bedsOf(tx, groupId)]
  const names = await namesOfPlantings(tx, groupId)
  const garden = (id: string) => nameIfAny(gardens.find((one) => one.id === id))
  const seasons = await seasonsOf(tx, groupId)
  const plantings = (await plantingsOf(tx, groupId)).filter((one) => standsIn(one, seasonId, seasons))
  const bed = (id: string) => beds.find((one) => one.id === id)
  return {
    plantings: plantings.map((one): Choice => {
      const at = bed(one.bedId)
      return { value: one.id, label: `${names.get(one.id)} · ${garden(linkOf(at?.gardenId))}, ${nameIfAny(at)}` }
    }),
    ground: [
      ...gardens.map((one): Choice => ({ value: `garden:${one.id}`, label: one.name })),
      ...beds.map((one): Choice => ({ value: `bed:${one.id}`, label: `${garden(one.gardenId)}, ${one.name}` })),
    ],
  }
}

/** Any garden, bed or planting, as a field for hours names them. */
export const placesOfWork = ({ ground, plantings }: { ground: readonly Choice[]; plantings: readonly Choice[] }) => [
  ...ground,
  ...plantings.map(({ value, label }) => ({ value: `planting:${value}`, label })),
]

/** Whether that week is closed for any of the gardens that an entry touches, those of its shares among them. */
export async function closedForEntry(
  tx: Tx,
  groupId: string,
  entry: { kind: 'labour' | 'harvests'; id: string; isoWeek: IsoWeek },
): Promise<boolean> {
  const touched = await gardensTouched(tx, groupId, entry.kind, entry.id)
  const what = entry.kind === 'labour' ? 'hours' : 'weights'
  return (await closingsHeld(tx, groupId, entry.isoWeek)).some(
    (closing) => closing.what === what && touched.includes(closing.gardenId),
  )
}

/** Whether the season of what was lost is closed. */
export async function closedForLoss(tx: Tx, loss: { groupId: string; plantingId: string }): Promise<boolean> {
  const planting = await rowOf(tx, plantings, loss.groupId, loss.plantingId)
  return planting !== undefined && seasonIsClosed(tx, planting)
}
