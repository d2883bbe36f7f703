import { isOneOf } from '../lookups/keys.ts'
import type { IsoDate } from '../quantities/dates.ts'

/** What was weighed. Seed that was saved is a harvest of its own kind. */
export const states = ['fresh', 'trimmed', 'dried', 'from store', 'seed'] as const
export type State = (typeof states)[number]

export const isState = (text: string): text is State => isOneOf(states, text)

/** An earlier weighing of the same lot. */
export interface Lot {
  readonly plantingId: string | null
  readonly harvestedOn: IsoDate
  readonly counts: number
  readonly grams: number
}

interface Weighed {
  readonly state: State
  readonly counting: string
  readonly before: Lot | undefined
}

/** Only the state that its crop counts is added to a yield, and each lot once. */
export const countsForYield = ({ state, counting, before }: Weighed): boolean =>
  state === counting && before?.counts !== 1

/** What a lot lost between two weighings, in whole permille of the first; null where there was nothing. */
export const shrinkage = (before: number, after: number): number | null =>
  before === 0 ? null : Math.round((1000 * (before - after)) / before)
