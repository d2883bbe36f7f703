import { nameIfAny } from '../../lookups/unsaid.ts'
import type { TrialRecord } from '../record/trial-record.ts'
import { onlyIn, regrouped } from '../totals/regrouped.ts'
import { gardenAndBed, gardenName } from './rows-tables.ts'

export interface RowsScope {
  /** The record in which `id` stands in the place of a method. */
  readonly record: TrialRecord
  readonly id: string
  readonly name: string
  /** The garden or bed that a method's rows are narrowed to. */
  readonly place: string | null
}

interface Asked {
  readonly method?: string | undefined
  readonly garden?: string | undefined
  readonly bed?: string | undefined
}

/**
 * Whose rows are asked for: a method's, all of them or those in one garden or bed; or a garden's, or a bed's. Null for
 * none of the group's.
 */
export function scopeOf(record: TrialRecord, { method, garden, bed }: Asked): RowsScope | null {
  const known = (of: readonly { id: string }[], id: string | undefined) =>
    id === undefined || of.some((one) => one.id === id)
  if (!known(record.methods, method) || !known(record.gardens, garden) || !known(record.beds, bed)) return null
  const place =
    bed === undefined
      ? garden === undefined
        ? null
        : gardenName(record, garden)
      : gardenAndBed(record, bed).join(', ')
  if (method !== undefined) {
    const name = nameIfAny(record.methods.find((one) => one.id === method))
    return { record: onlyIn(record, { gardenId: garden, bedId: bed }), id: method, name, place }
  }
  const id = bed ?? garden
  if (id === undefined || place === null) return null
  return { record: regrouped(record, bed === undefined ? 'garden' : 'bed'), id, name: place, place: null }
}
