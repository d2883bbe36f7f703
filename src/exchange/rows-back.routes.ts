import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify'
import { mayOpen } from '../accounts/role.ts'
import { constraintOf } from '../db/constraint.ts'
import { formatNumber } from '../quantities/formatting.ts'
import { type RefusedForm, readForm, refuseForm } from '../web/form.ts'
import { notFound, Problem } from '../web/problem.ts'
import { addressPart } from '../web/query-of.ts'
import { catalogue } from '../words/catalogue.ts'
import { kindsOfRows } from './row-kind.ts'
import { takeBackForm } from './rows-back.form.ts'
import { storedFilePage } from './rows-back.page.ts'
import { storedFile, takeFileBack } from './rows-back.queries.ts'
import { rowKinds } from './rows-pass.routes.ts'

const words = catalogue.rows

/** A stored file by itself: what of it still stands as it came, and all of that taken back at once with a reason. */
export function rowsBackRoutes(app: FastifyInstance): void {
  const config = { access: 'recorder' } as const
  app.get('/g/:group/exchange/rows/stored/:first', { config }, (request, reply) => show(request, reply, null))

  app.post('/g/:group/exchange/rows/stored/:first', { config }, async (request, reply) => {
    const file = await fileAsked(request)
    if (!mayTakeBack(request, file)) throw new Problem('keepers-only')
    const form = readForm(takeBackForm, request.body)
    if (form.kind === 'refused') return show(request, reply, form)
    if (file.closed) return show(request, reply, refuseForm(request.body, { reason: words.closedSince }))
    const { group } = request.member
    const taken = await takenBack(() =>
      request.write(async (tx) => {
        const now = await storedFile(tx, group.id, file.first)
        if (!now || now.closed) throw new Problem('changed-meanwhile')
        return takeFileBack(tx, group.id, { ...form.value, first: file.first, tableName: file.tableName })
      }, words.takenBack),
    )
    if (taken === null)
      return show(request, reply, refuseForm(request.body, { reason: catalogue.correcting.stillUsed }))
    const count = (rows: number) => words.rowsOf(formatNumber(rows, group.locale, 0))
    const said = words.takenBackSaid(count(taken), taken < file.rows ? count(file.rows - taken) : null)
    return reply.backTo(`/g/${group.slug}/exchange/rows`, said, null)
  })
}

async function fileAsked(request: FastifyRequest) {
  const first = Number(addressPart(request, 'first'))
  if (!Number.isSafeInteger(first) || first < 1) throw notFound()
  const file = await request.read((tx) => storedFile(tx, request.member.group.id, first))
  const kind = kindsOfRows.find((one) => rowKinds[one].table === file?.tableName)
  if (!file || !kind) throw notFound()
  return { ...file, first, kind }
}

type FileAsked = Awaited<ReturnType<typeof fileAsked>>

/** A keeper any file; a recorder what they stored themselves. */
function mayTakeBack(request: FastifyRequest, { kind, personId }: FileAsked): boolean {
  const { role } = request.member
  if (mayOpen(role, 'keeper')) return true
  return mayOpen(role, rowKinds[kind].access) && personId !== null && personId === request.member.personId
}

async function show(request: FastifyRequest, reply: FastifyReply, refused: RefusedForm | null) {
  const file = await fileAsked(request)
  const { group } = request.member
  const page = {
    ...storedFilePage(file, group),
    first: file.first,
    mine: mayTakeBack(request, file),
    typed: refused?.typed ?? {},
    errors: refused?.errors ?? {},
  }
  return reply.page('exchange/rows-back', page, { title: words.storedTitle, status: refused ? 422 : 200 })
}

/** Null where something rests on a row of the file by now: the database says so by a constraint. */
async function takenBack(work: () => Promise<number>): Promise<number | null> {
  try {
    return await work()
  } catch (error) {
    if (!constraintOf(error)) throw error
    return null
  }
}
