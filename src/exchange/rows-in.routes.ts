import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify'
import { z } from 'zod'
import { mayOpen } from '../accounts/role.ts'
import type { Database } from '../db/database.ts'
import { sent } from '../lookups/unsaid.ts'
import { notFound, Problem } from '../web/problem.ts'
import { addressPart, textAsked } from '../web/query-of.ts'
import { keepText, packedFile, removeFolder } from '../web/temporary.ts'
import { readUpload, type Upload } from '../web/uploads.ts'
import { catalogue } from '../words/catalogue.ts'
import { fileWork } from './file-work.routes.ts'
import { foundSoFar } from './found-kept.ts'
import { type KindOfRows, kindsOfRows } from './row-kind.ts'
import { storedFilesPage } from './rows-back.page.ts'
import { filesStored } from './rows-back.queries.ts'
import { columnsPage, readingPage } from './rows-in.page.ts'
import { rowKinds } from './rows-pass.routes.ts'
import { dropFile, keepFile, takeOver, takeToStore, waitingFile } from './waiting-files.queries.ts'

const words = catalogue.rows
const largestFile = 20 * 1024 * 1024

/** Rows from a file: read and shown first, stored whole or not at all when that is confirmed. */
export function rowsInRoutes(app: FastifyInstance, database: Database): void {
  const work = fileWork(database)
  app.addHook('onClose', () => work.ended())

  app.get('/g/:group/exchange/rows', { config: { access: 'recorder' } }, (request, reply) =>
    showForm(request, reply, {}),
  )

  app.post(
    '/g/:group/exchange/rows',
    { config: { access: 'recorder', upload: largestFile } },
    async (request, reply) => {
      if (!request.isMultipart()) return showForm(request, reply, { error: words.noFile })
      const { group, personId, role } = request.member
      const upload = await readUpload(app, request, reply)
      const kind = kindsOfRows.find((one) => one === upload.fields.kind) ?? 'harvests'
      const contents = await contentsIn(upload)
      if (!mayOpen(role, rowKinds[kind].access)) throw new Problem('keepers-only')
      if (!contents) return showForm(request, reply, { kind, error: upload.tooLarge ? words.tooLarge : words.noFile })
      const numbersIn = localeOfMark[sent(upload.fields.mark)] ?? group.locale
      const file = await request.write((tx) => keepFile(tx, group.id, { personId, kind, numbersIn, contents }))
      if (!file) return showForm(request, reply, { kind, error: words.tooMany })
      work.begin(group, file)
      return reply.redirect(`/g/${group.slug}/exchange/rows/${file.id}`, 303)
    },
  )

  app.get('/g/:group/exchange/rows/:job', { config: { access: 'recorder' } }, async (request, reply) => {
    const { group } = request.member
    const file = await fileAsked(request)
    if (!file) return showForm(request, reply, { error: words.gone, status: 404 })
    if (file.isLeft) {
      const taken = await request.write((tx) => takeOver(tx, group.id, file))
      if (taken) work.begin(group, taken)
    }
    const from = Math.max(0, Math.floor(Number(textAsked(request, 'from')) || 0))
    const isUnderWay = file.state === 'reading' || file.state === 'storing'
    const found = file.found === null || isUnderWay ? foundSoFar(file.lines) : file.found
    const page = readingPage({ ...file, found, changed: file.changed === 1 }, group.locale, from)
    return reply.page('exchange/rows-check', page, { title: words.checkTitle })
  })

  app.post('/g/:group/exchange/rows/:job/confirm', { config: { access: 'recorder' } }, async (request, reply) => {
    const { group, role } = request.member
    const file = await fileAsked(request)
    if (!file) return showForm(request, reply, { error: words.gone, status: 404 })
    if (!mayOpen(role, rowKinds[file.kind].access)) throw new Problem('keepers-only')
    if (file.found && file.found.wrong.length === 0 && file.found.fresh > 0) {
      const taken = await request.write((tx) => takeToStore(tx, group.id, file.id))
      if (taken) work.begin(group, taken)
    }
    return reply.redirect(`/g/${group.slug}/exchange/rows/${file.id}`, 303)
  })

  app.post('/g/:group/exchange/rows/:job/drop', { config: { access: 'recorder' } }, async (request, reply) => {
    const { group } = request.member
    const file = await fileAsked(request)
    if (!file) throw notFound()
    const stored = file.state === 'stored' || file.state === 'storing'
    await request.write((tx) => dropFile(tx, group.id, file.id))
    return reply.backTo(`/g/${group.slug}/exchange/rows`, stored ? undefined : words.dropped, null)
  })
}

async function fileAsked(request: FastifyRequest) {
  const id = z.uuid().safeParse(addressPart(request, 'job'))
  if (!id.success) return undefined
  return request.read((tx) => waitingFile(tx, request.member.group.id, id.data))
}

/** The chosen file or what was pasted, packed; null where there is neither, or too much. Its folder goes. */
async function contentsIn({ file, folder, fields, tooLarge }: Upload): Promise<Buffer | null> {
  try {
    if (tooLarge) return null
    if (file) return await packedFile(file)
    return fields.lines?.trim() ? await packedFile(await keepText(folder, fields.lines)) : null
  } finally {
    await removeFolder(folder)
  }
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
