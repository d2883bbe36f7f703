import { promisify } from 'node:util'
import { constants, crc32, deflateRaw, gunzip } from 'node:zlib'
import { nth } from '../lookups/nth.ts'

/**
 * A text in pieces that are compressed; between them what differs each time it is sent, by its place in a list. What
 * differs is never compressed: it goes into a stored block, and nothing beside it was looked for in it. So the length
 * of an answer says nothing of a secret in it, whatever stands beside it.
 */
export interface Packed {
  readonly pieces: readonly Piece[]
  readonly between: readonly number[]
  /** How many bytes each text of the list has: what is compressed looks back over them. */
  readonly lengths: readonly number[]
}

interface Piece {
  /** Raw deflate (RFC 1951) that ends with a whole byte and may look back at the pieces before it. */
  readonly deflated: Buffer
  /** Not compressed. */
  readonly bytes: number
  /** The CRC of a text that goes on with this piece, by its CRC so far. */
  readonly crcAfter: (before: number) => number
}

const [deflate, unzip] = [promisify(deflateRaw), promisify(gunzip)]

/** A text that is sent once. Compressed on a thread of the system. */
export const packedOnce = (text: string, differing: readonly string[]): Promise<Packed> =>
  packed(text, differing, (piece) => (before) => crc32(piece, before))

/** A text that is sent often, and of which nothing but what is compressed is to be kept. */
export async function packedToKeep(text: string, differing: readonly string[]): Promise<Packed> {
  const { pieces, ...rest } = await packed(text, differing, crcFunction)
  return { ...rest, pieces: inOneBuffer(pieces) }
}

/** Of just their size: a small buffer lies in a larger one that it shares with whatever was made then, and keeps it. */
function inOneBuffer(pieces: readonly Piece[]): Piece[] {
  const all = Buffer.allocUnsafeSlow(pieces.reduce((sum, { deflated }) => sum + deflated.length, 0))
  let at = 0
  return pieces.map((piece) => {
    const from = at
    at += piece.deflated.copy(all, from)
    return { ...piece, deflated: all.subarray(from, at) }
  })
}

async function packed(
  text: string,
  differing: readonly string[],
  crcOf: (piece: Buffer) => Piece['crcAfter'],
): Promise<Packed> {
  const places = differing.flatMap((one, i) => placesOf(text, one).map((index) => ({ index, i, length: one.length })))
  places.sort((a, b) => a.index - b.index)
  const between = places.map(({ i }) => i)
  const starts = [0, ...places.map(({ index, length }) => index + length)]
  const texts = starts.map((start, i) => Buffer.from(text.slice(start, places[i]?.index)))
  const lengths = differing.map((one) => Buffer.byteLength(one))
  const blanks = lengths.map((length) => Buffer.alloc(length, inNoText))
  const whole = Buffer.concat(betweenPieces(texts, between, blanks))
  const windowBits = texts.length > mostWithWhole ? bitsOfShort : bitsOfWhole
  let from = 0
  const around = texts.map((piece, i) => {
    const before = whole.subarray(Math.max(0, from - 2 ** windowBits), from)
    from += piece.length + (i < between.length ? nth(lengths, nth(between, i)) : 0)
    return { piece, before }
  })
  const pieces: Piece[] = []
  for (let i = 0; i < around.length; i += mostWithWhole) {
    const some = around.slice(i, i + mostWithWhole)
    pieces.push(...(await Promise.all(some.map((one) => pieceOf(one, windowBits, crcOf)))))
  }
  return { pieces, between, lengths }
}

/** As far as deflate looks back, 32 KiB, for each of so many pieces, and 4 KiB where there are more. */
const bitsOfWhole = 15
const bitsOfShort = 12
/** As many at once: each takes a quarter of a megabyte until it is done, and a page may have thousands of forms. */
const mostWithWhole = 32
/** A byte of no text in UTF-8: where it stands for what differs, nothing is found in it. */
const inNoText = 0xff

