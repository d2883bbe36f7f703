import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify'
import { newId } from '../db/new-id.ts'
import { lyingOver } from '../gardens/areas-held.ts'
import { loadsThen } from '../inputs/load.ts'
import { firstOf, lastOf } from '../lookups/nth.ts'
import { asShown, linkOf, sent } from '../lookups/unsaid.ts'
import { addDays, readDate } from '../quantities/dates.ts'
import { formatDay } from '../quantities/formatting.ts'
import { daysOf, type IsoWeek, mondayOf, readIsoWeek, weekOf } from '../quantities/iso-week.ts'
import { seasonsOf } from '../seasons/seasons.queries.ts'
import { readForm, type Typed } from '../web/form.ts'
import { Problem } from '../web/problem.ts'
import { fieldsOf, queryOf, textAsked } from '../web/query-of.ts'
import type { Words } from '../words/catalogue.ts'
import { wordsFor } from '../words/locales.ts'
import { secondWeeksOf } from './second-weeks.ts'
import { type SheetSaved, saveSheet, type WrongSheetCell } from './sheet-saving.routes.ts'
import { answerInFigures, asLeft, isBlank, sheetSavedTold, wantsFigures } from './sheet-told.routes.ts'
import { weekdayShort } from './sheet-writing.page.ts'
import { lastWeekWritten } from './week.queries.ts'
import { rowsOfSheet } from './week-read.routes.ts'
import { seasonOfDay } from './week-rules.ts'
import { type WeekSheet, weekSheetForm } from './week-sheet.form.ts'
import { weekSheet } from './week-sheet.page.ts'
import { today, type WeekRequest, type WeekRoute, weekIn, writeInWeek } from './writing.routes.ts'

/** The week as one sheet: crops and tasks down, gardens across, one Save. */
export function weekRoutes(app: FastifyInstance): void {
  app.get('/g/:group/weeks', { config: { access: 'reader' } }, async (request, reply) =>
    reply.redirect(`/g/${request.member.group.slug}/weeks/${await weekAsked(request)}`, 303),
  )

  app.get<WeekRoute>('/g/:group/weeks/:week', { config: { access: 'reader', keepsPage: true } }, (request, reply) =>
    show(request, reply, asAsked(request)),
  )

  app.post<WeekRoute>('/g/:group/weeks/:week', { config: { access: 'recorder' } }, async (request, reply) => {
    const week = weekIn(request)
    const typed = fieldsOf(request.body)
    // What waited for a signal is of the one who typed it, whoever is signed in by now.
    if (typeof typed.person === 'string' && typed.person !== request.member.personId) throw new Problem('other-person')
    const form = readForm(weekSheetForm, typed)
    if (form.kind === 'refused') return refusedWhole(request, reply, typed)
    const sheet = form.value
    if (sheet.to === 'find')
      return show(request, reply, { ...nothingWrong, typed, find: sent(sheet.find), status: 200 })
    const saved = await writeInWeek(request, (at) => saveSheet(at, sheet))
    const told = sheetSavedTold(saved, wordsFor(request.member.group.locale), request)
    const { slug } = request.member.group
    const onward = `/g/${slug}/weeks/${week}?${asLeft(sheet)}`
    if (wantsFigures(request)) return answerInFigures(reply, saved, { told, onward })
    if (saved.wrong.size > 0) return show(request, reply, comesBack(typed, sheet, saved, told))
    if (isBlank(saved)) return show(request, reply, { ...nothingWrong, typed, find: '', status: 422, blank: true })
    return reply.backTo(onward, told)
  })
}

interface Shown {
  readonly typed: Typed
  readonly wrong: ReadonlyMap<string, WrongSheetCell>
  readonly stored: ReadonlySet<string>
  readonly told: string
  readonly find: string
  readonly status: number
  readonly blank?: boolean
  /** All that stands, whether it is due or not: as a device keeps it for the days without a signal. */
  readonly whole?: boolean
}

const nothingWrong = { wrong: new Map<string, WrongSheetCell>(), stored: new Set<string>(), told: '' }

function asAsked(request: FastifyRequest): Shown {
  const { find, day, garden, rows, from } = queryOf(request)
  const text = (value: unknown) => (typeof value === 'string' ? value.slice(0, 80) : '')
  const source = from === 'paper' ? { source: 'paper' } : {}
  const typed = { day: text(day), garden: text(garden), ...source }
  return { ...nothingWrong, typed, find: text(find), status: 200, whole: rows === 'all' }
}

function comesBack(typed: Typed, sheet: WeekSheet, saved: SheetSaved, told: string): Shown {
  const next = /^next:([0-9a-f-]{36})$/.exec(sent(sheet.to))?.[1]
  // Cells that are stored are blank again and stand above their fields: under a new id a second weight is another one.
  const kept = { ...typed, id: newId(), ...(next ? { garden: sent(typed.garden) } : {}) }
  return { typed: kept, wrong: saved.wrong, stored: saved.stored, told, find: '', status: 422 }
}

