import { mayOpen } from '../accounts/role.ts'
import { idOf } from '../db/new-id.ts'
import { asShown, linkOf } from '../lookups/unsaid.ts'
import { daysOf } from '../quantities/iso-week.ts'
import { closingRuled } from './closing-rule.ts'
import { storeEntries } from './entries.queries.ts'
import { type HoursRow, hoursRuled, isDivided } from './hours-rule.ts'
import { closedKey, gardenOf, type Known, type What } from './known.ts'
import { type LossRow, lossRuled } from './loss-rule.ts'
import { isQuestion, type RowRefusal } from './refusal.ts'
import { refusalSaid } from './said.ts'
import { type CellRead, cellsRead, type SheetReading } from './sheet-cells.form.ts'
import { clearMany } from './sheet-clearing.routes.ts'
import { broughtAndSpread, type LoadsSaved } from './sheet-loads.routes.ts'
import { twinsAsked, twinsOfGarden } from './twins-asked.ts'
import { closeWeek, containersOf, reopenWeek } from './week.queries.ts'
import type { WeekSheet } from './week-sheet.form.ts'
import { type WeighingRow, weighingRuled } from './weighing-rule.ts'
import type { Writing } from './writing.routes.ts'

/** What is wrong with a cell; `ask` where it is taken once its writer says that it is right. */
export interface WrongSheetCell {
  readonly sentence: string
  readonly ask: boolean
}

/** What a sheet that was sent has become: rows by garden, and the cells that are not stored. */
export interface SheetSaved {
  readonly gardens: ReadonlyMap<string, SavedInGarden>
  readonly names: ReadonlyMap<string, string>
  readonly wrong: ReadonlyMap<string, WrongSheetCell>
  /** Cells of which every row is stored, now or before. */
  readonly stored: ReadonlySet<string>
  readonly closed: readonly { readonly gardenId: string; readonly what: What }[]
  readonly cleared: number
  readonly reopened: number
  readonly loads: LoadsSaved
}

interface SavedInGarden {
  readonly weights: number
  readonly grams: number
  readonly minutes: number
  /** Some of the minutes lie on ground that carries several phases or methods, and are divided by area among them. */
  readonly divided: boolean
  readonly losses: number
}

type Row =
  | { readonly cell: string; readonly kind: 'weighing'; readonly row: WeighingRow }
  | { readonly cell: string; readonly kind: 'hours'; readonly row: HoursRow }
  | { readonly cell: string; readonly kind: 'loss'; readonly row: LossRow }

/** Saves what is right of a sheet, each cell under its own id, and answers what is wrong with the others. */
export async function saveSheet(before: Writing, sheet: WeekSheet): Promise<SheetSaved> {
  const wrong = new Map<string, WrongSheetCell>()
  const { at, reopened } = await reopen(before, sheet, wrong)
  const read = cellsRead(sheet, await readingOf(at, sheet))
  const rows = ruled(at, read, wrong)
  const stored = await store(at, rows, wrong)
  const cleared = await clearMany(at, sheet, wrong)
  const loads = await broughtAndSpread(at, sheet, wrong)
  const closed = await close(at, sheet, { read, stored, wrong })
  const cells = new Set(stored.map((row) => row.cell))
  const gardens = byGarden(at.known, stored)
  return { gardens, names: at.known.names, wrong, stored: cells, cleared, closed, reopened, loads }
}

async function readingOf(at: Writing, sheet: WeekSheet): Promise<SheetReading> {
  const isInCrate = [...sheet.w, ...sheet.l].some(([, cell]) => cell.crate?.trim())
  const containers = isInCrate ? await containersOf(at.tx, at.author.groupId) : []
  return {
    week: at.week,
    today: at.known.today,
    locale: at.locale,
    unit: at.request.member.group.weightUnit,
    words: at.words,
    containers: new Map(containers.flatMap(({ id, name }) => [[name.toLowerCase(), id] as const, [id, id] as const])),
    idOf: (...cell) => idOf(sheet.id, ...cell),
  }
}

