import { type AreaFrom, areaOn } from '../gardens/areas-held.ts'
import { linked } from '../lookups/unsaid.ts'

export interface Place {
  readonly kind: 'garden' | 'bed' | 'planting'
  readonly id: string
  readonly gardenId: string
  readonly gardenName: string
  readonly bedName: string | null
  /** What the planting is called, for one. */
  readonly plantingName: string | null
  readonly bedIds: readonly string[]
  /** Of each of its beds, or of the planting alone, with the days from which they hold. */
  readonly grounds: readonly (readonly AreaFrom[])[]
}

/** The area of a place on a day, in cm2; 0 where none of it was there. */
export const areaOfPlace = ({ grounds }: Pick<Place, 'grounds'>, day: string): number =>
  grounds.reduce((sum, areas) => sum + areaOn(areas, day), 0)

/** "garden:<id>", as a form names a place. */
export const placeKey = ({ kind, id }: Pick<Place, 'kind' | 'id'>) => `${kind}:${id}`

export function placeNamed(places: readonly Place[], key: string): Place | undefined {
  return places.find((place) => placeKey(place) === key)
}

interface At {
  readonly gardenId: string | null
  readonly bedId: string | null
  readonly plantingId: string | null
}

/** The place of a row that names a garden, a bed or a planting. */
export function placeOfRow(places: readonly Place[], row: At): Place | null {
  const known = indexes.get(places) ?? new Map(places.map((place) => [place.id, place]))
  indexes.set(places, known)
  return linked(known, row.gardenId ?? row.bedId ?? row.plantingId) ?? null
}

/** A page asks for the place of every spreading: the index of its places is made once. */
const indexes = new WeakMap<readonly Place[], ReadonlyMap<string, Place>>()
