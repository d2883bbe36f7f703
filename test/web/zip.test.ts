import { mkdtempSync, readdirSync, readFileSync, readlinkSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { Readable } from 'node:stream'
import { afterAll, expect, it, vi } from 'vitest'
import { openZip, writeZip } from '../../src/web/zip.ts'

const folder = mkdtempSync(join(tmpdir(), 'evenground-zip-'))
afterAll(() => rmSync(folder, { recursive: true }))

/** How often this process has a file open: Linux tells. */
function timesOpen(file: string): number {
  return readdirSync('/proc/self/fd').filter((fd) => {
    try {
      return readlinkSync(join('/proc/self/fd', fd)) === file
    } catch {
      return false
    }
  }).length
}

it.skipIf(process.platform !== 'linux')('a zip that breaks off in its directory is let go of', async () => {
  const whole = join(folder, 'whole.zip')
  await writeZip(whole, [{ path: 'a.csv', chunks: () => Readable.from(['a,b\n']) }])
  const zip = await openZip(whole)
  expect([zip?.has('a.csv'), timesOpen(whole)]).toEqual([true, 1])
  zip?.close()

  const broken = join(folder, 'broken.zip')
  const bytes = readFileSync(whole)
  // The signature of the first entry of the directory (PKWARE APPNOTE 4.3.12).
  const directory = bytes.indexOf(Buffer.from([0x50, 0x4b, 0x01, 0x02]))
  expect(directory).toBeGreaterThan(0)
  bytes.writeUInt32LE(0, directory)
  writeFileSync(broken, bytes)
  expect(await openZip(broken)).toBeNull()
  // A file is closed beside the work: it is asked for until it is.
  await vi.waitFor(() => expect(timesOpen(broken)).toBe(0))
})
