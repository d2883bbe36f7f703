import { formatHours, formatKilograms, formatMoney, formatNumber } from '../quantities/formatting.ts'
import { catalogue } from '../words/catalogue.ts'
import {
  endsOf,
  type RestartHours,
  type RestartScenario,
  restart,
  restartCost,
  verdictOf,
  type Worth,
} from './restart.ts'

const words = catalogue.deciding.restart

export interface RestartAsked {
  readonly bed: string
  readonly middle: RestartScenario
  readonly hoeSeasons: { readonly low: number; readonly high: number }
  readonly coveredSeasons: { readonly low: number; readonly high: number }
  readonly factor: number
  readonly worth: Worth | null
}

/** Both ways in three columns: kindest to covering, as written, kindest to hoeing; null where there is nothing to compare. */
export function restartPage(asked: RestartAsked, { locale, currency }: { locale: string; currency: string }) {
  const ends = endsOf(asked)
  const scenarios = [ends.forCovering, asked.middle, ends.forHoeing] as const
  const [covering, middle, hoeing] = scenarios.map(restart)
  if (covering?.kind !== 'answer' || middle?.kind !== 'answer' || hoeing?.kind !== 'answer') return null
  const all: readonly RestartHours[] = [covering, middle, hoeing]
  const hours = (of: (found: RestartHours) => number) => all.map((found) => formatHours(Math.round(of(found)), locale))
  const number = (value: number) => formatNumber(value, locale, 1)
  const { worth } = asked
  const costs = worth ? scenarios.map((scenario) => restartCost(scenario, worth)) : []
  const money = (minor: number) => formatMoney(Math.round(minor), locale, currency)
  const rows: { key: keyof typeof words.rows; values: string[] }[] = [
    { key: 'hoe', values: hours((found) => found.hoeMinutes) },
    { key: 'cover', values: hours((found) => found.coverMinutes) },
    { key: 'forgone', values: all.map((found) => formatKilograms(Math.round(found.forgoneG / 100) * 100, locale)) },
    { key: 'forgoneHours', values: hours((found) => found.forgoneMinutes) },
    { key: 'covering', values: hours((found) => found.coveringMinutes) },
    { key: 'breakEven', values: all.map((found) => number(found.breakEvenSeasons)) },
  ]
  const priced: typeof rows = worth
    ? [
        { key: 'hoeCost', values: costs.map((cost) => money(cost.hoeMinor)) },
        { key: 'coverCost', values: costs.map((cost) => money(cost.coverMinor)) },
      ]
    : []
  return {
    rows: [...rows, ...priced],
    verdict: verdictOf(covering, hoeing),
    breakEven: words.breakEven(
      number(covering.breakEvenSeasons),
      number(middle.breakEvenSeasons),
      number(hoeing.breakEvenSeasons),
    ),
    decision: words.decision(asked.bed),
    expected: words.expected(number(middle.breakEvenSeasons)),
  }
}
