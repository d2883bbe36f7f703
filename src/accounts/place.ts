import { firstOf } from '../lookups/nth.ts'
/**
 * Where tries come from: an address of IPv4, or the first 64 bits of one of IPv6, which one household has to itself.
 */
export function placeOf(address: string): string {
  const mapped = /^::ffff:(\d+\.\d+\.\d+\.\d+)$/i.exec(address)?.[1]
  if (mapped || !address.includes(':')) return mapped ?? address
  const [head = '', tail] = firstOf(address.split('%')).split('::')
  const parts = (text: string | undefined) => (text ? text.split(':') : [])
  const [first, last] = [parts(head), parts(tail)]
  const zeros = tail === undefined ? [] : Array.from({ length: Math.max(0, 8 - first.length - last.length) }, () => '0')
  const groups = [...first, ...zeros, ...last].slice(0, 4)
  return `${groups.map((group) => Number.parseInt(group, 16).toString(16)).join(':')}::/64`
}
