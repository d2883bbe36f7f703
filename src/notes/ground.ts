import type { AreaFrom } from '../gardens/areas-held.ts'

interface Ground {
  readonly gardens: readonly { id: string; name: string }[]
  readonly beds: readonly { id: string; gardenId: string; name: string; areas: readonly AreaFrom[] }[]
}

/** A garden or a bed that something is written down for. */
export interface NotePlace {
  /** "garden:<id>" or "bed:<id>" */
  readonly value: string
  readonly gardenId: string
  readonly bedId: string | null
  /** Of a bed: its areas with the days from which they hold. */
  readonly areas: readonly AreaFrom[]
  readonly garden: string
  readonly bed: string
}

/** Each garden whole, then its beds. */
export const notePlaces = ({ gardens, beds }: Ground): NotePlace[] =>
  gardens.flatMap(({ id, name }) => [
    { value: `garden:${id}`, gardenId: id, bedId: null, areas: [], garden: name, bed: '' },
    ...beds
      .filter((bed) => bed.gardenId === id)
      .map((bed) => ({
        value: `bed:${bed.id}`,
        gardenId: id,
        bedId: bed.id,
        areas: bed.areas,
        garden: name,
        bed: bed.name,
      })),
  ])

export const notePlace = (places: readonly NotePlace[], at: { gardenId: string; bedId: string | null }) =>
  places.find((place) => place.gardenId === at.gardenId && place.bedId === at.bedId)
