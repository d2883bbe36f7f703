import type { z } from 'zod'
import { isOneOf } from '../lookups/keys.ts'
import { firstOf } from '../lookups/nth.ts'
import { sent } from '../lookups/unsaid.ts'
import { addDays, type IsoDate } from '../quantities/dates.ts'
import { daysOf, dayUnsaid, type IsoWeek } from '../quantities/iso-week.ts'
import type { Words } from '../words/catalogue.ts'
import { entriesTyped, type LossInCell, lossesTyped, timesTyped } from './cell-typed.ts'
import { dayTyped } from './days-typed.ts'
import type { HoursTyped } from './hours-rule.ts'
import type { LossTyped } from './loss-rule.ts'
import { cellFields } from './sheet-fields.form.ts'
import { taskNames } from './tasks.ts'
import type { causes } from './week.form.ts'
import type { LossLine, TimeCell, WeekSheet, WeightCell } from './week-sheet.form.ts'
import type { WeighingTyped } from './weighing-rule.ts'

/** What cells are read with: the week, the group's way of writing, its containers and loads by their names. */
export interface SheetReading {
  readonly week: IsoWeek
  readonly today: IsoDate
  readonly locale: string
  readonly unit: 'kg' | 'lb'
  readonly words: Words
  readonly containers: ReadonlyMap<string, string>
  /** The id of a row, from the id of the sheet and its cell: the same cell sent twice is the same row. */
  readonly idOf: (...cell: string[]) => string
}

/** One row that a cell says, or what is wrong with it, at the name that the cell has in the form. */
export type CellRead =
  | { readonly cell: string; readonly kind: 'weighing'; readonly typed: WeighingTyped }
  | { readonly cell: string; readonly kind: 'hours'; readonly typed: HoursTyped }
  | { readonly cell: string; readonly kind: 'loss'; readonly typed: LossTyped }
  | { readonly cell: string; readonly kind: 'wrong'; readonly sentence: string }

type Read<T> = { readonly value: T } | { readonly sentence: string }
const isWrong = (read: object): read is { readonly sentence: string } => 'sentence' in read

/** Every row of a sheet, in the order of its cells; blank cells are none. */
export function cellsRead(sheet: WeekSheet, reading: SheetReading): CellRead[] {
  const weights = sheet.w.flatMap(([plantingId, one]) =>
    weightRead(`w[${plantingId}]`, [plantingId], one, sheet, reading),
  )
  const labelled = sheet.l.flatMap(([label, one]) => weightRead(`l[${label}]`, { label }, one, sheet, reading))
  const times = sheet.h.flatMap(([garden, tasks]) =>
    Object.entries(tasks).flatMap(([task, one]) => timeRead(garden, task, one, sheet, reading)),
  )
  const losses = sheet.loss.flatMap(([line, one]) => lossRead(line, one, sheet, reading))
  return [...weights, ...labelled, ...times, ...losses, ...manyRead(sheet, reading)]
}

const filled = (text: string | undefined): text is string => text !== undefined && text.trim() !== ''

function weightRead(
  cell: string,
  from: WeighingTyped['from'],
  typed: WeightCell,
  sheet: WeekSheet,
  reading: SheetReading,
): CellRead[] {
  const wrong = (sentence: string): CellRead => ({ cell, kind: 'wrong', sentence })
  const { words } = reading
  const { losses, rest } = lossesTyped(sent(typed.good))
  const [plantingId = ''] = 'label' in from ? [] : from
  if (losses.length > 0 && plantingId === '') return [wrong(words.week.lossUnderLabel)]
  if (plantingId !== '' && (filled(typed.lost) || filled(typed.part)))
    losses.push({ day: sent(typed.day), percent: filled(typed.part) ? typed.part : '100', cause: sent(typed.lost) })
  const lost = losses.map((loss, i) => lostRead({ cell, plantingId, i, typed }, loss, sheet, reading))
  const entries = typed.twin === 'none' && !filled(rest) ? entriesTyped('0') : entriesTyped(rest)
  if (entries.length === 0 && filled(typed.bad)) entries.push({ day: '', good: [], bad: [], why: '' })
  if (entries.length === 0 && typed.with.size > 0) return [...lost, wrong(words.diary.nothingWeighed)]
  const weights = entries.map((entry, i): CellRead => {
    const own = filled(typed.day) && entry.day === '' ? typed.day : entry.day
    const day = dayOf(own, sheet, reading)
    if (day === undefined) return wrong(words.fields.noSuchDay)
    const good = sumOf(
      entry.good.map((part) => withUnit(part, typed.unit)),
      reading,
    )
    if (isWrong(good)) return wrong(good.sentence)
    const badTyped = i === 0 && filled(typed.bad) ? [withUnit(typed.bad, typed.unit)] : entry.bad
    const bad = sumOf(badTyped, reading)
    if (isWrong(bad)) return wrong(bad.sentence)
    const why = reasonNamed(entry.why || sent(typed.why), words)
    if (why === undefined) return wrong(words.week.noReason)
    const containerId = containerNamed(typed.crate, reading)
    if (containerId === undefined) return wrong(words.fields.notChosen)
    const pieces = filled(typed.pieces) ? said(cellFields.pieces, typed.pieces) : { value: null }
    if (isWrong(pieces)) return wrong(pieces.sentence)
    const liftedOn = filled(typed.lifted) ? dayBefore(typed.lifted, day, reading) : null
    if (liftedOn === undefined) return wrong(words.fields.noSuchDay)
    return {
      cell,
      kind: 'weighing',
      typed: {
        id: reading.idOf(cell, String(i)),
        isoWeek: reading.week,
        ...inCrate(from, typed),
        shares: new Map(),
        harvestedOn: day,
        marketable: good.value,
        unmarketable: bad.value,
        why,
        containerId,
        pieces: pieces.value,
        state: typed.state || null,
        liftedOn,
        source: sheet.source,
        surely: filled(typed.surely),
      },
    }
  })
  return [...lost, ...weights]
}

