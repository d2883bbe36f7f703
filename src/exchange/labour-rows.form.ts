import { hoursRuled } from '../diary/hours-rule.ts'
import { refusalSaid } from '../diary/said.ts'
import { hoursForm } from '../diary/week.form.ts'
import { linkOf } from '../lookups/unsaid.ts'
import { formatDay, formatHours } from '../quantities/formatting.ts'
import { readIsoWeek, weekOf } from '../quantities/iso-week.ts'
import { readForm } from '../web/form.ts'
import { catalogue } from '../words/catalogue.ts'
import type { KnownRecord } from './known-record.ts'
import type { Cells } from './row-cells.ts'
import { type RowKind, type RowRead, refusedRow, wrongAt, wrongCells } from './row-kind.ts'

const words = catalogue.diary
const says = catalogue.rows.refused

/** Hours in one garden or bed a line, on a day or in a week, under the rules of the Week page. */
export const labourRows: RowKind = {
  name: 'labour',
  table: 'labour_entries',
  access: 'recorder',
  fields: [
    { name: 'day', isDay: true },
    { name: 'week' },
    { name: 'garden', required: true },
    { name: 'bed' },
    { name: 'task', required: true },
    { name: 'time', measure: 'time', required: true },
    { name: 'people' },
    { name: 'phase' },
    { name: 'season' },
    { name: 'who' },
    { name: 'effort' },
    { name: 'source' },
  ],
  reader: (known) => (id, cells) => readLabour(id, cells, known),
}

const columnOf = { workedOn: 'day', place: 'garden', seasonId: 'season' }

function readLabour(id: string, cells: Cells, known: KnownRecord): RowRead {
  const garden = known.gardenNamed(cells.of('garden'))
  const bed = cells.of('bed') && garden ? known.bedNamed(garden.id, cells.of('bed')) : undefined
  const season = cells.of('season') ? known.seasonNamed(cells.of('season')) : undefined
  const task = taskNamed(cells.of('task'))
  const typed = {
    id,
    place: bed ? `bed:${bed.id}` : `garden:${garden?.id ?? id}`,
    task,
    time: timeOf(cells),
    workedOn: cells.of('day'),
    seasonId: linkOf(season?.id),
    phase: cells.of('phase').toLowerCase(),
    who: cells.of('who'),
    effort: cells.of('effort'),
    source: cells.of('source') || undefined,
    surely: 'yes',
  }
  const read = readForm(hoursForm, typed)
  const wrong = read.kind === 'refused' ? wrongCells(read.errors, columnOf) : []
  if (!garden) wrong.push({ field: 'garden', reason: says.noGarden })
  if (garden && cells.of('bed') && !bed) wrong.push({ field: 'bed', reason: says.noBed })
  if (cells.of('season') && !season) wrong.push({ field: 'season', reason: says.noSeason })
  if (wrong.length > 0 || read.kind === 'refused' || !garden) return refusedRow(wrong)
  return underRules(id, read.value, { cells, known, garden, bedId: bed?.id ?? null })
}

interface Where {
  readonly cells: Cells
  readonly known: KnownRecord
  readonly garden: { readonly id: string; readonly name: string }
  readonly bedId: string | null
}

type Hours = ReturnType<typeof hoursForm.parse>

function underRules(id: string, given: Hours, { cells, known, garden, bedId }: Where): RowRead {
  const named = cells.of('week') ? readIsoWeek(cells.of('week').toUpperCase()) : undefined
  if (cells.of('week') && !named) return wrongAt('week', says.noWeek)
  const isoWeek = named ?? (given.workedOn === null ? undefined : weekOf(given.workedOn))
  if (!isoWeek) return wrongAt('day', says.dayOrWeek)
  const dayColumn = given.workedOn ? 'day' : 'week'
  const asked = (surely: boolean) =>
    hoursRuled(known.diary, {
      id,
      isoWeek,
      place: bedId === null ? `garden:${garden.id}` : `bed:${bedId}`,
      shareRule: null,
      shares: new Map(),
      task: given.task,
      time: given.time,
      people: null,
      workedOn: given.workedOn,
      seasonId: given.seasonId,
      phase: given.phase,
      who: given.who,
      effort: given.effort,
      deliveryId: null,
      source: given.source,
      surely,
    })
  const ruled = asked(true)
  if (ruled.kind === 'refused') {
    const own = { isClosed: says.weekClosed, weekAhead: says.weekAhead }[ruled.code as string]
    const column = ruled.field === 'phase' ? 'phase' : dayColumn
    return wrongAt(column, own ?? refusalSaid(ruled, catalogue, known.locale))
  }
  const question = asked(false)
  const { plantingId: _planting, shareRule: _rule, deliveryId: _load, ...row } = ruled.row.labour
  return {
    kind: 'answer',
    row,
    ask: question.kind === 'refused' ? () => refusalSaid(question, catalogue, known.locale) : undefined,
    shown: () => [
      given.workedOn ? formatDay(given.workedOn, known.locale) : isoWeek,
      bedId === null ? garden.name : `${garden.name}, ${cells.of('bed')}`,
      words.tasks[given.task],
      formatHours(row.personMinutes, known.locale),
      String(row.people),
    ],
  }
}

/** "2 x 1:30" where the people stand in a column of their own. */
function timeOf(cells: Cells): string {
  const people = cells.of('people')
  return people && !/[x×*]/i.test(cells.of('time')) ? `${people} x ${cells.withUnit('time')}` : cells.withUnit('time')
}

const taskNamed = (text: string): string =>
  Object.entries(words.tasks).find(([name, shown]) => [name, shown].includes(text.toLowerCase()))?.[0] ?? text
