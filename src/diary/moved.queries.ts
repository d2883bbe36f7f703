import type { Tx } from '../db/database.ts'
import { bedsOf, gardensOf } from '../gardens/gardens.queries.ts'
import type { IsoDate } from '../quantities/dates.ts'
import { type IsoWeek, thursdayOf, weekOf } from '../quantities/iso-week.ts'
import { namesOfPlantings } from '../seasons/planting-names.queries.ts'
import { type PlantingRow, plantingsOf, seasonsOf } from '../seasons/seasons.queries.ts'
import { closingsHeld, gardensTouched, sharesOf } from './week.queries.ts'
import { seasonOfDay, standingRefused } from './week-rules.ts'

interface Choice {
  readonly value: string
  readonly label: string
}

/** Where an entry may be moved to: the plantings of its season, and for hours any garden and bed. */
export async function placesToMoveTo(tx: Tx, groupId: string, seasonId: string) {
  const [gardens, beds] = [await gardensOf(tx, groupId), await bedsOf(tx, groupId)]
  const names = await namesOfPlantings(tx, groupId)
  const garden = (id: string) => gardens.find((one) => one.id === id)?.name ?? ''
  const plantings = (await plantingsOf(tx, groupId)).filter((one) => one.seasonId === seasonId)
  const bed = (id: string) => beds.find((one) => one.id === id)
  return {
    plantings: plantings.map((one): Choice => {
      const at = bed(one.bedId)
      return { value: one.id, label: `${names.get(one.id)} · ${garden(at?.gardenId ?? '')}, ${at?.name ?? ''}` }
    }),
    ground: [
      ...gardens.map((one): Choice => ({ value: `garden:${one.id}`, label: one.name })),
      ...beds.map((one): Choice => ({ value: `bed:${one.id}`, label: `${garden(one.gardenId)}, ${one.name}` })),
    ],
  }
}

export async function plantingNamed(tx: Tx, groupId: string, id: string): Promise<PlantingRow | undefined> {
  return (await plantingsOf(tx, groupId)).find((one) => one.id === id)
}

/** The garden of a place such as "bed:<id>"; undefined where there is none of that name in the group. */
export async function gardenAt(tx: Tx, groupId: string, place: string): Promise<string | undefined> {
  const [kind, id] = place.split(':')
  if (kind === 'garden') return (await gardensOf(tx, groupId)).find((one) => one.id === id)?.id
  const bedId = kind === 'planting' ? (await plantingNamed(tx, groupId, id ?? ''))?.bedId : id
  return (await bedsOf(tx, groupId)).find((one) => one.id === bedId)?.gardenId
}

/** Whether that garden's week is closed: nothing is moved into it or out of it before it is open again. */
export async function weekClosed(tx: Tx, groupId: string, at: { isoWeek: string; gardenId: string; what: string }) {
  const closings = await closingsHeld(tx, groupId, at.isoWeek)
  return closings.some((one) => one.gardenId === at.gardenId && one.what === at.what)
}

/** Whether that week is closed for any of the gardens that an entry touches, those of its shares among them. */
export async function closedForEntry(
  tx: Tx,
  groupId: string,
  entry: { kind: 'labour' | 'harvests'; id: string; isoWeek: string },
): Promise<boolean> {
  const touched = await gardensTouched(tx, groupId, entry.kind, entry.id)
  const what = entry.kind === 'labour' ? 'hours' : 'weights'
  return (await closingsHeld(tx, groupId, entry.isoWeek)).some(
    (closing) => closing.what === what && touched.includes(closing.gardenId),
  )
}

/** Whether a crate from several plantings could be picked on that day from each of them. */
export async function crateStandingRefused(tx: Tx, groupId: string, harvestId: string, day: string) {
  const from = new Set((await sharesOf(tx, groupId, harvestId)).map((share) => share.plantingId))
  const plantings = (await plantingsOf(tx, groupId)).filter((one) => from.has(one.id))
  return plantings.map((one) => standingRefused(one, day)).find(Boolean)
}

/** The week and season of a day; where the day is not known, those that stood. */
export async function whenOf(
  tx: Tx,
  groupId: string,
  day: string | null,
  stood: { isoWeek: string; seasonId: string },
) {
  if (day === null) return stood
  const isoWeek = weekOf(day as IsoDate)
  const season = seasonOfDay(await seasonsOf(tx, groupId), day ?? thursdayOf(isoWeek as IsoWeek))
  return { isoWeek, seasonId: season?.id ?? stood.seasonId }
}