/** One planting, or all that lay in its crate. */
function inCrate(from: WeighingTyped['from'], typed: WeightCell): Pick<WeighingTyped, 'from' | 'shareRule'> {
  if ('label' in from || typed.with.size === 0) return { from, shareRule: null }
  return { from: [...from, ...typed.with], shareRule: filled(typed.byPlants) ? 'plants' : 'area' }
}

/** A day of this week, or an earlier one that says its date: a weight may follow what was lifted by months. */
function dayBefore(text: string, day: IsoDate, { week, locale }: SheetReading): IsoDate | undefined {
  const earlier = Array.from({ length: 300 }, (_, days) => addDays(day, -days))
  return dayTyped(text, daysOf(week), locale) ?? dayTyped(text, earlier, locale)
}

interface LostIn {
  readonly cell: string
  readonly plantingId: string
  readonly i: number
  readonly typed: WeightCell
}

/** What a cell of weights says of a loss, of a part or of all that stood. */
function lostRead(at: LostIn, loss: LossInCell, sheet: WeekSheet, reading: SheetReading): CellRead {
  const { cell, plantingId, i, typed } = at
  const line = { ...loss, day: loss.day || typed.day, planting: plantingId, surely: typed.surely }
  const [read] = lossRead('', line, sheet, {
    ...reading,
    idOf: () => (i === 0 ? reading.idOf(cell, 'lost') : reading.idOf(cell, 'lost', String(i))),
  })
  return read ? { ...read, cell } : { cell, kind: 'wrong', sentence: reading.words.week.noCause }
}

function timeRead(garden: string, task: string, typed: TimeCell, sheet: WeekSheet, reading: SheetReading): CellRead[] {
  const cell = `h[${garden}][${task}]`
  const wrong = (sentence: string): CellRead => ({ cell, kind: 'wrong', sentence })
  const { words } = reading
  if (!isOneOf(taskNames, task)) return []
  const apart =
    filled(typed.h) || filled(typed.m) ? `${typed.h?.trim() || '0'}:${(typed.m?.trim() || '0').padStart(2, '0')}` : ''
  return timesTyped(filled(typed.time) ? typed.time : apart).map((one, i) => {
    const own = one.day || sent(typed.day)
    const day = filled(own) ? dayTyped(own, daysOf(reading.week), reading.locale) : null
    if (day === undefined) return wrong(words.fields.noSuchDay)
    const time = said(cellFields.time, one.time)
    if (isWrong(time)) return wrong(time.sentence)
    const people = filled(typed.people) ? said(cellFields.people, typed.people) : { value: null }
    if (isWrong(people)) return wrong(people.sentence)
    const effort = filled(typed.effort) ? said(cellFields.effort, typed.effort) : { value: null }
    if (isWrong(effort)) return wrong(effort.sentence)
    return {
      cell,
      kind: 'hours',
      typed: {
        id: reading.idOf(cell, String(i)),
        isoWeek: reading.week,
        task,
        time: time.value,
        people: people.value,
        ...placeOf(garden, typed),
        shares: new Map(),
        workedOn: day,
        seasonId: null,
        phase: null,
        who: sheet.who,
        effort: effort.value,
        deliveryId: typed.load?.trim() || null,
        source: sheet.source,
        surely: filled(typed.surely),
      },
    }
  })
}

