export interface Place {
  readonly kind: 'garden' | 'bed' | 'planting'
  readonly id: string
  readonly gardenName: string
  readonly bedName: string | null
  /** Crop and cultivar, for a planting. */
  readonly plantingName: string | null
  readonly bedIds: readonly string[]
  readonly areaCm2: number
}

/** "garden:<id>", as a form names a place. */
export const keyOf = ({ kind, id }: Pick<Place, 'kind' | 'id'>) => `${kind}:${id}`

export function placeNamed(places: readonly Place[], key: string): Place | undefined {
  return places.find((place) => keyOf(place) === key)
}

interface At {
  readonly gardenId: string | null
  readonly bedId: string | null
  readonly plantingId: string | null
}

/** The place of a row that names a garden, a bed or a planting. */
export const placeOf = (places: readonly Place[], row: At): Place | null =>
  places.find((place) => place.id === (row.gardenId ?? row.bedId ?? row.plantingId)) ?? null
