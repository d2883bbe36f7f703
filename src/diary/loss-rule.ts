import type { IsoDate } from '../quantities/dates.ts'
import { daysOf, type IsoWeek } from '../quantities/iso-week.ts'
import type { Known } from './known.ts'
import { type Ruled, refuse } from './refusal.ts'
import { dayRefused, seasonOfPlanting, standingRefused } from './week-rules.ts'

export interface LossTyped {
  readonly id: string
  readonly isoWeek: IsoWeek
  readonly plantingId: string
  readonly lostOn: IsoDate
  readonly percent: number
  readonly cause: string
  readonly outside: boolean
  /** As it stood before a correction; false for a new one. */
  readonly outsideBefore: boolean
  readonly alsoNextDoor: string | null
  readonly note: string | null
  readonly surely: boolean
  /** It stands already, and its day stays as it was. */
  readonly corrected?: boolean
}

export interface LossRow {
  readonly id: string
  readonly plantingId: string
  readonly lostOn: IsoDate
  readonly isoWeek: IsoWeek
  readonly sharePermille: number
  readonly cause: string
  readonly outsideMethod: number
  readonly alsoNextDoor: string | null
  readonly note: string | null
}

/** What every door asks of a loss: it stood on that day, and an outside cause is named before the result is known. */
export function lossRuled(known: Known, typed: LossTyped): Ruled<LossRow> {
  const { id, isoWeek, plantingId, lostOn, cause, alsoNextDoor, note } = typed
  const wrongDay = dayRefused({ day: lostOn, daysOfWeek: daysOf(isoWeek), today: known.today })
  if (wrongDay) return refuse('day', wrongDay)
  const planting = known.plantings.get(plantingId)
  if (!planting) return refuse('from', 'notChosen')
  const standing = standingRefused(planting, lostOn)
  if (standing) return refuse('day', standing)
  const counted = seasonOfPlanting(known.seasons, planting, { day: lostOn, written: lostOn })
  if (counted.kind === 'refused' && !typed.corrected) return refuse('day', counted.code, { crop: planting.crop })
  const season = known.seasons.find((one) => one.id === planting.seasonId)
  if (typed.outside !== typed.outsideBefore && season?.closed) return refuse('outside', 'outsideTooLate')
  const gone = known.gone.get(plantingId)
  if (gone !== undefined && gone <= lostOn && !typed.surely) {
    return refuse('surely', 'goneAsk', { crop: planting.crop, day: gone })
  }
  const share = { sharePermille: 10 * typed.percent, outsideMethod: typed.outside ? 1 : 0 }
  return { kind: 'answer', row: { id, plantingId, lostOn, isoWeek, ...share, cause, alsoNextDoor, note } }
}
