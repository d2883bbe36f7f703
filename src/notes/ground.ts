interface Ground {
  readonly gardens: readonly { id: string; name: string }[]
  readonly beds: readonly { id: string; gardenId: string; name: string }[]
}

/** A garden or a bed that something is written down for. */
export interface NotePlace {
  /** "garden:<id>" or "bed:<id>" */
  readonly value: string
  readonly gardenId: string
  readonly bedId: string | null
  readonly garden: string
  readonly bed: string
}

/** Each garden whole, then its beds. */
export const notePlaces = ({ gardens, beds }: Ground): NotePlace[] =>
  gardens.flatMap(({ id, name }) => [
    { value: `garden:${id}`, gardenId: id, bedId: null, garden: name, bed: '' },
    ...beds
      .filter((bed) => bed.gardenId === id)
      .map((bed) => ({ value: `bed:${bed.id}`, gardenId: id, bedId: bed.id, garden: name, bed: bed.name })),
  ])

export const placeOf = (places: readonly NotePlace[], at: { gardenId: string; bedId: string | null }) =>
  places.find((place) => place.gardenId === at.gardenId && place.bedId === at.bedId)