/** One reason opens every week that is ticked; what is typed for it in the same sheet is then taken. */
async function reopen(at: Writing, sheet: WeekSheet, wrong: Map<string, WrongSheetCell>) {
  const asked = [
    ...[...sheet.reopenWeights].map((gardenId) => ({ gardenId, what: 'weights' as const })),
    ...[...sheet.reopenHours].map((gardenId) => ({ gardenId, what: 'hours' as const })),
  ]
  const opened = new Set<string>()
  for (const one of asked) {
    const answer = closingRuled(at.known, { ...one, isoWeek: at.week, byKeeper: isKeeper(at) })
    if (answer.kind === 'refused') wrong.set('reason', said(at, answer))
    else if (sheet.reason === null) wrong.set('reason', { sentence: at.words.week.reasonMissing, ask: false })
    else {
      await reopenWeek(at.tx, at.author.groupId, answer.row, sheet.reason)
      opened.add(closedKey(one.what, one.gardenId, at.week))
    }
  }
  const closed = new Set([...at.known.closed].filter((key) => !opened.has(key)))
  return { at: { ...at, known: { ...at.known, closed } }, reopened: opened.size }
}

const isKeeper = (at: Writing) => mayOpen(at.request.member.role, 'keeper')

const said = (at: Writing, refusal: RowRefusal): WrongSheetCell => ({
  sentence: refusalSaid(refusal, at.words, at.locale),
  ask: isQuestion(refusal),
})

/** The rows that the rules let pass. A cell of several rows is stored whole or comes back whole. */
function ruled(at: Writing, read: readonly CellRead[], wrong: Map<string, WrongSheetCell>): Row[] {
  const rows = read.flatMap((one): Row[] => {
    if (one.kind === 'wrong') {
      if (!wrong.has(one.cell)) wrong.set(one.cell, { sentence: one.sentence, ask: false })
      return []
    }
    const answer = rowOf(at.known, one)
    if ('field' in answer) {
      if (!wrong.has(one.cell)) wrong.set(one.cell, said(at, answer))
      return []
    }
    return [answer]
  })
  return rows.filter((row) => !wrong.has(row.cell))
}

function rowOf(known: Known, read: Exclude<CellRead, { kind: 'wrong' }>): Row | RowRefusal {
  const { cell } = read
  if (read.kind === 'weighing') {
    const answer = weighingRuled(known, read.typed)
    return answer.kind === 'refused' ? answer : { cell, kind: 'weighing', row: answer.row }
  }
  if (read.kind === 'loss') {
    const answer = lossRuled(known, read.typed)
    return answer.kind === 'refused' ? answer : { cell, kind: 'loss', row: answer.row }
  }
  const { typed } = read
  // Over several gardens, and none of them named: over all.
  const place = typed.place.length === 0 ? [...known.gardens] : typed.place
  const answer = hoursRuled(known, { ...typed, place })
  return answer.kind === 'refused' ? answer : { cell, kind: 'hours', row: answer.row }
}

const idIn = (row: Row) =>
  row.kind === 'weighing' ? row.row.harvest.id : row.kind === 'hours' ? row.row.labour.id : row.row.id

async function store(at: Writing, rows: readonly Row[], wrong: Map<string, WrongSheetCell>): Promise<Row[]> {
  const answers = await storeEntries(at.tx, at.author, {
    weighings: rows.flatMap((one) => (one.kind === 'weighing' ? [one.row] : [])),
    hours: rows.flatMap((one) => (one.kind === 'hours' ? [one.row] : [])),
    losses: rows.flatMap((one) => (one.kind === 'loss' ? [one.row] : [])),
  })
  return rows.filter((row) => {
    const answer = answers.get(idIn(row))
    if (answer === 'stored' || answer === 'there') return true
    const sentence = answer === 'another' ? at.words.sheet.cellSentBefore : at.words.diary.notTaken
    wrong.set(row.cell, { sentence, ask: false })
    return false
  })
}

interface Written {
  readonly read: readonly CellRead[]
  readonly stored: readonly Row[]
  readonly wrong: Map<string, WrongSheetCell>
}

