import { join } from 'node:path'
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify'
import { type PersonMoved, peopleToMove } from '../accounts/awaited.queries.ts'
import { mayOpen } from '../accounts/role.ts'
import { changesCounted } from '../accounts/saved.queries.ts'
import { mayTry } from '../accounts/sessions.queries.ts'
import type { Database } from '../db/database.ts'
import { defused, exactLine } from '../web/csv.ts'
import { readForm } from '../web/form.ts'
import { Problem } from '../web/problem.ts'
import { textAsked } from '../web/query-of.ts'
import { sendOnce, temporaryFolder } from '../web/temporary.ts'
import { weighed, writeZip, type ZipEntry } from '../web/zip.ts'
import { catalogue } from '../words/catalogue.ts'
import { keyForm } from './descriptor.form.ts'
import {
  descriptorOf,
  type GroupDescribed,
  pathOf,
  pathOfPeople,
  pathOfSignature,
  type WrittenFile,
} from './descriptor.ts'
import { pagesOf, type ReadPart, type StoredRow } from './export.queries.ts'
import { ofOneMoment } from './one-moment.routes.ts'
import type { PackageColumn, PackageTable } from './package-table.ts'
import { packageTables } from './package-tables.queries.ts'
import { sealSaid } from './seal.ts'
import {
  confirmKey,
  fingerprintOf,
  installationKey,
  nameOfKey,
  originOf,
  type SigningKey,
  signatureBy,
} from './signing.queries.ts'

const words = catalogue.exchange
/** Whole exports that are made in an hour. */
const mostExports = { byPerson: 20, ofGroup: 40 }

export function exchangeRoutes(app: FastifyInstance, database: Database): void {
  app.get('/g/:group/exchange', { config: { access: 'reader' } }, (request, reply) => show(request, reply))

  app.post('/g/:group/exchange/key', { config: { access: 'keeper' } }, async (request, reply) => {
    const form = readForm(keyForm, request.body)
    if (form.kind === 'refused') return show(request, reply, form.errors)
    const { group, personId } = request.member
    const origin = await request.read((tx) => originOf(tx, group.id))
    if (personId !== null && origin?.state === 'unchanged' && origin.fingerprint !== null)
      await confirmKey(database, personId, origin.fingerprint, form.value.name)
    return reply.backTo(`/g/${group.slug}/exchange`)
  })

  // Not for its head alone: all of it would be made for that.
  const whole = { exposeHeadRoute: false, config: { access: 'keeper', costly: true } } as const
  app.get('/g/:group/exchange/export.zip', whole, async (request, reply) => {
    const { group, personId } = request.member
    const tries = [
      [`export by ${personId}`, mostExports.byPerson],
      [`export of ${group.id}`, mostExports.ofGroup],
    ] as const
    for (const [key, most] of tries) if (!(await mayTry(database, key, most, 60))) throw new Problem('too-often')
    const folder = await temporaryFolder()
    const file = join(folder, 'export.zip')
    const key = await installationKey(database)
    const moving = textAsked(request, 'people')
    // Written down first: a slow receiver would hold one moment of the record open.
    await ofOneMoment(database, request, async (read) => {
      const people = moving ? await read((tx) => peopleToMove(tx, group.id, moving === 'with-addresses')) : null
      return writeZip(file, await entriesOf(read, group, { key, people }))
    })
    const { size, stream } = await sendOnce(folder, file)
    return reply
      .type('application/zip')
      .header('content-disposition', `attachment; filename="${group.slug}.zip"`)
      .header('content-length', size)
      .header('cache-control', 'no-store')
      .send(stream)
  })

  async function show(request: FastifyRequest, reply: FastifyReply, errors: Readonly<Record<string, string>> = {}) {
    const { group, role, visiting, personId } = request.member
    const own = fingerprintOf((await installationKey(database)).publicKey)
    const origin = await request.read((tx) => originOf(tx, group.id))
    const name = await nameOfKey(database, personId, origin?.fingerprint ?? null)
    const page = {
      errors,
      own,
      origin: origin && sealSaid(origin, { own, name }),
      mayExport: mayOpen(role, 'keeper'),
      mayImport: mayOpen(role, 'recorder') && !visiting,
    }
    const status = Object.keys(errors).length > 0 ? 422 : 200
    return reply.page('exchange/exchange', page, { title: words.title, status })
  }
}

interface Along {
  /** Signs the descriptor, and with it the sums of all files. */
  readonly key?: SigningKey
  /** The members, where the group moves with them. */
  readonly people?: readonly PersonMoved[] | null
}

/** The tables by name, and last the descriptor, which knows by then how long each file became, and its signature. */
export async function entriesOf(
  read: ReadPart,
  group: GroupDescribed & { id: string },
  { key, people = null }: Along = {},
): Promise<ZipEntry[]> {
  const tables = await read(packageTables)
  const changes = await read((tx) => changesCounted(tx, group.id))
  const files: WrittenFile[] = []
  const entries = tables.map((table) => ({
    path: pathOf(table.name),
    chunks: () => weighed(linesOf(read, group.id, table), (facts) => files.push({ table, ...facts })),
  }))
  let [described, sumOfPeople] = ['', '']
  const moved = async function* () {
    yield `${JSON.stringify(people)}\n`
  }
  const descriptor = async function* () {
    described = `${JSON.stringify(descriptorOf(group, files, { changes, sumOfPeople }), null, 2)}\n`
    yield described
  }
  const signature = async function* (by: SigningKey) {
    const { publicKey } = by
    yield `${JSON.stringify({ algorithm: 'Ed25519', publicKey, signature: signatureBy(by, described) })}\n`
  }
  if (people) {
    const chunks = () => weighed(moved(), ({ sha256 }) => (sumOfPeople = sha256))
    entries.push({ path: pathOfPeople, chunks })
  }
  entries.push({ path: 'datapackage.json', chunks: descriptor })
  if (key) entries.push({ path: pathOfSignature, chunks: () => signature(key) })
  return entries
}

async function* linesOf(read: ReadPart, groupId: string, table: PackageTable): AsyncGenerator<string> {
  yield exactLine(table.columns.map((column) => column.name))
  for await (const page of pagesOf(read, groupId, table)) {
    yield page.map((row) => exactLine(table.columns.map((column) => cellOf(row, column)))).join('')
  }
}

/** Only words can be a formula: a figure that begins with a minus is a figure. */
function cellOf(row: StoredRow, { name, type }: PackageColumn): string | null {
  const value = row[name] ?? null
  return type === 'text' && value !== null ? defused(value) : value
}