/** A field that is longer than any sheet has, or an id that is none: nothing is stored, and all comes back. */
const refusedWhole = (request: WeekRequest, reply: FastifyReply, typed: Typed) => {
  const sentence = wordsFor(request.member.group.locale).diary.notTaken
  const wrong = new Map([['sheet', { sentence, ask: false }]])
  return show(request, reply, { ...nothingWrong, typed: { ...typed, id: newId() }, wrong, find: '', status: 422 })
}

/** The week of a day that is looked for; this week; or, where no season holds today, the latest that was written. */
async function weekAsked(request: FastifyRequest): Promise<IsoWeek> {
  const asked = readDate(sent(textAsked(request, 'day')))
  const now = weekOf(today(request))
  if (asked) return weekOf(asked)
  const { id } = request.member.group
  return request.read(async (tx) => {
    const seasons = await seasonsOf(tx, id)
    if (seasons.length === 0 || seasonOfDay(seasons, today(request))) return now
    return readIsoWeek(sent(await lastWeekWritten(tx, id))) ?? now
  })
}

async function show(request: WeekRequest, reply: FastifyReply, shown: Shown) {
  const week = weekIn(request)
  const { group, role } = request.member
  const words = wordsFor(group.locale)
  const rows = await request.readAtOnce((tx) => rowsOfSheet(tx, request, week))
  const typedIn = new Set(Object.keys((shown.typed.w ?? {}) as object).filter((id) => isTyped(shown.typed, id)))
  const fromPaper = shown.typed.source === 'paper'
  const sheet = weekSheet({
    ...rows,
    week,
    locale: group.locale,
    words,
    picked: rows.lastUsed.picked,
    find: shown.find,
    typedIn,
    whole: shown.whole === true || fromPaper,
    onPaper: fromPaper,
  })
  const days = daysOf(week)
  const loads = loadsThen(rows.loads, lastOf(days))
  const overAll = shown.typed.garden === 'all' && sheet.gardens.length > 1
  const here = overAll ? undefined : (sheet.gardens.find((one) => one.id === shown.typed.garden) ?? sheet.gardens[0])
  const next = sheet.gardens[here ? here.place % sheet.gardens.length : 0]
  const cell = cellTyped(shown)
  const fields = sheet.rows.flatMap((row) => row.cells.flatMap((one) => one.fields))
  const first =
    role === 'reader' && !request.member.visiting ? undefined : fields.find((one) => !one.closed && !one.sealed)
  const page = {
    ...sheet,
    firstCell: first ? cell(first.name).id : '',
    gardens: sheet.gardens.map((one) => ({ ...one, next: sheet.gardens[one.place % sheet.gardens.length] ?? one })),
    /** On a phone, the garden that is shown; or hours alone, over all of them. */
    here: overAll ? 'all' : asShown(here?.id),
    /** More columns than stand side by side. */
    many: Math.max(sheet.columns.length, sheet.gardens.length) > 6,
    next: next && sheet.gardens.length > 1 ? next : null,
    id: typeof shown.typed.id === 'string' ? shown.typed.id : reply.freshId(),
    unit: group.weightUnit,
    days: days.map((day) => ({ value: day, label: weekdayShort(day, group.locale) })),
    day: fromPaper ? '' : dayOffered(shown.typed, days, today(request)),
    fromPaper,
    find: shown.find,
    people: rows.lastUsed.people,
    containers: rows.containers.map((one) => one.name),
    loads: loads.map((one) => ({
      value: one.id,
      label: `${one.inputName}, ${formatDay(one.deliveredOn, group.locale)}`,
    })),
    inputs: rows.inputs.map((one) => ({ value: one.id, label: `${one.name} (${one.unit})` })),
    ahead: firstOf(days) > today(request),
    readTwice: rows.seasons.some((season) => secondWeeksOf(season).includes(week)),
    mayRecord: role !== 'reader',
    /** Fields to type into: a guest of the example may try them, and nothing is saved. */
    mayType: role !== 'reader' || request.member.visiting,
    mayLabel: role === 'keeper',
    /** A reader too: what they typed before they could only read is shown to them and can be saved. */
    keptFor: request.member.visiting ? '' : linkOf(request.member.personId),
    keptWords: JSON.stringify(words.week.kept),
    wrong: [...shown.wrong].map(([cell, { sentence }]) => ({ cell, sentence, linked: isThere(cell, fields, sheet) })),
    ...choicesOfFolds(
      { ...rows, beds: lyingOver(rows.beds, { startsOn: mondayOf(week), endsOn: addDays(mondayOf(week), 6) }) },
      loads,
      group.locale,
    ),
    ...closingOf(sheet.gardens, words),
    waits: sheet.waiting.length,
    tooSoon: rows.tooSoon.length,
    blank: shown.blank ?? false,
    told: shown.told,
    cell,
  }
  return reply.page('diary/week', page, { title: words.week.title(page.number), status: shown.status })
}

