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
