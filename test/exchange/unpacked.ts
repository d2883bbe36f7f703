import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { parse } from 'csv-parse/sync'
import yauzl from 'yauzl'
import yazl from 'yazl'

/** The files of a zip by path, read by the library and not by the service. */
export async function unpacked(bytes: Buffer): Promise<Map<string, Buffer>> {
  const zip = await new Promise<yauzl.ZipFile>((done, wrong) =>
    yauzl.fromBuffer(bytes, { lazyEntries: true }, (error, file) => (error ? wrong(error) : done(file))),
  )
  const files = new Map<string, Buffer>()
  for await (const entry of zip.eachEntry()) {
    const chunks: Buffer[] = []
    for await (const chunk of await zip.openReadStreamPromise(entry)) chunks.push(chunk as Buffer)
    files.set(entry.fileName, Buffer.concat(chunks))
  }
  return files
}

export async function packed(files: ReadonlyMap<string, Buffer>, compress = true): Promise<Buffer> {
  const zip = new yazl.ZipFile()
  for (const [path, bytes] of files) zip.addBuffer(bytes, path, { compress })
  zip.end()
  const chunks: Buffer[] = []
  for await (const chunk of zip.outputStream) chunks.push(chunk as Buffer)
  return Buffer.concat(chunks)
}

export const rowsIn = (csv: Buffer | undefined): Record<string, string>[] =>
  parse(csv ?? '', { columns: true, record_delimiter: '\r\n' }) as Record<string, string>[]

export function inFolder<T>(name: string, bytes: Buffer, work: (file: string) => T): T {
  const folder = mkdtempSync(join(tmpdir(), 'evenground-test-'))
  try {
    writeFileSync(join(folder, name), bytes)
    return work(join(folder, name))
  } finally {
    rmSync(folder, { recursive: true, force: true })
  }
}