type Rows = Awaited<ReturnType<typeof rowsOfSheet>>

/** What was spread or worked in a week is chosen among the beds that were there in it. */
function choicesOfFolds(rows: Pick<Rows, 'gardens' | 'beds'>, loads: ReturnType<typeof loadsThen>, locale: string) {
  const words = wordsFor(locale)
  const listed = (map: Readonly<Record<string, string>>) =>
    Object.entries(map).map(([value, label]) => ({ value, label }))
  const gardens = new Map(rows.gardens.map((one) => [one.id, one.name]))
  const open = loads.map((one) => ({ value: one.id, label: `${one.inputName}, ${formatDay(one.deliveredOn, locale)}` }))
  return {
    causes: listed(words.diary.causes),
    yesOrNo: listed(words.seasons.yesOrNo),
    nextDoor: listed(words.diary.nextDoor),
    loadChoices: [{ value: 'came', label: words.week.fromWhatCame }, ...open],
    groundIn: rows.gardens.map(({ id, name }) => ({
      name,
      choices: rows.beds
        .filter((bed) => bed.gardenId === id)
        .map((bed) => ({ value: `bed:${bed.id}`, label: bed.name })),
    })),
    ground: [
      ...rows.gardens.map(({ id, name }) => ({ value: `garden:${id}`, label: name })),
      ...rows.beds.map((bed) => ({ value: `bed:${bed.id}`, label: `${gardens.get(bed.gardenId)}, ${bed.name}` })),
    ],
  }
}

type GardenOfSheet = ReturnType<typeof weekSheet>['gardens'][number]

/** The two rows of "Is that all?", and what can be opened again. */
function closingOf(gardens: readonly GardenOfSheet[], { week: w }: Words) {
  const ids = (list: readonly GardenOfSheet[]) => list.map((one) => one.id)
  const weights = gardens.filter((one) => one.weightsClosed)
  const hours = gardens.filter((one) => one.hoursClosed)
  const held = ids(gardens.filter((one) => one.weightsHeld))
  const opened = (field: string, what: string) => (one: GardenOfSheet) => ({
    field,
    gardenId: one.id,
    label: w.reopen(one.name, what),
  })
  return {
    closing: [
      { field: 'closeWeights', name: w.closeWeights, closed: ids(weights), held },
      { field: 'closeHours', name: w.closeHours, closed: ids(hours), held: [] },
    ],
    reopenable: [
      ...weights.filter((one) => !one.weightsHeld).map(opened('reopenWeights', w.weights)),
      ...hours.map(opened('reopenHours', w.hours)),
    ],
  }
}

/** Whether a cell stands on the page: one that a label hides, or whose planting is gone, has no field to go to. */
function isThere(
  cell: string,
  fields: readonly { name: string; sealed: boolean }[],
  sheet: ReturnType<typeof weekSheet>,
) {
  if (/^h\[/.test(cell))
    return [...sheet.tasks, ...sheet.otherTasks].some((task) => task.cells.some((one) => one.name === cell))
  if (!/^[wl]\[/.test(cell)) return cell !== 'sheet'
  return fields.some((one) => one.name === cell && !one.sealed) || sheet.labels.some((one) => one.name === cell)
}

const isTyped = (typed: Typed, id: string) =>
  Object.values((typed.w as Record<string, unknown>)?.[id] ?? {}).some((value) => String(value).trim() !== '')

/** This sitting's day; today where it lies in the week; none otherwise. */
function dayOffered(typed: Typed, days: readonly string[], now: string): string {
  const asked = typeof typed.day === 'string' ? typed.day : ''
  if (days.includes(asked)) return asked
  return days.includes(now) && typed.w === undefined ? now : ''
}

/** What stands in a field of the sheet after it was sent, and what is wrong with its cell. */
function cellTyped({ typed, wrong, stored }: Shown) {
  return (cell: string, field?: string) => {
    const path = cell.split(/[[\]]+/).filter(Boolean)
    const whole = field === undefined ? path : [...path, field]
    const value = whole.reduce<unknown>(
      (at, step) => (typeof at === 'object' && at !== null ? (at as Record<string, unknown>)[step] : undefined),
      typed,
    )
    const said = wrong.get(cell)
    const kept = !stored.has(cell) && typeof value === 'string' ? value : ''
    const ticked: ReadonlySet<unknown> = new Set(stored.has(cell) ? [] : [value ?? []].flat())
    const id = `c-${whole.join('-').replace(/[^\w-]/g, '-')}`
    return { value: kept, ticked, error: said?.sentence, ask: said?.ask ?? false, id, errorId: `${id}-wrong` }
  }
}
