import { hash, randomBytes } from 'node:crypto'

/** A UUID of version 7 (RFC 9562, section 5.7): milliseconds first, so that rows sort by when they were made. */
export function newId(now: number = Date.now()): string {
  const bytes = randomBytes(16)
  bytes.writeUIntBE(now, 0, 6)
  bytes.writeUInt8((bytes.readUInt8(6) & 0x0f) | 0x70, 6)
  bytes.writeUInt8((bytes.readUInt8(8) & 0x3f) | 0x80, 8)
  return grouped(bytes.toString('hex'))
}

/**
 * An id made from what it stands for, so that the same content is the same row however often it comes: a UUID of
 * version 8 (RFC 9562, section 5.8) over SHA-256.
 */
export function idOf(...content: readonly (string | number)[]): string {
  const bytes = hash('sha256', JSON.stringify(content), 'buffer')
  bytes.writeUInt8((bytes.readUInt8(6) & 0x0f) | 0x80, 6)
  bytes.writeUInt8((bytes.readUInt8(8) & 0x3f) | 0x80, 8)
  return grouped(bytes.toString('hex', 0, 16))
}

/**
 * The id of the row at a place (1 to 4095) of what was made under `id`: the same whenever it is asked for, so that a
 * form sent twice makes the same rows, and sorted behind `id` in the order of the places (a UUID of version 8, RFC
 * 9562, section 5.8).
 */
export function idAfter(id: string, place: number): string {
  const own = idOf(id, place)
  return `${id.slice(0, 13)}-8${place.toString(16).padStart(3, '0')}${own.slice(18)}`
}

const grouped = (hex: string) =>
  [hex.slice(0, 8), hex.slice(8, 12), hex.slice(12, 16), hex.slice(16, 20), hex.slice(20)].join('-')
