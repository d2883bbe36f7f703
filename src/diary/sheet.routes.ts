import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify'
import { newId } from '../db/new-id.ts'
import { bedsOf, gardensOf } from '../gardens/gardens.queries.ts'
import { plantingsOf } from '../seasons/seasons.queries.ts'
import { readForm, type Typed } from '../web/form.ts'
import { catalogue } from '../words/catalogue.ts'
import { sealedIn } from './sealed.queries.ts'
import { type Sheet, sheetForm } from './sheet.form.ts'
import { sheetPage, typedSheet, type WrongCells } from './sheet.page.ts'
import { enterSheet, WrongSheet } from './sheet-rows.routes.ts'
import { type WeekRequest, weekIn, writeInWeek } from './writing.routes.ts'

const words = catalogue.sheet

/** The week's form on paper, and the grid to type a filled one from: all of it is saved, or none and each wrong cell says why. */
export function sheetRoutes(app: FastifyInstance): void {
  const address = '/g/:group/weeks/:week/sheet'

  app.get(address, { config: { access: 'reader' } }, async (request, reply) => {
    const page = { ...(await sheetOf(request)), mayRecord: request.member.role !== 'reader' }
    return reply.page(
      'diary/sheet',
      { ...page, unit: request.member.group.weightUnit },
      { title: words.title(page.week) },
    )
  })

  app.get(`${address}/typed`, { config: { access: 'recorder' } }, (request, reply) =>
    showTyping(request, reply, { id: newId() }, {}),
  )

  app.post(`${address}/typed`, { config: { access: 'recorder' } }, async (request, reply) => {
    const typed = (request.body ?? {}) as Typed
    const form = readForm(sheetForm, typed)
    if (form.kind === 'refused') return showTyping(request, reply, { id: newId(), ...typed }, form.errors)
    const wrong = await saved(request as WeekRequest, form.value)
    if (wrong) return showTyping(request, reply, wrong.anew ? { ...typed, id: newId() } : typed, wrong.cells)
    const { slug } = request.member.group
    return reply.backTo(`/g/${slug}/weeks/${weekIn(request)}`, words.saved)
  })
}

/** Saves every row in one transaction, or leaves everything as it was and answers what is wrong with which cell. */
async function saved(request: WeekRequest, sheet: Sheet): Promise<WrongSheet | undefined> {
  try {
    await writeInWeek(request, (at) => enterSheet(at, sheet))
  } catch (error) {
    if (!(error instanceof WrongSheet)) throw error
    return error
  }
}

async function sheetOf(request: FastifyRequest) {
  const { id, locale } = request.member.group
  const rows = await request.read(async (tx) => ({
    gardens: await gardensOf(tx, id),
    beds: await bedsOf(tx, id),
    plantings: await plantingsOf(tx, id),
    sealed: await sealedIn(tx, id, weekIn(request)),
  }))
  return sheetPage({ ...rows, week: weekIn(request), locale })
}

async function showTyping(request: FastifyRequest, reply: FastifyReply, typed: Typed, wrong: WrongCells) {
  const sheet = await sheetOf(request)
  const count = Object.keys(wrong).length
  const page = {
    ...sheet,
    id: String(typed.id),
    cell: typedSheet(typed, wrong),
    said: wrong.sheet ?? (count > 0 ? words.notSaved(count) : ''),
    mayAsk: count > 0 && !wrong.sheet,
  }
  return reply.page('diary/sheet-typed', page, { title: words.typingTitle(sheet.week), status: count > 0 ? 422 : 200 })
}
