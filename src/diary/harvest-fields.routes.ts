import { asShown } from '../lookups/unsaid.ts'
import { weightAsTyped } from '../quantities/as-typed.ts'
import { choicesOf } from '../web/correcting.ts'
import { wordsHere } from '../web/words-here.ts'
import type { harvests } from './diary.table.ts'

const words = () => wordsHere().diary
const f = () => words().fields

type Row = typeof harvests.$inferSelect & { readonly boxes: readonly { value: string; label: string }[] }

const shown = (value: string | null): string => (value === null ? '' : value)

/** In which state, and when it was lifted; the lot that it is stays as it was written. */
export const whatWasWeighed = (row: Row) => [
  {
    name: 'state',
    label: f().state,
    hint: f().stateHint,
    value: shown(row.state),
    options: [{ value: '', label: words().asItCounts }, ...choicesOf(words().states)],
  },
  { name: 'liftedOn', label: f().liftedOn, type: 'date', value: shown(row.liftedOn) },
  { name: 'seedLot', label: f().seedLot, value: shown(row.seedLot) },
]

/** What the scale showed: with its container where one is kept, so that the net can be reckoned again. */
export function weightsAsWeighed(row: Row, unit: 'kg' | 'lb') {
  const full = row.containerId !== null && row.grossG !== null ? row.grossG : null
  const badOnly = full !== null && row.marketableG === 0
  const shownG = (grams: number | null) => (grams === null ? '' : weightAsTyped(grams, unit))
  const box = { name: 'containerId', label: f().container, value: asShown(row.containerId) }
  return [
    { ...box, options: [{ value: '', label: f().noContainer }, ...row.boxes] },
    {
      name: 'marketable',
      label: f().good,
      hint: full === null ? f().weightHint : f().grossHint,
      value: shownG(badOnly ? null : (full ?? row.marketableG)),
    },
    { name: 'unmarketable', label: f().bad, value: shownG(badOnly ? full : row.unmarketableG) },
  ]
}
