import { firstOf, lastOf } from '../lookups/nth.ts'
import { asShown, nameIfAny, numberIn, textIn } from '../lookups/unsaid.ts'
import { addDays, type IsoDate } from '../quantities/dates.ts'
import { formatDay, formatNumber } from '../quantities/formatting.ts'
import { daysOf, dayUnsaid, weekAfter, weekNumber } from '../quantities/iso-week.ts'
import { inBedFrom } from '../seasons/bed-course.ts'
import type { Words } from '../words/catalogue.ts'
import { inCrateWith, statesOf } from './cell-choices.page.ts'
import { sealedKey } from './known.ts'
import { weeksOfLately } from './lately.ts'
import { placed } from './placed.page.ts'
import { clock, dayShort, kilograms, spanOf, weekdayShort } from './sheet-writing.page.ts'
import { taskNames } from './tasks.ts'
import { twinsAsked } from './twins-asked.ts'
import {
  type Column,
  columnSums,
  gardenOfPlanting,
  gardenOfWork,
  hourColumnsOf,
  weekColumns,
} from './week-columns.page.ts'
import type { PlantingOfSheet, SheetRows, Weighed, WorkedBefore } from './week-sheet-rows.ts'

/** Weights of crops down and columns of ground across; hours of tasks down and gardens across. */
export function weekSheet(rows: SheetRows) {
  const days = daysOf(rows.week)
  const [monday, sunday] = [firstOf(days), lastOf(days)]
  const columns = weekColumns(rows)
  const standing = rows.plantings.filter((one) => stands(one, monday, sunday))
  const cleared = rows.plantings.filter((one) => isWeighedLater(one, monday, rows))
  const everything = rows.whole && !rows.onPaper
  const later = cleared.filter((one) => everything || isAskedFor(one, { ...rows, monday }))
  const onSheet = [...standing, ...later]
  const twins = new Set(twinsAsked(rows.known, { isoWeek: rows.week, days, also: new Set() }).map((one) => one.id))
  const all = cropRows(rows, onSheet, columns)
  const now = { ...rows, columns, twins, monday, sunday, onSheet }
  const found = rows.find === '' ? [] : all.filter((row) => isFound(row, rows))
  const due = all.filter((row) => !found.includes(row) && row.plantings.some((one) => isDue(one, now)))
  const anyOpen = rows.gardens.some(({ id }) =>
    ['weights', 'hours'].some((one) => !rows.known.closed.has(`${one} ${id} ${rows.week}`)),
  )
  // Before anything was picked, a small group sees all that stands.
  const few = rows.whole || (all.length <= 8 && anyOpen && due.length === 0)
  const shown = few ? [...found, ...all.filter((row) => !found.includes(row))] : [...found, ...due]
  const hourColumns = hourColumnsOf(now)
  const tasks = taskRows(now, hourColumns)
  const sums = columnSums(now)
  return {
    week: rows.week,
    number: weekNumber(rows.week),
    numberBefore: weekNumber(weekAfter(rows.week, -1)),
    numberAfter: weekNumber(weekAfter(rows.week, 1)),
    span: spanOf(monday, sunday, rows.locale),
    before: weekAfter(rows.week, -1),
    after: weekAfter(rows.week, 1),
    dayUnsaid: weekdayShort(dayUnsaid(rows.week, rows.known.today), rows.locale),
    gardens: rows.gardens.map((garden, i) => gardenOfSheet(garden, i, now)),
    columns: columns.map((at) => ({ ...at, ...sums.weights(at) })),
    hourColumns: hourColumns.map((at) => ({ ...at, ...sums.hours(at) })),
    rows: shown.map((row) => ({ key: row.key, name: row.name, cells: columns.map((at) => cellOf(row, at, now)) })),
    standing: all.filter((row) => !shown.includes(row)).map((row) => row.name),
    /** What was cleared and is no row: it is found by its name. */
    cleared: [...new Set(cleared.filter((one) => !later.includes(one)).map((one) => kindOf([one])))],
    anyOpen,
    nothingFound: rows.find !== '' && found.length === 0,
    labels: [...rows.known.sealed]
      .map(([, label]) => labelRow(label, rows))
      .sort((a, b) => (a.label < b.label ? -1 : 1)),
    tasks: tasks.filter((task) => task.first),
    otherTasks: tasks.filter((task) => !task.first),
    standingIn: rows.gardens.map((garden) => ({
      name: garden.name,
      choices: standing
        .filter((one) => gardenOfPlanting(one.id, now.known) === garden.id)
        .map((one) => ({ value: one.id, label: placed(one, rows).replace(`${garden.name}, `, '') })),
    })),
    lossChoices: standing.map((one) => ({ value: one.id, label: placed(one, rows) })),
    waiting: rows.waits.filter((one) => one.earliest > monday && standing.some((two) => two.id === one.plantingId)),
  }
}

const stands = (one: PlantingOfSheet, monday: string, sunday: string) =>
  (one.sownOn ?? one.plantedOn ?? sunday) <= sunday && (one.clearedOn === null || one.clearedOn >= monday)

