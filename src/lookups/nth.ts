/** What stands at a place of a list; a place beyond its end is a slip of whoever asks, and not an unknown. */
export function nth<T>(list: readonly T[], place: number): T {
  const found = list[place]
  if (found === undefined) throw noSuchPlace(place, list.length)
  return found
}

export const firstOf = <T>(list: readonly T[]): T => nth(list, 0)

export const lastOf = <T>(list: readonly T[]): T => nth(list, list.length - 1)

/** The same for a column of numbers: a function of its own, since the inner loops of the models are made of it. */
export function entry(column: Float64Array, place: number): number {
  return column[place] ?? noEntry(place, column.length)
}

function noEntry(place: number, length: number): never {
  throw noSuchPlace(place, length)
}

const noSuchPlace = (place: number, length: number) => new RangeError(`There is no place ${place} among ${length}.`)