async function pieceOf(
  { piece, before }: { readonly piece: Buffer; readonly before: Buffer },
  windowBits: number,
  crcOf: (piece: Buffer) => Piece['crcAfter'],
): Promise<Piece> {
  const given = before.length > 0 ? { windowBits, dictionary: before } : { windowBits }
  // Copied: the library's own buffer has room for much more.
  const deflated = Buffer.from(await deflate(piece, { finishFlush: constants.Z_SYNC_FLUSH, ...given }))
  // Over nothing the library begins anew.
  const crcAfter = piece.length === 0 ? (crc: number) => crc : crcOf(piece)
  return { deflated, bytes: piece.length, crcAfter }
}

function placesOf(text: string, sought: string): number[] {
  const places: number[] = []
  for (let at = text.indexOf(sought); at >= 0; at = text.indexOf(sought, at + sought.length)) places.push(at)
  return places
}

const betweenPieces = <T>(pieces: readonly T[], between: readonly number[], differing: readonly T[]): T[] =>
  pieces.flatMap((piece, i) => (i === between.length ? [piece] : [piece, nth(differing, nth(between, i))]))

/** Over given bytes the new CRC is an exclusive or of what each bit of the old one makes: they need not be kept. */
function crcFunction(piece: Buffer): Piece['crcAfter'] {
  const ofZero = crc32(piece, 0)
  return crcFrom(
    ofZero,
    Uint32Array.from({ length: 32 }, (_, bit) => crc32(piece, 2 ** bit) ^ ofZero),
  )
}

/** A function of its own: one made beside what looks at the bytes would keep them. */
const crcFrom =
  (ofZero: number, ofBit: Uint32Array): Piece['crcAfter'] =>
  (before) =>
    ofBit.reduce((sum, made, bit) => ((before >>> bit) & 1 ? sum ^ made : sum), ofZero) >>> 0

/** About how much memory it takes, where it is kept. */
export const bytesOfPacked = ({ pieces }: Packed): number =>
  pieces.reduce((sum, { deflated }) => sum + deflated.length + bytesBeside, 0)

/** Measured with 25,000 pieces kept: their lists, functions and sums. */
const bytesBeside = 768

/** No name, no time, no system: the head of a gzip file (RFC 1952) that is always the same. */
const head = Buffer.from([0x1f, 0x8b, 8, 0, 0, 0, 0, 0, 0, 255])
/** A last block in which nothing stands. */
const end = Buffer.from([3, 0])
const mostStored = 0xffff

/** The whole as gzip, with these texts between its pieces, each as long as the one that it was made with. */
export function asGzip({ pieces, between, lengths }: Packed, differing: readonly string[]): Buffer {
  const own = differing.map((one, i) => storedOf(Buffer.from(one), nth(lengths, i)))
  const tail = Buffer.alloc(8)
  const all = betweenPieces(pieces, between, own)
  const crc = all.reduce((before, { crcAfter }) => crcAfter(before), 0)
  const size = all.reduce((sum, { bytes }) => sum + bytes, 0)
  tail.writeUInt32LE(crc, 0)
  tail.writeUInt32LE(size % 2 ** 32, 4)
  return Buffer.concat([head, ...all.map(({ deflated }) => deflated), end, tail])
}

/** A block that is not compressed. */
function storedOf(own: Buffer, length: number): Piece {
  if (own.length !== length || length > mostStored) throw new Error(`${own.length} bytes in place of ${length}.`)
  const before = Buffer.alloc(5)
  before.writeUInt16LE(length, 1)
  before.writeUInt16LE(mostStored - length, 3)
  return { deflated: Buffer.concat([before, own]), bytes: length, crcAfter: (crc) => crc32(own, crc) }
}

/** The whole as it was before it was compressed, with these texts between its pieces. */
export const asPlain = (packed: Packed, differing: readonly string[]): Promise<Buffer> =>
  unzip(asGzip(packed, differing))
