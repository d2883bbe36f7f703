/**
 * A whole number below 2^48 from any words, the same on every machine: FNV-1a on UTF-16 units, 64 bits (Fowler, Noll
 * and Vo), folded.
 */
export function seedOf(words: string): number {
  let hash = 0xcbf29ce484222325n
  for (let i = 0; i < words.length; i++) {
    hash = ((hash ^ BigInt(words.charCodeAt(i))) * 0x100000001b3n) & ((1n << 64n) - 1n)
  }
  return Number((hash ^ (hash >> 48n)) & ((1n << 48n) - 1n))
}
