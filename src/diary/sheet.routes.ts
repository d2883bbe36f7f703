import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify'
import { idOf, newId } from '../db/new-id.ts'
import { bedsOf, gardensOf } from '../gardens/gardens.queries.ts'
import { thursdayOf } from '../quantities/iso-week.ts'
import { plantingsOf } from '../seasons/seasons.queries.ts'
import { readForm, type Typed } from '../web/form.ts'
import { catalogue } from '../words/catalogue.ts'
import { enterHours } from './hours.routes.ts'
import { type Sheet, sheetForm } from './sheet.form.ts'
import { sheetPage, typedSheet, type WrongCells } from './sheet.page.ts'
import { harvestForm, hoursForm } from './week.form.ts'
import { enterHarvest } from './weights.routes.ts'
import { type Errors, type WeekRequest, type Writing, weekIn } from './writing.routes.ts'

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
    if (wrong) return showTyping(request, reply, typed, wrong)
    const { slug } = request.member.group
    return reply.backTo(`/g/${slug}/weeks/${weekIn(request as WeekRequest)}`, words.saved)
  })
}

class WrongSheet extends Error {
  readonly cells: WrongCells
  constructor(cells: WrongCells) {
    super('cells of the sheet are wrong')
    this.cells = cells
  }
}

/** Saves every row in one transaction, or leaves everything as it was and answers what is wrong with which cell. */
async function saved(request: WeekRequest, sheet: Sheet): Promise<WrongCells | undefined> {
  const { group, personId } = request.member
  const author = { groupId: group.id, createdBy: personId }
  try {
    await request.write(async (tx) => {
      const at = { tx, author, week: weekIn(request), request }
      const [weights, hours] = [await weightsIn(at, sheet), await hoursIn(at, sheet)]
      if (weights.rows + hours.rows === 0) throw new WrongSheet({ sheet: words.blank })
      const wrong = { ...weights.wrong, ...hours.wrong }
      if (Object.keys(wrong).length > 0) throw new WrongSheet(wrong)
    })
  } catch (error) {
    if (!(error instanceof WrongSheet)) throw error
    return error.cells
  }
}

interface Entered {
  readonly rows: number
  readonly wrong: Record<string, string>
}

const cellOfWeight: Readonly<Record<string, string>> = {
  harvestedOn: 'day',
  unmarketable: 'bad',
  why: 'why',
  pieces: 'pieces',
}

async function weightsIn(at: Writing, sheet: Sheet): Promise<Entered> {
  const entered: Entered & { rows: number } = { rows: 0, wrong: {} }
  const form = harvestForm(at.request.member.group.weightUnit)
  for (const [plantingId, { day, good, bad, why, pieces }] of sheet.weights) {
    if (![day, good, bad, why, pieces].some((cell) => cell?.trim())) continue
    entered.rows += 1
    const read = readForm(form, {
      ...{ id: idOf(sheet.id, plantingId), plantingId, harvestedOn: day?.trim() || thursdayOf(at.week) },
      ...{ marketable: good ?? '', unmarketable: bad ?? '', why: why ?? '', pieces: pieces ?? '', containerId: '' },
      ...{ source: 'paper', surely: sheet.surely },
    })
    const errors = read.kind === 'refused' ? read.errors : await enterHarvest(at, read.value)
    mark(entered.wrong, errors, (field) => `weights[${plantingId}][${cellOfWeight[field] ?? 'good'}]`)
  }
  return entered
}

async function hoursIn(at: Writing, sheet: Sheet): Promise<Entered> {
  const entered: Entered & { rows: number } = { rows: 0, wrong: {} }
  for (const [gardenId, tasks] of sheet.hours) {
    for (const [task, time] of Object.entries(tasks)) {
      if (!time.trim()) continue
      entered.rows += 1
      const read = readForm(hoursForm, {
        ...{ id: idOf(sheet.id, gardenId, task), place: `garden:${gardenId}`, task, time },
        ...{ workedOn: '', seasonId: '', phase: '', who: sheet.who ?? '', effort: '' },
        ...{ source: 'paper', surely: sheet.surely },
      })
      const errors = read.kind === 'refused' ? read.errors : await enterHours(at, read.value)
      mark(entered.wrong, errors, () => `hours[${gardenId}][${task}]`)
    }
  }
  return entered
}

function mark(wrong: Record<string, string>, errors: Errors | void, cell: (field: string) => string): void {
  for (const [field, sentence] of Object.entries(errors ?? {})) wrong[cell(field)] ??= sentence
}

async function sheetOf(request: FastifyRequest) {
  const { id, locale } = request.member.group
  const rows = await request.read(async (tx) => ({
    gardens: await gardensOf(tx, id),
    beds: await bedsOf(tx, id),
    plantings: await plantingsOf(tx, id),
  }))
  return sheetPage({ ...rows, week: weekIn(request as WeekRequest), locale })
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
