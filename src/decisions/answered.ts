import type { HandedToLog } from './to-log.ts'

/** A question of a season's end, answered by its own page from the record alone. */
export interface Answered {
  readonly key: 'methods' | 'compost' | 'restart' | 'payBack' | 'nextSeason'
  /** The question with its names; null: as it is asked of any group. */
  readonly about: string | null
  /** null: the record does not carry it yet. */
  readonly answer: string | null
  readonly sure: readonly string[]
  readonly change: string | null
  /** What its page hands to the log beside the answer; null where it has nothing more. */
  readonly handed: Omit<HandedToLog, 'finding' | 'question' | 'from'> | null
}

export const unanswered = (key: Answered['key']): Answered => ({
  key,
  about: null,
  answer: null,
  sure: [],
  change: null,
  handed: null,
})
