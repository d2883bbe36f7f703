import { createHmac, timingSafeEqual } from 'node:crypto'
import { sent } from '../lookups/unsaid.ts'

/** How long a right passphrase opens its report. */
export const passMinutes = 120

interface Locked {
  readonly id: string
  /** The stored hash of the passphrase, which nobody outside knows: a new passphrase ends the passes of the old one. */
  readonly key: string
}

/** What a guest's browser keeps after the right passphrase: until when, signed for this one link. */
export function passFor(link: Locked, now: number): string {
  const until = now + passMinutes * 60_000
  return `${until}.${signed(link, until)}`
}

export function passIsGood(pass: string | undefined, link: Locked, now: number): boolean {
  const [until = '', signature = ''] = sent(pass).split('.')
  if (!/^\d{1,15}$/.test(until) || Number(until) < now) return false
  const [given, right] = [Buffer.from(signature), Buffer.from(signed(link, Number(until)))]
  return given.length === right.length && timingSafeEqual(given, right)
}

const signed = ({ id, key }: Locked, until: number) =>
  createHmac('sha256', key).update(`${id} ${until}`).digest('base64url')
