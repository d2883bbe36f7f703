import { formatMoney, formatNumber } from '../quantities/formatting.ts'
import { catalogue } from '../words/catalogue.ts'
import type { NamesMeant } from './decided-told.ts'
import { type Expectation, figuresExpected, unitExpected } from './expectation.ts'
import { besideExpected, type SaidByRecord } from './happened.ts'

const words = catalogue.decisions.figures

interface Written {
  readonly locale: string
  readonly currency: string
}

/** What was expected, beside what the record says happened, both in the unit of the measure. */
export function outcomeShown(of: Expectation, names: NamesMeant, happened: SaidByRecord, written: Written) {
  const figure = (value: number) => figureSaid(value, of, written)
  const { lowThousandths: low, highThousandths: high } = of
  const range = low === null || high === null ? null : rangeSaid(low / 1000, high / 1000, of, written)
  return {
    expected: words.expected(whatSaid(of, names), figure(of.expectedThousandths / 1000), range),
    happened: happenedSaid(of, happened, figure),
  }
}

function whatSaid({ measure }: Expectation, { method, beside, ground, input, season }: NamesMeant): string {
  const { named } = words
  const who = method === null ? null : beside === null ? named.method(method) : named.beside(method, beside)
  const parts = [
    words.measures[measure],
    input === null ? null : named.input(input),
    who,
    ground === null ? null : named.ground(ground),
    named.season(season),
  ]
  const said = parts.filter((part) => part !== null).join(', ')
  return said.charAt(0).toUpperCase() + said.slice(1)
}

/** Of one method beside another how much more it is, or less. */
function figureSaid(value: number, of: Expectation, written: Written): string {
  const isDifference = of.besideMethodId !== null && figuresExpected.some((one) => one === of.measure)
  if (!isDifference) return inUnit(value, of, written)
  const size = inUnit(Math.abs(value), of, written)
  return value < 0 ? words.less(size) : words.more(size)
}

/** The unit once, and of what is less on both ends the smaller first. */
function rangeSaid(low: number, high: number, of: Expectation, written: Written): string {
  const [near, far] = high <= 0 ? [high, low] : [low, high]
  const figure = (value: number) => figureSaid(value, of, written)
  if (low < 0 && high > 0) return words.range(figure(low), figure(high))
  return words.range(bare(Math.abs(near), of, written), figure(far))
}

const bare = (value: number, { measure }: Expectation, { locale, currency }: Written) =>
  unitExpected[measure].startsWith('minor')
    ? formatMoney(Math.round(value), locale, currency)
    : formatNumber(value, locale, 2)

const inUnit = (value: number, of: Expectation, written: Written) =>
  `${bare(value, of, written)}${words.units[unitExpected[of.measure]]}`

function happenedSaid(of: Expectation, happened: SaidByRecord, figure: (value: number) => string): string {
  if (happened.kind === 'no season') return words.noSeason
  if (happened.kind === 'season open') return words.seasonOpen(happened.season)
  if (happened.kind === 'cannot') return words.cannot(happened.season, words.why[happened.why])
  if (happened.limit === 'at least') return words.atLeast(figure(happened.value))
  return words.happened[besideExpected(happened.value, of)](figure(happened.value))
}
