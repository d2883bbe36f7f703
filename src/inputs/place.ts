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

interface At {
  readonly gardenId: string | null
  readonly bedId: string | null
  readonly plantingId: string | null
}

/** The place of a row that names a garden, a bed or a planting. */
export const placeOf = (places: readonly Place[], row: At): Place | null =>
  places.find((place) => place.id === (row.gardenId ?? row.bedId ?? row.plantingId)) ?? null
