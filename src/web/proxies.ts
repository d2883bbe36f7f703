import { isIP } from 'node:net'

/** How many proxies stand before the service, or the addresses and networks they have. */
export type ProxiesTrusted = number | readonly string[] | 'none'

/** Reads "no", a number of hops, or addresses parted by commas; null where it is none of them. */
export function proxiesIn(written: string): ProxiesTrusted | null {
  if (written === 'no') return 'none'
  if (/^[1-9]$/.test(written)) return Number(written)
  const addresses = written.split(',').map((one) => one.trim())
  return addresses.every(isAddress) ? addresses : null
}

function isAddress(text: string): boolean {
  const [address = '', length, ...more] = text.split('/')
  const bits = { 0: -1, 4: 32, 6: 128 }[isIP(address)] ?? -1
  return more.length === 0 && bits > 0 && (length === undefined || (/^\d{1,3}$/.test(length) && Number(length) <= bits))
}

/**
 * As fastify takes it: whether what a peer says of those behind it counts. Of a number, the peers up to that many are
 * believed; whoever can reach the service past the proxies could then say what they like, so that addresses are safer.
 */
export function trusting(proxies: ProxiesTrusted): false | string[] | ((address: string, hop: number) => boolean) {
  if (proxies === 'none') return false
  return typeof proxies === 'number' ? (_address, hop) => hop < proxies : [...proxies]
}
