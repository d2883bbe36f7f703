/**
 * The rows of a list that hold a value in a column, in their order. Sorted out once for each list and column: a page
 * asks for the rows of one season many times, and a search through all of them each time is what its time went into.
 */
export function rowsWith<T extends object, K extends keyof T>(
  list: readonly T[],
  column: K,
  value: T[K],
): readonly T[] {
  const columns: Map<PropertyKey, ReadonlyMap<unknown, readonly object[]>> = sorted.get(list) ?? new Map()
  sorted.set(list, columns)
  const groups = columns.get(column) ?? groupsBy(list, column)
  columns.set(column, groups)
  return (groups.get(value) as readonly T[] | undefined) ?? none
}

/** The first of them. */
export const rowWith = <T extends object, K extends keyof T>(list: readonly T[], column: K, value: T[K]) =>
  rowsWith(list, column, value)[0]

const none: readonly never[] = []
const sorted = new WeakMap<readonly object[], Map<PropertyKey, ReadonlyMap<unknown, readonly object[]>>>()

function groupsBy<T extends object, K extends keyof T>(
  list: readonly T[],
  column: K,
): ReadonlyMap<unknown, readonly T[]> {
  const groups = new Map<unknown, T[]>()
  for (const row of list) {
    const group = groups.get(row[column])
    if (group) group.push(row)
    else groups.set(row[column], [row])
  }
  return groups
}
