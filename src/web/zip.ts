import { createHash } from 'node:crypto'
import { createWriteStream } from 'node:fs'
import { Readable } from 'node:stream'
import { pipeline } from 'node:stream/promises'
import yauzl from 'yauzl'
import yazl from 'yazl'

export interface ZipEntry {
  readonly path: string
  readonly chunks: () => AsyncIterable<string>
}

/** A time that says nothing, so that the same contents give the same bytes. Local, as the format has no zone. */
const noTime = { mtime: new Date(1980, 0, 1), forceDosTimestamp: true, mode: 0o100644 }

/** Writes entries one after the other: one is asked for its chunks only when the one before is written. */
export async function writeZip(file: string, entries: readonly ZipEntry[]): Promise<void> {
  const zip = new yazl.ZipFile()
  const output = zip.outputStream as Readable
  const written = pipeline(output, createWriteStream(file, { mode: 0o600 }))
  zip.on('error', (error: Error) => output.destroy(error))
  for (const { path, chunks } of entries) {
    zip.addReadStreamLazy(path, noTime, (give) => {
      const stream = Readable.from(chunks())
      stream.on('error', (error) => output.destroy(error))
      give(null, stream)
    })
  }
  zip.end()
  await written
}

/** Passes text on and, at its end, tells how many bytes it was and their SHA-256. */
export async function* weighed(
  chunks: AsyncIterable<string>,
  tell: (facts: { bytes: number; sha256: string }) => void,
): AsyncGenerator<string> {
  const hash = createHash('sha256')
  let bytes = 0
  for await (const chunk of chunks) {
    hash.update(chunk)
    bytes += Buffer.byteLength(chunk)
    yield chunk
  }
  tell({ bytes, sha256: hash.digest('hex') })
}

export interface OpenZip {
  has(path: string): boolean
  /** What it says of its size unpacked; reading more than that fails. */
  sizeOf(path: string): number
  /** How much of the zip it takes. */
  packedSizeOf(path: string): number
  open(path: string): Promise<Readable>
  close(): void
}

const mostEntries = 200

/** Opens a zip by its directory; null, and let go of, where the file is none, or not one that was made for us. */
export async function openZip(file: string): Promise<OpenZip | null> {
  const zip = await yauzl.openPromise(file, { lazyEntries: true, autoClose: false }).catch(() => null)
  const entries = zip && (await entriesOf(zip))
  if (!entries) {
    zip?.close()
    return null
  }
  return {
    has: (path) => entries.has(path),
    // A file that is not in the package is empty there.
    sizeOf: (path) => entries.get(path)?.uncompressedSize ?? 0,
    // The same.
    packedSizeOf: (path) => entries.get(path)?.compressedSize ?? 0,
    open: (path) => zip.openReadStreamPromise(entries.get(path) as yauzl.Entry),
    close: () => zip.close(),
  }
}

/** By path; null where there are too many, or the directory breaks off. */
async function entriesOf(zip: yauzl.ZipFile): Promise<Map<string, yauzl.Entry> | null> {
  if (zip.entryCount > mostEntries) return null
  const entries = new Map<string, yauzl.Entry>()
  try {
    for await (const entry of zip.eachEntry()) entries.set(entry.fileName, entry)
    return entries
  } catch {
    return null
  }
}