/** As long as a weight of what counts fresh is looked for once its bed is cleared. */
const daysAfterClearing = 42

/** Cleared before this week, and yet it may be weighed in it: what is kept, and what was lifted lately. */
function isWeighedLater({ id, clearedOn }: PlantingOfSheet, monday: IsoDate, { known }: SheetRows): boolean {
  if (clearedOn === null || clearedOn >= monday || !known.plantings.has(id)) return false
  return clearedOn >= addDays(monday, -daysAfterClearing) || known.plantings.get(id)?.weighedAs !== null
}

/** Of what was cleared that alone stands on the sheet which is still to weigh, is being weighed or was looked for. */
function isAskedFor(one: PlantingOfSheet, rows: SheetRows & { readonly monday: IsoDate }): boolean {
  const isKept = rows.known.plantings.get(one.id)?.weighedAs !== null
  if (rows.typedIn.has(one.id) || rows.harvests.some((row) => row.plantingId === one.id)) return true
  if (isKept && (rows.stillToWeigh.has(one.id) || isLately(one, rows))) return true
  return rows.find !== '' && isNamed(one, rows)
}

const isLately = (one: PlantingOfSheet, { picked, monday }: Pick<Now, 'picked' | 'monday'>) =>
  textIn(picked, one.id) >= addDays(monday, -7 * weeksOfLately)

interface CropRow {
  readonly key: string
  readonly name: string
  readonly plantings: readonly PlantingOfSheet[]
}

/**
 * A row a cultivar and sowing: the plantings of a matched set together; of others those of one cultivar, the first
 * sowing of each column with the first of the others. In the order of the walk: gardens, beds, crops.
 */
function cropRows(rows: SheetRows, standing: readonly PlantingOfSheet[], columns: readonly Column[]): CropRow[] {
  const place = new Map(rows.beds.map((bed, i) => [bed.id, i]))
  const column = (one: PlantingOfSheet) => columns.findIndex((at) => at.bedIds.has(one.bedId))
  const walked = [...standing].sort(
    (a, b) =>
      column(a) - column(b) || numberIn(place, a.bedId) - numberIn(place, b.bedId) || (a.crop < b.crop ? -1 : 1),
  )
  const groups = new Map<string, PlantingOfSheet[]>()
  const days = new Map<string, string[]>()
  for (const one of walked) {
    const kind = `${one.crop}, ${one.cultivar}`
    const inColumn = `${column(one)} ${kind}`
    const own = [...new Set([...(days.get(inColumn) ?? []), inBedFrom(one)])].sort()
    days.set(inColumn, own)
    const key = one.matchedSetId ?? `${kind} ${own.indexOf(inBedFrom(one))}`
    groups.set(key, [...(groups.get(key) ?? []), one])
  }
  const list = [...groups].map(([key, plantings]) => ({ key, plantings, kind: kindOf(plantings) }))
  return list.map(({ key, plantings, kind }) => {
    const alike = list.filter((one) => one.kind === kind).length > 1
    const first = asShown(plantings.map(inBedFrom).sort()[0])
    return { key, plantings, name: alike ? rows.words.week.sownRow(kind, formatDay(first, rows.locale)) : kind }
  })
}

const kindOf = ([first]: readonly PlantingOfSheet[]) => (first ? `${first.crop}, ${first.cultivar}` : '')

const isFound = (row: CropRow, rows: SheetRows) => row.plantings.some((one) => isNamed(one, rows))

function isNamed(one: PlantingOfSheet, rows: SheetRows): boolean {
  const name = placed(one, rows).toLowerCase()
  const asked = rows.find.toLowerCase().split(/\s+/).filter(Boolean)
  return asked.every((word) => name.includes(word))
}

interface Now extends SheetRows {
  readonly columns: readonly Column[]
  readonly twins: ReadonlySet<string>
  readonly monday: IsoDate
  readonly sunday: IsoDate
  readonly onSheet: readonly PlantingOfSheet[]
}

/** Written to this week, picked lately, asked for, or due by the plan. */
function isDue(one: PlantingOfSheet, now: Now): boolean {
  if (now.typedIn.has(one.id) || now.twins.has(one.id)) return true
  if (now.harvests.some((row) => row.plantingId === one.id) && !isSealed(one.id, now)) return true
  if (now.losses.some((row) => row.plantingId === one.id)) return true
  if (now.gone.some((row) => row.plantingId === one.id)) return false
  if (now.known.closed.has(`weights ${gardenOfPlanting(one.id, now.known)} ${now.week}`)) return false
  if (isLately(one, now)) return true
  if (one.clearedOn !== null && one.clearedOn < now.monday) return now.stillToWeigh.has(one.id)
  return one.standsUntil !== null && one.standsUntil <= addDays(now.sunday, 14)
}

const isSealed = (id: string, { known, week }: Pick<SheetRows, 'known' | 'week'>) =>
  known.sealed.has(sealedKey(id, week))

function cellOf(row: CropRow, at: Column, now: Now) {
  const own = row.plantings.filter((one) => at.bedIds.has(one.bedId))
  return {
    garden: at.gardenId,
    column: at.key,
    method: at.method,
    fields: own.map((one) => fieldOf(one, { row, at, now, several: own.length > 1 })),
  }
}

