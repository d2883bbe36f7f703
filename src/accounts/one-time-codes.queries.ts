import { createHmac, randomBytes } from 'node:crypto'
import { lastOf } from '../lookups/nth.ts'

/** RFC 4648, base 32. */
const letters = 'ABCDEFGHIJKLMNOPQRSTUVWXYZ234567'
const stepMs = 30_000

export const stepAt = (now: Date): number => Math.floor(now.getTime() / stepMs)

/** 160 random bits, as RFC 4226 advises. */
export const newSecret = (): string => toBase32(randomBytes(20))

/**
 * The six digits of a step of time: RFC 6238 with HMAC-SHA-1 and steps of 30 s, as programs of codes take it for
 * granted.
 */
export function codeAt(secret: string, step: number): string {
  const counter = Buffer.alloc(8)
  counter.writeBigUInt64BE(BigInt(step))
  const mac = createHmac('sha1', fromBase32(secret)).update(counter).digest()
  const number = mac.readUInt32BE(lastOf([...mac]) & 15) & 0x7fffffff
  return String(number % 1_000_000).padStart(6, '0')
}

/** The step, of the one before, this one and the next, whose code was typed: clocks are not quite alike. */
export function stepOf(secret: string, typed: string, now: Date): number | null {
  const here = stepAt(now)
  return [here - 1, here, here + 1].find((step) => codeAt(secret, step) === typed) ?? null
}

/** 120 random bits in six groups: so many that a plain hash keeps them. */
export const newRecoveryCode = (): string =>
  toBase32(randomBytes(15))
    .toLowerCase()
    .replace(/.{4}(?=.)/g, '$&-')

/** What was typed without blanks and dashes. */
export const codeTyped = (typed: string): string => typed.replace(/[\s-]/g, '').toLowerCase()

export function toBase32(bytes: Uint8Array): string {
  const bits = [...bytes].map((byte) => byte.toString(2).padStart(8, '0')).join('')
  return (bits.match(/.{1,5}/g) ?? []).map((five) => letters[Number.parseInt(five.padEnd(5, '0'), 2)]).join('')
}

function fromBase32(text: string): Buffer {
  const bits = [...text].map((letter) => letters.indexOf(letter).toString(2).padStart(5, '0')).join('')
  return Buffer.from((bits.match(/.{8}/g) ?? []).map((eight) => Number.parseInt(eight, 2)))
}
