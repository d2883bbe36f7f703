import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify'
import { mayOpen } from '../accounts/role.ts'
import type { Database } from '../db/database.ts'
import { sent } from '../lookups/unsaid.ts'
import { notFound, Problem } from '../web/problem.ts'
import { addressPart, textAsked } from '../web/query-of.ts'
import { keepText, removeFolder } from '../web/temporary.ts'
import { readUpload, type Upload } from '../web/uploads.ts'
import { catalogue } from '../words/catalogue.ts'
import { type KindOfRows, kindsOfRows } from './row-kind.ts'
import { storedFilesPage } from './rows-back.page.ts'
import { filesStored } from './rows-back.queries.ts'
import { columnsPage, readingPage } from './rows-in.page.ts'
import { type RowsJob, rowKinds, startReading, startStoring } from './rows-job.routes.ts'
import { WaitingFiles } from './waiting-files.ts'

const words = catalogue.rows
const largestFile = 20 * 1024 * 1024

/** Rows from a file: read and shown first, stored whole or not at all when that is confirmed. */
export function rowsInRoutes(app: FastifyInstance, database: Database): void {
  const waiting = new WaitingFiles<RowsJob>((job) => void job.done.then(() => removeFolder(job.folder)))
  app.addHook('onClose', async () => waiting.dropAll())

  app.get('/g/:group/exchange/rows', { config: { access: 'recorder' } }, (request, reply) =>
    showForm(request, reply, {}),
  )

  app.post(
    '/g/:group/exchange/rows',
    { config: { access: 'recorder', upload: largestFile } },
    async (request, reply) => {
      if (!request.isMultipart()) return showForm(request, reply, { error: words.noFile })
      const { group, personId, role } = request.member
      if (!waiting.makeRoom(group.id)) return showForm(request, reply, { error: words.tooMany })
      const upload = await readUpload(app, request, reply)
      const kind = kindsOfRows.find((one) => one === upload.fields.kind) ?? 'harvests'
      const file = upload.tooLarge ? null : await fileIn(upload)
      const allowed = mayOpen(role, rowKinds[kind].access)
      if (!file || !allowed) await removeFolder(upload.folder)
      if (!allowed) throw new Problem('keepers-only')
      if (!file) return showForm(request, reply, { kind, error: upload.tooLarge ? words.tooLarge : words.noFile })
      const numbersIn = localeOfMark[sent(upload.fields.mark)] ?? group.locale
      const job = startReading(database, { group, personId, kind, folder: upload.folder, file, numbersIn })
      waiting.keep(job)
      return reply.redirect(`/g/${group.slug}/exchange/rows/${job.id}`, 303)
    },
  )

  app.get('/g/:group/exchange/rows/:job', { config: { access: 'recorder' } }, async (request, reply) => {
    const job = jobAsked(request, waiting)
    if (!job) return showForm(request, reply, { error: words.gone, status: 404 })
    const from = Math.max(0, Math.floor(Number(textAsked(request, 'from')) || 0))
    const page = readingPage(job, request.member.group.locale, from)
    return reply.page('exchange/rows-check', page, { title: words.checkTitle })
  })

  app.post('/g/:group/exchange/rows/:job/confirm', { config: { access: 'recorder' } }, async (request, reply) => {
    const job = jobAsked(request, waiting)
    if (!job) return showForm(request, reply, { error: words.gone, status: 404 })
    if (!mayOpen(request.member.role, rowKinds[job.kind].access)) throw new Problem('keepers-only')
    if (job.state === 'read' && job.found.wrong.length === 0 && job.found.fresh > 0) startStoring(database, job)
    return reply.redirect(`/g/${request.member.group.slug}/exchange/rows/${job.id}`, 303)
  })

  app.post('/g/:group/exchange/rows/:job/drop', { config: { access: 'recorder' } }, async (request, reply) => {
    const job = jobAsked(request, waiting)
    if (!job) throw notFound()
    const stored = job.state === 'stored' || job.state === 'storing'
    waiting.drop(job)
    return reply.backTo(`/g/${request.member.group.slug}/exchange/rows`, stored ? undefined : words.dropped, null)
  })
}

const jobAsked = (request: FastifyRequest, waiting: WaitingFiles<RowsJob>) =>
  waiting.find(request.member.group.id, addressPart(request, 'job'))

/** The chosen file, or what was pasted written down beside it; null where there is neither. */
async function fileIn({ file, folder, fields }: Upload): Promise<string | null> {
  if (file) return file
  if (!fields.lines?.trim()) return null
  return keepText(folder, fields.lines)
}

/** A locale that writes its decimals with that mark. */
const localeOfMark: Readonly<Record<string, string>> = { point: 'en', comma: 'de' }

const kindOfTable: Readonly<Record<string, KindOfRows>> = Object.fromEntries(
  kindsOfRows.map((kind) => [rowKinds[kind].table, kind]),
)

interface FormShown {
  readonly kind?: KindOfRows
  readonly error?: string
  readonly status?: number
}

async function showForm(request: FastifyRequest, reply: FastifyReply, { kind, error, status = 422 }: FormShown) {
  const mine = kindsOfRows.filter((one) => mayOpen(request.member.role, rowKinds[one].access))
  const { group } = request.member
  const files = await request.read((tx) => filesStored(tx, group.id, Object.keys(kindOfTable)))
  const page = {
    stored: storedFilesPage(
      files.map((file) => ({ ...file, kind: kindOfTable[file.tableName] ?? 'harvests' })),
      group,
    ),
    kinds: mine.map((one) => ({ value: one, label: words.kinds[one] })),
    chosen: kind ?? 'harvests',
    marks: Object.entries(words.marks).map(([value, label]) => ({ value, label })),
    columns: columnsPage(rowKinds),
    errors: error ? { file: error } : {},
  }
  return reply.page('exchange/rows', page, { title: words.title, status: error ? status : 200 })
}