function fieldOf(
  one: PlantingOfSheet,
  { row, at, now, several }: { row: CropRow; at: Column; now: Now; several: boolean },
) {
  const { locale, words } = now
  const gone = now.gone.find((loss) => loss.plantingId === one.id)
  const sealed = isSealed(one.id, now)
  const bed = nameIfAny(now.beds.find((two) => two.id === one.bedId))
  return {
    id: one.id,
    name: `w[${one.id}]`,
    bed: several ? bed : '',
    label: [row.name, at.name, at.method, several ? bed : ''].filter(Boolean).join(', '),
    saved: sealed ? [] : now.harvests.filter((each) => each.plantingId === one.id).map((each) => savedOf(each, now)),
    parts: now.losses
      .filter((loss) => loss.plantingId === one.id && loss.sharePermille < 1000)
      .map((loss) => ({ id: loss.id, text: `-${formatNumber(loss.sharePermille / 10, locale, 0)} %` })),
    lost: gone
      ? { id: gone.id, text: words.week.lost(dayShort(gone.lostOn, locale), causeWord(gone.cause, words)) }
      : null,
    sealed,
    closed: now.known.closed.has(`weights ${at.gardenId} ${now.week}`),
    asks: now.twins.has(one.id),
    cleared:
      one.clearedOn !== null && one.clearedOn < now.monday ? words.week.clearedOn(dayShort(one.clearedOn, locale)) : '',
    states: statesOf(one, now),
    crateWith: inCrateWith(one, now.onSheet, now),
  }
}

const causeWord = (cause: string, words: Words) => words.diary.causes[cause as keyof Words['diary']['causes']]

/** "1.83", or "2.50 good, 0.40 not": kilograms. */
function savedOf({ id, marketableG, unmarketableG, ofCrate }: Weighed, { locale, words }: SheetRows) {
  const good = kilograms(marketableG, locale)
  const text = unmarketableG > 0 ? words.week.goodAndNot(good, kilograms(unmarketableG, locale)) : good
  return { id, text, ofCrate: ofCrate ? words.week.ofCrate : '' }
}

function labelRow(label: string, rows: SheetRows) {
  const planting = [...rows.known.sealed].find(([, one]) => one === label)?.[0].split(' ')[0]
  const own = rows.harvests.filter((one) => one.plantingId === planting)
  return {
    label,
    name: `l[${label}]`,
    title: rows.words.weighing.labelled(label),
    saved: own.map((one) => savedOf(one, rows)),
  }
}

function gardenOfSheet(garden: { id: string; name: string }, i: number, now: Now) {
  const { known, week } = now
  return {
    id: garden.id,
    name: garden.name,
    place: i + 1,
    weightsClosed: known.closed.has(`weights ${garden.id} ${week}`),
    hoursClosed: known.closed.has(`hours ${garden.id} ${week}`),
    weightsHeld: now.keeperCloses.has(garden.id),
  }
}

/** Tasks that were written this week or the week before stand first; the others behind "more tasks". */
function taskRows(now: Now, columns: ReturnType<typeof hourColumnsOf>) {
  const used = new Set([...now.labour, ...now.lastWeek.labour].map((one) => one.task))
  const usual: readonly string[] = used.size === 0 ? ['weeding', 'harvest', 'watering'] : ['weeding', 'harvest']
  const ids = now.gardens.map((garden) => garden.id)
  const isClosed = (id: string) => now.known.closed.has(`hours ${id} ${now.week}`)
  return taskNames.map((task) => {
    const named = now.words.diary.tasks[task]
    const own = now.labour.filter((one) => one.task === task)
    const rest = { name: `h[all][${task}]`, label: `${named}, ${now.words.week.several}` }
    return {
      task,
      name: named,
      first: now.onPaper || used.has(task) || usual.includes(task),
      cells: [
        ...columns.map((at) => ({
          garden: at.gardenId,
          column: at.key,
          method: at.method,
          name: `h[${at.key}][${task}]`,
          label: [named, at.name, at.method].filter(Boolean).join(', '),
          places: at.places,
          closed: isClosed(at.gardenId),
          zero: isClosed(at.gardenId),
          saved: own.filter((one) => at.holds(one)).map((one) => timeSaved(one, at, now)),
        })),
        {
          garden: 'all',
          column: 'all',
          method: '',
          ...rest,
          places: [],
          closed: ids.some(isClosed),
          /** What is not written is zero only where every garden of the cell is closed. */
          zero: ids.every(isClosed),
          saved: own
            .filter((one) => gardenOfWork(one, now.known) === undefined)
            .map((one) => ({ id: one.id, text: clock(one.personMinutes), byArea: '' })),
        },
      ],
    }
  })
}

/** What is divided by area between what its ground carries says so. */
function timeSaved(one: WorkedBefore, at: { readonly parted: boolean }, { words }: Now) {
  const divided = one.phase === null || (at.parted && one.gardenId !== null)
  return { id: one.id, text: clock(one.personMinutes), byArea: divided ? words.week.byArea : '' }
}
