import { createHash } from 'node:crypto'
import { armed } from '../web/csv.ts'
import { exactRecords } from '../web/csv-reader.ts'
import { type OpenZip, openZip } from '../web/zip.ts'
import type { BroughtRow, BroughtTable, Package } from './bring-in.queries.ts'
import { type Descriptor, descriptorForm, peopleForm, signatureForm } from './descriptor.form.ts'
import { formatDefused, packageFormat, pathOfPeople, pathOfSignature } from './descriptor.ts'
import { RefusedPackage } from './refused-package.ts'
import type { Seal } from './seal.ts'
import { fingerprintOf, isSignedBy } from './signing.queries.ts'

const mostOfDescriptor = 4 * 1024 * 1024
const mostOfPeople = 1024 * 1024
const mostOfSignature = 4096
/**
 * Unpacked, of all files together: a small zip can hold a very large one, and the built-in engine reads for all at
 * once.
 */
const mostUnpacked = 512 * 1024 * 1024
/** How many times larger than its zip: an export of ours unpacks to some tens of times its size. */
const mostTimes = 100
const alwaysTaken = 16 * 1024 * 1024
const rowsAtOnce = 500
/** Letters: a few rows may hold whole reports. */
const lettersAtOnce = 4_000_000

/** Opens a zip as an export of ours, or refuses it with a reason. To be closed afterwards. */
export async function openPackage(file: string): Promise<Package & { close(): void }> {
  const zip = await openZip(file)
  if (!zip) throw new RefusedPackage('noZip')
  try {
    const { descriptor, bytes } = await descriptorIn(zip)
    const unpacked = descriptor.resources.reduce((sum, one) => sum + zip.sizeOf(one.path), 0)
    const packed = descriptor.resources.reduce((sum, one) => sum + zip.packedSizeOf(one.path), 0)
    const swollen = unpacked > alwaysTaken && unpacked > mostTimes * packed
    if (unpacked > mostUnpacked || swollen) throw new RefusedPackage('tooLarge')
    const isDefused = descriptor.evenground.format >= formatDefused
    const tables = descriptor.resources.map((resource) => tableIn(zip, resource, isDefused))
    const [seal, people] = [await sealOf(zip, bytes), await peopleIn(zip, descriptor)]
    return { changes: descriptor.evenground.changes, tables, seal, people, close: () => zip.close() }
  } catch (error) {
    zip.close()
    throw error
  }
}

async function descriptorIn(zip: OpenZip): Promise<{ descriptor: Descriptor; bytes: Buffer }> {
  if (!zip.has('datapackage.json')) throw new RefusedPackage('noDescriptor')
  const bytes = await wholeOf(zip, 'datapackage.json', mostOfDescriptor)
  const read = descriptorForm.safeParse(jsonOf(bytes.toString('utf8')))
  if (!read.success) throw new RefusedPackage('noDescriptor')
  if (read.data.evenground.format > packageFormat) throw new RefusedPackage('tooNew')
  return { descriptor: read.data, bytes }
}

async function wholeOf(zip: OpenZip, path: string, most: number): Promise<Buffer> {
  if (zip.sizeOf(path) > most) throw new RefusedPackage('tooLarge')
  const chunks: Buffer[] = []
  try {
    for await (const chunk of await zip.open(path)) chunks.push(chunk as Buffer)
  } catch {
    throw new RefusedPackage('damaged', path)
  }
  return Buffer.concat(chunks)
}

/** The descriptor is what is signed; the sums in it hold every other file, and are looked at as each is read. */
async function sealOf(zip: OpenZip, described: Buffer): Promise<Seal> {
  if (!zip.has(pathOfSignature)) return { state: 'unsigned', fingerprint: null }
  const read = signatureForm.safeParse(jsonOf((await wholeOf(zip, pathOfSignature, mostOfSignature)).toString('utf8')))
  if (!read.success) return { state: 'changed', fingerprint: null }
  const state = isSignedBy(read.data, described) ? 'unchanged' : 'changed'
  return { state, fingerprint: fingerprintOf(read.data.publicKey) }
}

async function peopleIn(zip: OpenZip, { evenground }: Descriptor) {
  if (evenground.people === undefined) return []
  if (!zip.has(pathOfPeople)) throw new RefusedPackage('damaged', pathOfPeople)
  const bytes = await wholeOf(zip, pathOfPeople, mostOfPeople)
  const read = peopleForm.safeParse(jsonOf(bytes.toString('utf8')))
  const isWhole = `sha256:${createHash('sha256').update(bytes).digest('hex')}` === evenground.people
  if (!isWhole || !read.success) throw new RefusedPackage('damaged', pathOfPeople)
  return read.data
}

function jsonOf(text: string): unknown {
  try {
    return JSON.parse(text)
  } catch {
    return undefined
  }
}

type Resource = Descriptor['resources'][number]
const asItIs = (value: string) => value

function tableIn(zip: OpenZip, resource: Resource, isDefused: boolean): BroughtTable {
  const fields = resource.schema.fields
  const columns = fields.map((field) => field.name)
  const readers = fields.map(({ type, format }) => (isDefused && type === 'string' && !format ? armed : asItIs))
  const valueIn = (record: readonly (string | null)[], place: number) => {
    const value = record[place] ?? null
    return value === null ? null : (readers[place] ?? asItIs)(value)
  }
  const pages = async function* (): AsyncGenerator<BroughtRow[]> {
    if (!zip.has(resource.path)) throw new RefusedPackage('damaged', resource.name)
    let [page, letters, heading, sha256]: [BroughtRow[], number, boolean, string] = [[], 0, true, '']
    const bytes = await zip.open(resource.path).catch(() => {
      throw new RefusedPackage('damaged', resource.name)
    })
    for await (const record of recordsOf(
      resource.name,
      exactRecords(bytes, (found) => (sha256 = found)),
    )) {
      if (heading && record.join() !== columns.join()) throw new RefusedPackage('damaged', resource.name)
      if (!heading) page.push(Object.fromEntries(columns.map((name, place) => [name, valueIn(record, place)])))
      heading = false
      // A null has no letters.
      letters += record.reduce((sum, value) => sum + (value?.length ?? 0), 0)
      if (page.length < rowsAtOnce && letters < lettersAtOnce) continue
      yield page
      page = []
      letters = 0
    }
    if (page.length > 0) yield page
    if (`sha256:${sha256}` !== resource.hash) throw new RefusedPackage('damaged', resource.name)
  }
  return { name: resource.name, columns, pages }
}

/** What the reader of the zip or of the file stumbles over is damage, and no fault of the service. */
async function* recordsOf<T>(table: string, records: AsyncIterable<T>): AsyncGenerator<T> {
  const each = records[Symbol.asyncIterator]()
  for (;;) {
    const next = await each.next().catch(() => {
      throw new RefusedPackage('damaged', table)
    })
    if (next.done) return
    yield next.value
  }
}
