/** JSON with sorted keys: the same contents give the same text, whatever order the database hands the keys back in. */
export function canonicalJson(value: unknown): string {
  if (Array.isArray(value)) return `[${value.map(canonicalJson).join(',')}]`
  if (value === null || typeof value !== 'object') return JSON.stringify(value) ?? 'null'
  const entries = Object.entries(value).filter(([, inner]) => inner !== undefined)
  const sorted = entries.sort(([a], [b]) => (a < b ? -1 : 1))
  return `{${sorted.map(([key, inner]) => `${JSON.stringify(key)}:${canonicalJson(inner)}`).join(',')}}`
}