/** Closes what is ticked, but for a garden with a cell that is not right or a twin that nobody has answered. */
async function close(at: Writing, sheet: WeekSheet, { read, stored, wrong }: Written) {
  const asked = [
    ...gardensTicked(at.known, sheet.closeWeights).map((gardenId) => ({ gardenId, what: 'weights' as const })),
    ...gardensTicked(at.known, sheet.closeHours).map((gardenId) => ({ gardenId, what: 'hours' as const })),
  ].filter(({ gardenId, what }) => !at.known.closed.has(closedKey(what, gardenId, at.week)))
  if (asked.length === 0) return []
  const also = new Set(stored.flatMap((row) => plantingsIn(row)))
  const answered = new Set(sheet.w.flatMap(([id, { twin }]) => (twin === 'later' || twin === 'none' ? [id] : [])))
  const twins = twinsAsked(at.known, { isoWeek: at.week, days: daysOf(at.week), also }).filter(
    (one) => !answered.has(one.id),
  )
  const closed: { gardenId: string; what: What }[] = []
  for (const { gardenId, what } of asked) {
    const cell = `${what === 'weights' ? 'closeWeights' : 'closeHours'}[${gardenId}]`
    const answer = closingRuled(at.known, { gardenId, what, isoWeek: at.week, byKeeper: isKeeper(at) })
    const refused = (sentence: string) => wrong.set(cell, { sentence, ask: false })
    const [twin] = what === 'weights' ? twinsOfGarden(at.known, twins, gardenId) : []
    if (answer.kind === 'refused') wrong.set(cell, said(at, answer))
    else if (read.some((one) => wrong.has(one.cell) && touches(at.known, one, { gardenId, what })))
      refused(at.words.week.wrongBefore)
    else if (twin) refused(at.words.week.twinBefore(twin.crop))
    else {
      await closeWeek(at.tx, at.author, answer.row)
      closed.push({ gardenId, what })
    }
  }
  return closed
}

const gardensTicked = (known: Known, ticked: ReadonlySet<string>) => [...(ticked.has('all') ? known.gardens : ticked)]

/**
 * Whether a cell speaks of that garden; one under a label is taken to speak of every garden, or it would tell which.
 */
function touches(known: Known, one: CellRead, { gardenId, what }: { gardenId: string; what: What }): boolean {
  const hours = one.cell.startsWith('h[')
  if (hours !== (what === 'hours')) return false
  const id = linkOf(one.cell.split(/[[\]]/)[1])
  if (hours) return id.split('.')[0] === gardenId || id === 'all'
  if (one.kind === 'weighing' && one.typed.shareRule !== null) {
    const { from } = one.typed
    const all = 'label' in from ? [] : from.flatMap((each) => known.plantings.get(each) ?? [])
    return all.some((each) => gardenOf(known, each) === gardenId)
  }
  const planting = known.plantings.get(id)
  return planting === undefined || gardenOf(known, planting) === gardenId
}

function plantingsIn(row: Row): string[] {
  if (row.kind === 'hours') return []
  if (row.kind === 'loss') return [row.row.plantingId]
  const { harvest, shares } = row.row
  return harvest.plantingId === null ? shares.map((one) => one.plantingId) : [harvest.plantingId]
}

/** What was stored, by garden; "" for work over several and for crates under labels, whose garden is not told. */
function byGarden(known: Known, stored: readonly Row[]): Map<string, SavedInGarden> {
  const gardens = new Map<string, SavedInGarden>()
  for (const row of stored) {
    const id = gardenIn(known, row)
    const before = gardens.get(id) ?? { weights: 0, grams: 0, minutes: 0, divided: false, losses: 0 }
    gardens.set(id, added(known, before, row))
  }
  return gardens
}

function added(known: Known, before: SavedInGarden, row: Row): SavedInGarden {
  if (row.kind === 'loss') return { ...before, losses: before.losses + 1 }
  if (row.kind === 'hours') {
    const { labour } = row.row
    const divided = before.divided || isDivided(known, labour)
    return { ...before, divided, minutes: before.minutes + labour.personMinutes }
  }
  const { marketableG, unmarketableG } = row.row.harvest
  return { ...before, weights: before.weights + 1, grams: before.grams + marketableG + unmarketableG }
}

function gardenIn(known: Known, row: Row): string {
  if (row.cell.startsWith('l[')) return ''
  const at = row.kind === 'hours' ? row.row.labour : null
  if (at?.gardenId) return at.gardenId
  const over = row.kind === 'hours' ? row.row.shares.find((one) => one.bedId !== null) : undefined
  if (over) return over.gardenId
  const plantings = at?.plantingId ? [at.plantingId] : plantingsIn(row)
  const beds = at?.bedId ? [at.bedId] : plantings.flatMap((id) => known.plantings.get(id)?.bedId ?? [])
  const [first, ...others] = new Set(beds.map((bedId) => known.gardenOfBed.get(bedId)))
  return others.length > 0 ? '' : asShown(first)
}
