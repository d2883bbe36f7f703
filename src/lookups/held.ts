/** What a map holds under a key that was put into it; a key that is not there is a slip of whoever asks. */
export function held<K, V>(map: ReadonlyMap<K, V>, key: K): V {
  const found = map.get(key)
  if (found === undefined) throw new RangeError(`Nothing is held under ${String(key)}.`)
  return found
}

/** The same for a record of which only its owner knows the keys. */
export function under<V>(record: Readonly<Record<string, V>>, key: string): V {
  const found = Object.hasOwn(record, key) ? record[key] : undefined
  if (found === undefined) throw new RangeError(`Nothing stands under ${key}.`)
  return found
}

/** The first of a list that is meant, where one must be. */
export function theOne<T>(list: readonly T[], isMeant: (one: T) => boolean): T {
  const found = list.find(isMeant)
  if (found === undefined) throw new RangeError(`None of ${list.length} is the one that is meant.`)
  return found
}
