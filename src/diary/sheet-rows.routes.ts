import { idOf } from '../db/new-id.ts'
import { thursdayOf } from '../quantities/iso-week.ts'
import { readForm } from '../web/form.ts'
import { catalogue } from '../words/catalogue.ts'
import { enterHarvest, enterHours, enterLabelled, enterLoss } from './entering.routes.ts'
import { sealedKey } from './known.ts'
import type { CellsOfWeighing, Sheet } from './sheet.form.ts'
import type { WrongCells } from './sheet.page.ts'
import { harvestForm, hoursForm, lossForm } from './week.form.ts'
import { labelledForm } from './weighing.form.ts'
import type { Errors, Writing } from './writing.routes.ts'

const words = catalogue.sheet

export class WrongSheet extends Error {
  readonly cells: WrongCells
  /** Whether every row of it stands already under the sheet's id, otherwise or removed: it takes a new one. */
  readonly anew: boolean
  constructor(cells: WrongCells, anew = false) {
    super('cells of the sheet are wrong')
    this.cells = cells
    this.anew = anew
  }
}

/** Enters every row of a sheet; throws, so that all of them are taken back, where one cell is wrong or none is filled in. */
export async function enterSheet(at: Writing, sheet: Sheet): Promise<void> {
  const entered = new Entered()
  await weightsIn(at, sheet, entered)
  await lossesIn(at, sheet, entered)
  await hoursIn(at, sheet, entered)
  if (entered.rows === 0) throw new WrongSheet({ sheet: words.blank })
  if (entered.taken === entered.rows) throw new WrongSheet({ sheet: words.sentBefore }, true)
  if (Object.keys(entered.wrong).length > 0) throw new WrongSheet(entered.wrong)
}

class Entered {
  rows = 0
  /** Rows under whose ids something else was stored from this sheet before. */
  taken = 0
  readonly wrong: Record<string, string> = {}
  /** Counts a row, and keeps what is wrong with it at the cell that each field was typed in; the first of two sentences. */
  add(errors: Errors | void, cell: (field: string) => string): void {
    this.rows += 1
    if (errors?.id) this.taken += 1
    for (const [field, sentence] of Object.entries(errors ?? {}))
      this.wrong[cell(field)] ??= field === 'id' ? words.cellSentBefore : sentence
  }
}

const filledIn = (cells: Readonly<Record<string, string | undefined>>) =>
  Object.values(cells).some((cell) => cell?.trim())

const cellOfWeight: Readonly<Record<string, string>> = {
  harvestedOn: 'day',
  unmarketable: 'bad',
  why: 'why',
  pieces: 'pieces',
}

async function weightsIn(at: Writing, sheet: Sheet, entered: Entered): Promise<void> {
  const unit = at.request.member.group.weightUnit
  const typed = (key: string, { day, good, bad, why, pieces }: CellsOfWeighing) => ({
    ...{ id: idOf(sheet.id, key), harvestedOn: day?.trim() || thursdayOf(at.week) },
    ...{ marketable: good ?? '', unmarketable: bad ?? '', why: why ?? '', pieces: pieces ?? '', containerId: '' },
    ...{ source: 'paper', surely: sheet.surely },
  })
  for (const [plantingId, cells] of sheet.weights) {
    if (!filledIn(cells)) continue
    // Its line was on the grid before it had a label, and is there no more: no cell could say so.
    if (at.known.sealed.has(sealedKey(plantingId, at.week))) throw new WrongSheet({ sheet: words.labelledSince })
    const read = readForm(harvestForm(unit), { ...typed(plantingId, cells), plantingId })
    const errors = read.kind === 'refused' ? read.errors : await enterHarvest(at, read.value)
    entered.add(errors, (field) => `weights[${plantingId}][${cellOfWeight[field] ?? 'good'}]`)
  }
  for (const [label, cells] of sheet.labelled) {
    if (!filledIn(cells)) continue
    const read = readForm(labelledForm(unit), { ...typed(label, cells), label })
    const errors = read.kind === 'refused' ? read.errors : await enterLabelled(at, read.value)
    entered.add(errors, (field) => `labelled[${label}][${cellOfWeight[field] ?? 'good'}]`)
  }
}

const cellOfLoss: Readonly<Record<string, string>> = {
  plantingId: 'planting',
  lostOn: 'day',
  cause: 'cause',
  alsoNextDoor: 'nextDoor',
}

async function lossesIn(at: Writing, sheet: Sheet, entered: Entered): Promise<void> {
  for (const [line, cells] of sheet.losses) {
    if (!filledIn(cells)) continue
    const { planting = '', day, share, cause, nextDoor } = cells
    const read = readForm(lossForm, {
      ...{ id: idOf(sheet.id, 'loss', line), plantingId: planting, lostOn: day?.trim() || thursdayOf(at.week) },
      ...{ percent: share ?? '', cause: cause ?? '', outside: 'no', alsoNextDoor: nextDoor ?? '', note: '' },
    })
    const errors = read.kind === 'refused' ? read.errors : await enterLoss(at, read.value)
    entered.add(errors, (field) => `losses[${line}][${cellOfLoss[field] ?? 'share'}]`)
  }
}

async function hoursIn(at: Writing, sheet: Sheet, entered: Entered): Promise<void> {
  for (const [gardenId, tasks] of sheet.hours) {
    for (const [task, time] of Object.entries(tasks)) {
      if (!time.trim()) continue
      const read = readForm(hoursForm, {
        ...{ id: idOf(sheet.id, gardenId, task), place: `garden:${gardenId}`, task, time },
        ...{ workedOn: '', seasonId: '', phase: sheet.phase ?? '', who: sheet.who ?? '', effort: '' },
        ...{ source: 'paper', surely: sheet.surely },
      })
      const errors = read.kind === 'refused' ? read.errors : await enterHours(at, read.value)
      entered.add(errors, () => `hours[${gardenId}][${task}]`)
    }
  }
}
