import { formatNumber } from '../quantities/formatting.ts'
import { medianOf } from './median.ts'

export interface SeasonGuessed {
  readonly season: { readonly id: string; readonly name: string; readonly closedAt: Date | null }
  /** Beside the reference, in the group's order; `result` is the ratio, null where no crop was matched under both. */
  readonly methods: readonly { readonly id: string; readonly name: string; readonly result: number | null }[]
  readonly guesses: readonly {
    readonly personId: string
    readonly methodId: string
    readonly percent: number
    readonly createdAt: Date
  }[]
}

interface GuessRow {
  readonly season: string
  readonly seasonId: string
  readonly method: string
  readonly mine: Told | null
  readonly all: { readonly middle: Told; readonly count: number; readonly late: number } | null
  readonly result: Told | 'open' | 'hidden' | 'no match'
}

/** A difference in per cent, as the words for it take it. */
interface Told {
  readonly way: 'more' | 'less' | 'alike'
  readonly percent: string
}

/** Guesses beside results; the result of a season is there only once it is closed and this person has guessed. */
export function guessRows(seasons: readonly SeasonGuessed[], personId: string | null, locale: string): GuessRow[] {
  return seasons.flatMap(({ season, methods, guesses }) => {
    const ownSeason = guesses.some((one) => one.personId === personId)
    return methods.map((method): GuessRow => {
      const here = guesses.filter((one) => one.methodId === method.id)
      const mine = here.find((one) => one.personId === personId)
      const closed = season.closedAt
      const late = here.filter((one) => closed !== null && one.createdAt > closed).length
      const middle = medianOf(here.map((one) => one.percent))
      const seen = method.result === null ? 'no match' : told(100 * (method.result - 1), locale)
      return {
        season: season.name,
        seasonId: season.id,
        method: method.name,
        mine: mine ? told(mine.percent, locale) : null,
        all: ownSeason && middle !== null ? { middle: told(middle, locale), count: here.length, late } : null,
        result: !closed ? 'open' : ownSeason ? seen : 'hidden',
      }
    })
  })
}

export function told(percent: number, locale: string): Told {
  const whole = Math.round(percent)
  const way = whole > 0 ? 'more' : whole < 0 ? 'less' : 'alike'
  return { way, percent: formatNumber(Math.abs(whole), locale, 0) }
}
