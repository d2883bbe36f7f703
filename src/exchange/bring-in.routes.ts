import type { FastifyInstance, FastifyReply } from 'fastify'
import { z } from 'zod'
import { groupForm } from '../accounts/accounts.form.ts'
import { mayTry } from '../accounts/sessions.queries.ts'
import { keptContentsForm, keptRowsForm } from '../comparison/kept-contents.form.ts'
import type { Database } from '../db/database.ts'
import { afterManyRows } from '../db/upkeep.ts'
import { keptDecidedForm } from '../decisions/kept-decided.form.ts'
import { linkOf } from '../lookups/unsaid.ts'
import { Problem } from '../web/problem.ts'
import { removeFolder } from '../web/temporary.ts'
import { readUpload } from '../web/uploads.ts'
import { catalogue } from '../words/catalogue.ts'
import { type BroughtRow, bringIn, type Package } from './bring-in.queries.ts'
import { openPackage } from './opened-package.routes.ts'
import { RefusedPackage } from './refused-package.ts'
import { sealSaid } from './seal.ts'
import { fingerprintOf, installationKey, nameOfKey } from './signing.queries.ts'

const words = catalogue.exchange.bringIn
const sealTold = catalogue.exchange.seal.told
/** Bytes of an export that is brought in, or given as proof. */
export const largestPackage = 512 * 1024 * 1024
const mostTries = 20

/** Brings back an export into this installation, for whoever has an account here. */
export function bringInRoutes(app: FastifyInstance, database: Database): void {
  app.get('/groups/bring-back', { config: { access: 'person' } }, (_request, reply) => show(reply, null))

  app.post('/groups/bring-back', { config: { access: 'person', upload: largestPackage } }, async (request, reply) => {
    const personId = linkOf(request.person?.id)
    if (!(await mayTry(database, `bring back ${personId}`, mostTries))) throw new Problem('too-often')
    if (!request.isMultipart()) return show(reply, words.noFile)
    const upload = await readUpload(app, request, reply)
    try {
      if (upload.tooLarge) throw new RefusedPackage('tooLarge')
      if (upload.file === null) return show(reply, words.noFile)
      const { slug, seal } = await broughtFrom(database, upload.file, personId)
      const own = fingerprintOf((await installationKey(database)).publicKey)
      const said = sealSaid(seal, { own, name: await nameOfKey(database, personId, seal.fingerprint) })
      return reply.backTo(`/g/${slug}`, `${words.broughtIn} ${sealTold[said.code](said.what)}`, null)
    } catch (error) {
      if (!(error instanceof RefusedPackage)) throw error
      return show(reply, words.refused[error.refusal](error.where))
    } finally {
      await removeFolder(upload.folder)
    }
  })
}

const show = (reply: FastifyReply, error: string | null) =>
  reply.page(
    'exchange/bring-back',
    { errors: error ? { file: error } : {} },
    { title: words.title, status: error ? 422 : 200 },
  )

/** Brings in what a file on disk holds. */
export async function broughtFrom(database: Database, file: string, personId: string) {
  const opened = await openPackage(file)
  try {
    const slug = await bringIn(database, opened, { personId, group: await groupIn(opened), isReport })
    await afterManyRows(database)
    return { slug, seal: opened.seal }
  } finally {
    opened.close()
  }
}

const isReport = (contents: unknown, rows: unknown) =>
  keptContentsForm.safeParse(contents).success &&
  keptDecidedForm.safeParse(contents).success &&
  keptRowsForm.safeParse(rows).success

/** The group's own row: what a settings form would not take, a package may not bring either. */
async function groupIn(opened: Package): Promise<BroughtRow> {
  for await (const [row] of opened.tables.find((table) => table.name === 'groups')?.pages() ?? []) {
    const { name, currency, time_zone: timeZone, locale, weight_unit: weightUnit, area_unit: areaUnit } = row ?? {}
    const settings = groupForm.safeParse({ name, currency, timeZone, locale, weightUnit, areaUnit })
    if (row && settings.success && z.uuid().safeParse(row.id).success) return row
    break
  }
  throw new RefusedPackage('noGroup')
}
