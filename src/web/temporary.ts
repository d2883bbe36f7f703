import { createReadStream } from 'node:fs'
import { mkdtemp, readFile, rm, stat, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { Readable } from 'node:stream'
import { promisify } from 'node:util'
import { gunzip, gzip } from 'node:zlib'

/** A folder of the system's own for files on their way in or out, readable by this process alone. */
export const temporaryFolder = () => mkdtemp(join(tmpdir(), 'evenground-'))

export const removeFolder = (folder: string) => rm(folder, { recursive: true, force: true })

export async function keepText(folder: string, text: string): Promise<string> {
  const file = join(folder, 'text')
  await writeFile(file, text, { mode: 0o600 })
  return file
}

const [pack, unpack] = [promisify(gzip), promisify(gunzip)]

/** What a file holds, in fewer bytes and for little work: typed lines become a tenth. */
export const packedFile = async (file: string): Promise<Buffer> => pack(await readFile(file), { level: 1 })

/** Several texts packed one after another are their whole, packed. */
export const packedText = (text: string): Promise<Buffer> => pack(text, { level: 1 })

export const unpackedText = async (bytes: Uint8Array): Promise<string> => (await unpack(bytes)).toString('utf8')

/** The file again that was packed, in a folder of its own. */
export async function unpackedFile(folder: string, bytes: Uint8Array): Promise<string> {
  const file = join(folder, 'file')
  await writeFile(file, await unpack(bytes), { mode: 0o600 })
  return file
}

/** A file to be sent once: its folder goes when it is sent, or when the receiver has gone. */
export async function sendOnce(folder: string, file: string): Promise<{ size: number; stream: Readable }> {
  const { size } = await stat(file)
  const stream = createReadStream(file)
  stream.on('close', () => void removeFolder(folder))
  return { size, stream }
}
