import { type IsoWeek, mondayOf } from '../quantities/iso-week.ts'
import { gardenOf, type Known, type What } from './known.ts'
import { type Ruled, refuse } from './refusal.ts'

export interface ClosingTyped {
  readonly gardenId: string
  readonly isoWeek: IsoWeek
  readonly what: What
  readonly byKeeper: boolean
}

interface ClosingRow {
  readonly gardenId: string
  readonly isoWeek: IsoWeek
  readonly what: What
}

/**
 * What every door asks of closing a week, and of opening it again. A week that is still to come is not known yet.
 * Closing the weights of a garden opens its labels: whoever weighs could close, read and reopen, so a keeper does both.
 */
export function closingRuled(known: Known, typed: ClosingTyped): Ruled<ClosingRow> {
  const { gardenId, isoWeek, what, byKeeper } = typed
  if (!known.gardens.has(gardenId)) return refuse('place', 'notChosen')
  if (mondayOf(isoWeek) > known.today) return refuse('place', 'weekAhead')
  if (what === 'weights' && !byKeeper && gardensLabelled(known, isoWeek).has(gardenId)) {
    return refuse('place', 'keepersOpen')
  }
  return { kind: 'answer', row: { gardenId, isoWeek, what } }
}

/** Gardens with a label in that week, sealed or opened. */
function gardensLabelled(known: Known, isoWeek: IsoWeek): ReadonlySet<string> {
  const ending = ` ${isoWeek}`
  const labelled = [...known.labels].filter(([key]) => key.endsWith(ending)).map(([, { plantingId }]) => plantingId)
  return new Set(
    labelled.flatMap((id) => {
      const planting = known.plantings.get(id)
      return planting ? [gardenOf(known, planting)] : []
    }),
  )
}
