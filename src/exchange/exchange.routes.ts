import { join } from 'node:path'
import type { FastifyInstance } from 'fastify'
import { mayOpen } from '../accounts/role.ts'
import { changesCounted } from '../accounts/saved.queries.ts'
import type { Tx } from '../db/database.ts'
import { defused, exactLine } from '../web/csv.ts'
import { sendOnce, temporaryFolder } from '../web/temporary.ts'
import { weighed, writeZip, type ZipEntry } from '../web/zip.ts'
import { catalogue } from '../words/catalogue.ts'
import { descriptorOf, type GroupDescribed, pathOf, type WrittenFile } from './descriptor.ts'
import { pagesOf, type StoredRow } from './export.queries.ts'
import type { PackageColumn, PackageTable } from './package-table.ts'
import { packageTables } from './package-tables.queries.ts'

const words = catalogue.exchange

export function exchangeRoutes(app: FastifyInstance): void {
  app.get('/g/:group/exchange', { config: { access: 'reader' } }, async (request, reply) => {
    const { role, visiting } = request.member
    const page = { mayExport: mayOpen(role, 'keeper'), mayImport: mayOpen(role, 'recorder') && !visiting }
    return reply.page('exchange/exchange', page, { title: words.title })
  })

  app.get('/g/:group/exchange/export.zip', { config: { access: 'keeper' } }, async (request, reply) => {
    const { group } = request.member
    const folder = await temporaryFolder()
    const file = join(folder, 'export.zip')
    // Written down first: a slow receiver would hold one moment of the record open, and the embedded engine has one
    // connection.
    await request.readAtOnce(async (tx) => writeZip(file, await entriesOf(tx, group)))
    const { size, stream } = await sendOnce(folder, file)
    return reply
      .type('application/zip')
      .header('content-disposition', `attachment; filename="${group.slug}.zip"`)
      .header('content-length', size)
      .header('cache-control', 'no-store')
      .send(stream)
  })
}

/** The tables by name, and last the descriptor, which knows by then how long each file became. */
export async function entriesOf(tx: Tx, group: GroupDescribed & { id: string }): Promise<ZipEntry[]> {
  const tables = await packageTables(tx)
  const changes = await changesCounted(tx, group.id)
  const files: WrittenFile[] = []
  const entries = tables.map((table) => ({
    path: pathOf(table.name),
    chunks: () => weighed(linesOf(tx, group.id, table), (facts) => files.push({ table, ...facts })),
  }))
  const descriptor = async function* () {
    yield `${JSON.stringify(descriptorOf(group, files, changes), null, 2)}\n`
  }
  return [...entries, { path: 'datapackage.json', chunks: descriptor }]
}

async function* linesOf(tx: Tx, groupId: string, table: PackageTable): AsyncGenerator<string> {
  yield exactLine(table.columns.map((column) => column.name))
  for await (const page of pagesOf(tx, groupId, table)) {
    yield page.map((row) => exactLine(table.columns.map((column) => cellOf(row, column)))).join('')
  }
}

/** Only words can be a formula: a figure that begins with a minus is a figure. */
function cellOf(row: StoredRow, { name, type }: PackageColumn): string | null {
  const value = row[name] ?? null
  return type === 'text' && value !== null ? defused(value) : value
}