/** A garden, its part under one method, or a place within it; of several gardens those that are ticked, or all. */
function placeOf(garden: string, typed: TimeCell): Pick<HoursTyped, 'place' | 'shareRule'> {
  if (garden === 'all') {
    const [only = '', ...others] = typed.over
    if (typed.over.size === 1 && others.length === 0) return { place: `garden:${only}`, shareRule: null }
    return { place: [...typed.over], shareRule: filled(typed.equal) ? 'equal' : 'area' }
  }
  if (filled(typed.place)) return { place: typed.place, shareRule: null }
  return { place: garden.includes('.') ? `part:${garden}` : `garden:${garden}`, shareRule: null }
}

function lossRead(line: string, typed: LossLine, sheet: WeekSheet, reading: SheetReading): CellRead[] {
  const cell = `loss[${line}]`
  const wrong = (sentence: string): CellRead[] => [{ cell, kind: 'wrong', sentence }]
  const { words } = reading
  if (![typed.planting, typed.percent, typed.cause].some(filled)) return []
  if (!filled(typed.planting)) return wrong(words.week.whichPlanting)
  const percent = said(cellFields.percent, sent(typed.percent))
  if (isWrong(percent)) return wrong(`${words.week.shareOf} ${percent.sentence}`)
  const cause = causeNamed(sent(typed.cause), words)
  if (cause === undefined) return wrong(words.week.noCause)
  const day = dayOf(sent(typed.day), sheet, reading)
  if (day === undefined) return wrong(words.fields.noSuchDay)
  const nextDoor = typed.nextDoor?.trim() || null
  return [
    {
      cell,
      kind: 'loss',
      typed: {
        id: reading.idOf(cell),
        isoWeek: reading.week,
        plantingId: typed.planting,
        lostOn: day,
        percent: percent.value,
        cause,
        outside: typed.outside === 'yes',
        outsideBefore: false,
        alsoNextDoor: nextDoor !== null && nextDoor in words.diary.nextDoor ? nextDoor : null,
        note: null,
        surely: filled(typed.surely),
      },
    },
  ]
}

/** One loss over several plantings: a row each, by the same share, day and cause. None where they are only cleared. */
function manyRead(sheet: WeekSheet, reading: SheetReading): CellRead[] {
  const { many } = sheet
  if (!many || ![many.percent, many.cause].some(filled)) return []
  const line = { ...many, planting: undefined }
  if (many.plantings.size === 0) return [{ cell: 'many', kind: 'wrong', sentence: reading.words.week.whichPlanting }]
  return [...many.plantings].flatMap((planting) =>
    lossRead('', { ...line, planting }, sheet, { ...reading, idOf: () => reading.idOf('many', planting) }).map(
      (one) => ({ ...one, cell: 'many' }),
    ),
  )
}

/** The day that a cell says; the sheet's where it says none; else the week's own. */
export function dayOf(
  own: string,
  sheet: WeekSheet,
  reading: Pick<SheetReading, 'week' | 'today' | 'locale'>,
): IsoDate | undefined {
  const days = daysOf(reading.week)
  if (filled(own)) return dayTyped(own, days, reading.locale)
  return filled(sheet.day) ? dayTyped(sheet.day, days, reading.locale) : dayUnsaid(reading.week, reading.today)
}

/** A number alone takes the unit that its switch shows. */
const withUnit = (text: string, unit: WeightCell['unit']) =>
  unit && /^[\d.,\s]+$/.test(text.trim()) ? `${text.trim()} ${unit}` : text

function sumOf(parts: readonly string[], { unit }: SheetReading): Read<number | null> {
  if (parts.length === 0) return { value: null }
  let sum = 0
  for (const part of parts) {
    const read = said(cellFields[unit], part)
    if (isWrong(read)) return read
    sum += read.value
  }
  return { value: sum }
}

function said<T>(field: z.ZodType<T>, text: string): Read<T> {
  const read = field.safeParse(text)
  return read.success ? { value: read.data } : { sentence: firstOf(read.error.issues).message }
}

/** By the stored word, by the word that pages show, or by its beginning where that is one of them only. */
function named(text: string, words: Readonly<Record<string, string>>): string | undefined {
  const plain = text.trim().toLowerCase()
  const all = Object.entries(words).map(([code, shown]) => ({ code, names: [code, shown.toLowerCase()] }))
  const exact = all.find(({ names }) => names.includes(plain))
  if (exact) return exact.code
  const begun = all.filter(({ names }) => names.some((name) => name.startsWith(plain)))
  return begun.length === 1 ? begun[0]?.code : undefined
}

function reasonNamed(text: string, words: Words): string | null | undefined {
  return text.trim() === '' ? null : named(text, words.diary.reasons)
}

function causeNamed(text: string, words: Words): (typeof causes)[number] | undefined {
  return text.trim() === '' ? undefined : (named(text, words.diary.causes) as (typeof causes)[number] | undefined)
}

function containerNamed(text: string | undefined, { containers }: SheetReading): string | null | undefined {
  return filled(text) ? containers.get(text.trim().toLowerCase()) : null
}
