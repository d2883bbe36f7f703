import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify'
import { askEnding, callBack, daysToCallBack, endingOf, membersTouched } from '../accounts/endings.queries.ts'
import { type Mailing, tellingBy } from '../accounts/letters.queries.ts'
import { changesCounted } from '../accounts/saved.queries.ts'
import type { Database } from '../db/database.ts'
import { dayIn } from '../quantities/dates.ts'
import { formatDay } from '../quantities/formatting.ts'
import { readForm, type Typed } from '../web/form.ts'
import { removeFolder } from '../web/temporary.ts'
import { readUpload } from '../web/uploads.ts'
import { wordsHere } from '../web/words-here.ts'
import type { Package } from './bring-in.queries.ts'
import { largestPackage } from './bring-in.routes.ts'
import { endingForm } from './ending.form.ts'
import { openPackage } from './opened-package.routes.ts'
import { RefusedPackage } from './refused-package.ts'

const words = () => wordsHere().exchange.ending

/**
 * A keeper deletes the group: with an export of it as it stands in hand, which is given here as proof, with a reason,
 * and seven days in which any keeper calls it back. Everybody in it is told.
 */
export function endingRoutes(app: FastifyInstance, database: Database, { mailing }: { mailing: Mailing | null }): void {
  const tell = tellingBy(database, mailing)
  const config = { access: 'keeper' } as const

  app.get('/g/:group/ending', { config }, (request, reply) => show(request, reply, {}))

  app.post('/g/:group/ending', { config: { ...config, upload: largestPackage } }, async (request, reply) => {
    if (!request.isMultipart()) return show(request, reply, { errors: { file: words().noFile } })
    const upload = await readUpload(app, request, reply)
    try {
      const form = readForm(endingForm, upload.fields)
      if (form.kind === 'refused') return show(request, reply, form)
      const file = await refusalOfFile(request, upload)
      if (file !== null) return show(request, reply, { typed: upload.fields, errors: { file } })
      const { reason } = form.value
      const { group, personId: askedBy } = request.member
      if (askedBy === null) return show(request, reply, {})
      const { touched, ending } = await request.write(async (tx) => {
        await askEnding(tx, group.id, { askedBy, reason })
        return { touched: await membersTouched(tx, group.id), ending: await endingOf(tx, group.id) }
      }, reason)
      const day = ending === null ? '' : dayOf(ending.endsAt, request)
      for (const { id } of touched) await tell(id, (letters) => letters.ending(group.name, day, reason))
      return reply.backTo(`/g/${group.slug}/ending`, words().asked, null)
    } finally {
      await removeFolder(upload.folder)
    }
  })

  app.post('/g/:group/ending/called-back', { config }, async (request, reply) => {
    const { group } = request.member
    const touched = await request.write(async (tx) =>
      (await callBack(tx, group.id)) ? membersTouched(tx, group.id) : [],
    )
    for (const { id } of touched) await tell(id, (letters) => letters.calledBack(group.name))
    return reply.backTo(`/g/${group.slug}`, words().calledBack, null)
  })

  async function show(request: FastifyRequest, reply: FastifyReply, { typed = {}, errors = {} }: Shown) {
    const { group } = request.member
    const ending = await request.read((tx) => endingOf(tx, group.id))
    const page = {
      typed,
      errors,
      days: daysToCallBack,
      ending: ending && { ...ending, day: dayOf(ending.endsAt, request) },
    }
    return reply.page('exchange/ending', page, {
      title: words().title,
      status: Object.keys(errors).length > 0 ? 422 : 200,
    })
  }
}

const dayOf = (at: Date, { member }: FastifyRequest) => formatDay(dayIn(member.group.timeZone, at), member.group.locale)

/** Why a file is not an export of this group as it stands, whole; null where it is. */
async function refusalOfFile(
  request: FastifyRequest,
  { file, tooLarge }: { file: string | null; tooLarge: boolean },
): Promise<string | null> {
  const refused = wordsHere().exchange.bringIn.refused
  if (tooLarge) return refused.tooLarge()
  if (file === null) return words().noFile
  const { group } = request.member
  try {
    const opened = await openPackage(file)
    try {
      if ((await groupReadIn(opened)) !== group.id) return words().ofAnother
      const stands = await request.read((tx) => changesCounted(tx, group.id))
      return opened.changes === stands ? null : words().older
    } finally {
      opened.close()
    }
  } catch (error) {
    if (!(error instanceof RefusedPackage)) throw error
    return refused[error.refusal](error.where)
  }
}

/** Reads every table to its end, where its sum is checked, and says of which group the package is. */
async function groupReadIn({ tables }: Package): Promise<string | null> {
  let id: string | null = null
  for (const { name, pages } of tables)
    for await (const [row] of pages()) if (name === 'groups' && row) id = row.id ?? null
  return id
}

interface Shown {
  readonly typed?: Typed
  readonly errors?: Readonly<Record<string, string>>
}
