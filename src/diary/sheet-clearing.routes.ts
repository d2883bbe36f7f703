import { constraintOf } from '../db/constraint.ts'
import { sent } from '../lookups/unsaid.ts'
import type { IsoDate } from '../quantities/dates.ts'
import { formatDay } from '../quantities/formatting.ts'
import { daysOf } from '../quantities/iso-week.ts'
import { clearPlanting } from '../seasons/seasons.queries.ts'
import { daysWritten } from './days-written.queries.ts'
import { refusalSaid } from './said.ts'
import { dayOf } from './sheet-cells.form.ts'
import type { WrongSheetCell } from './sheet-saving.routes.ts'
import { dayRefused } from './week-rules.ts'
import type { WeekSheet } from './week-sheet.form.ts'
import type { Writing } from './writing.routes.ts'

/**
 * Clears all that is ticked on one day, or none of it; how many were. What stands longer by its own rows is not
 * cleared.
 */
export async function clearMany(at: Writing, sheet: WeekSheet, wrong: Map<string, WrongSheetCell>): Promise<number> {
  const { many } = sheet
  if (!many?.cleared?.trim() || wrong.has('many')) return 0
  const say = (sentence: string) => {
    wrong.set('many', { sentence, ask: false })
    return 0
  }
  const clearedOn = dayOf(sent(many.day), sheet, { ...at, today: at.known.today })
  if (clearedOn === undefined) return say(at.words.fields.noSuchDay)
  const code = dayRefused({ day: clearedOn, daysOfWeek: daysOf(at.week), today: at.known.today })
  if (code) return say(refusalSaid({ code }, at.words, at.locale))
  if (many.plantings.size === 0) return say(at.words.week.whichCleared)
  try {
    // A savepoint: where one cannot be cleared, none is.
    return await at.tx.transaction(async (tx) => {
      for (const plantingId of many.plantings) await clearOne({ ...at, tx }, plantingId, clearedOn)
      return many.plantings.size
    })
  } catch (error) {
    if (error instanceof NotCleared) return say(error.message)
    const said = constraintOf(error)
    if (said === 'plantings_cleared_after_sown') return say(at.words.seasons.clearedFirst)
    if (said === 'plantings_fit_their_bed') return say(at.words.week.noRoom)
    throw error
  }
}

class NotCleared extends Error {}

async function clearOne({ tx, author, known, words, locale }: Writing, plantingId: string, clearedOn: IsoDate) {
  const planting = known.plantings.get(plantingId)
  if (!planting) throw new NotCleared(words.fields.notChosen)
  const { last } = await daysWritten(tx, author.groupId, plantingId)
  if (last !== null && last > clearedOn) throw new NotCleared(`${planting.crop}: ${words.seasons.writtenLater}`)
  const where = { groupId: author.groupId, seasonId: planting.seasonId, plantingId, clearedOn }
  const day = await clearPlanting(tx, where)
  if (day !== undefined && day !== clearedOn)
    throw new NotCleared(`${planting.crop}: ${words.seasons.clearedAlready(formatDay(day, locale))}`)
}
