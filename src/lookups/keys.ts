type KeyOf<T> = keyof T & string

/** The keys of a record whose type names them all, in their order: `Object.keys` gives texts alone. */
export const keysOf = <T extends object>(record: T): KeyOf<T>[] => Object.keys(record) as KeyOf<T>[]

/** A value for each key: `Object.fromEntries` forgets which they were. */
export const recordOf = <K extends string, V>(keys: readonly K[], valueAt: (key: K, place: number) => V) =>
  Object.fromEntries(keys.map((key, place) => [key, valueAt(key, place)])) as Record<K, V>

/** Whether a text is one of these names. */
export const isOneOf = <T extends string>(names: readonly T[], text: unknown): text is T =>
  names.some((name) => name === text)
