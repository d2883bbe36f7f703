import { firstOf } from '../../lookups/nth.ts'
import { nameIfAny } from '../../lookups/unsaid.ts'
import { formatMoney, formatNumber } from '../../quantities/formatting.ts'
import type { Words } from '../../words/catalogue.ts'
import type { Which } from '../../words/en/summary.ts'
import { wordsFor } from '../../words/locales.ts'
import { type Beside, type MeasureSummary, type Summary, widest } from './summary.ts'

/** The summary as it is read. */
interface SummaryTold {
  readonly title: string
  /** At most three: weight, work, cost. */
  readonly sentences: readonly string[]
  readonly sure: readonly { readonly about: string; readonly said: readonly string[] }[]
  readonly rests: string
  readonly price: string | null
  readonly settle: string | null
}

/** The same sentences on every page that says what a comparison found; Home and the front page take the first. */
export function summaryTold(found: Summary, locale: string, currency: string): SummaryTold {
  const words = wordsFor(locale)
  const w = words.summary
  const { sure, rests, settle } = found
  const number = (value: number) => formatNumber(value, locale, 0)
  if (found.measures.length === 0)
    return { title: w.nothing, sentences: [w.nothingSay], sure: [], rests: '', price: null, settle: null }
  const levels = (own: Summary['sure']['levels']) => {
    const ends = own.length > 2 ? [own[0] ?? 'low', own.at(-1) ?? 'low'] : own
    return ends.map((level) => w.levels[level])
  }
  const because = sure.because === null ? null : words.findings.steps[sure.because]
  const methods =
    sure.methods.length > 0 ? w.sureMethods(levels(sure.methods)) : sure.oneGarden ? w.oneGarden : w.notCarried
  const gardens = w.sureGardens(levels(sure.levels), because, sure.wholeSeasons.work, sure.wholeSeasons.cost)
  return {
    title: titleOf(found, w),
    sentences: sentencesOf(found, w, locale),
    sure: [
      {
        about: w.aboutGardens,
        said: gardens.length > 0 ? gardens : [w.sureOneSeason],
      },
      { about: w.aboutMethods, said: [methods] },
    ],
    rests: w.rests(
      rests.seasons,
      { count: rests.crops, fewer: rests.fewerCrops, singly: rests.singly },
      number(rests.plantings),
      number(rests.closed),
      number(rests.weeks),
    ),
    price: priceOf(found, w, { locale, currency }),
    settle: settle === null ? null : w.settle(settle.seasons, settle.gardens),
  }
}

type SummaryWords = Words['summary']

function titleOf(found: Summary, w: SummaryWords): string {
  const own = found.title.flatMap((measure) => found.measures.find((one) => one.measure === measure) ?? [])
  const [first] = own
  const same = own.map(({ measure }) => measure)
  // One reason for both is said once.
  if (own.length > 1 && own.every(isRefused)) return w.upper(w.title.refused(same))
  if (own.length > 1 && own.every(isDescribed)) return w.upper(w.title.described(same))
  const named = first !== undefined && first.more.length + first.less.length > 0
  const clauses = own.map((one) => clauseOf(one, { others: found.others, named: named && one !== first }, w))
  return w.upper(clauses.join('; '))
}

const told = ({ more, less, alike, untold, open, unsayable, failed }: MeasureSummary) =>
  [more, less, alike, untold, open, unsayable, failed].some((own) => own.length > 0)
const isRefused = (one: MeasureSummary) => !told(one) && one.described.length === 0
const isDescribed = (one: MeasureSummary) => !told(one) && one.described.length > 0

/** A sentence a measure; those that cannot be compared by any of several are named once. */
function sentencesOf({ measures, others }: Summary, w: SummaryWords, locale: string): string[] {
  const alone = measures.filter((one) => isRefused(one) && one.refused.length > 0)
  const [first] = alone
  const names = (one: MeasureSummary) => one.refused.join('\n')
  const together = first ? alone.filter((one) => names(one) === names(first)) : []
  return measures.flatMap((one) => {
    if (!together.includes(one) || together.length < 2) {
      const said = sentenceOf(one, others, w, locale)
      return said === '' ? [] : [said]
    }
    return one === first
      ? [
          `${w.upper(
            w.refused(
              together.map(({ measure }) => measure),
              one.refused,
            ),
          )}.`,
        ]
      : []
  })
}

/** The reference is named once: a clause after one that named it goes without. */
function clauseOf(one: MeasureSummary, before: { others: number; named: boolean }, w: SummaryWords): string {
  const { measure, more, less, reference } = one
  const { others } = before
  const than = before.named ? null : reference
  const names = (own: readonly Beside[]) => own.map((beside) => beside.name)
  if (more.length > 0 && less.length > 0) return w.title.both(measure, names([...more, ...less]), reference)
  const carriers = one.carriedBy.length === 1 ? (one.carriedBy[0]?.crops ?? []) : []
  const carried = others === 1 && carriers.length === 1 ? `, ${w.title.carried(firstOf(carriers))}` : ''
  if (more.length > 0) return `${w.title.told(measure, 'more', names(more), others, than)}${carried}`
  if (less.length > 0) return `${w.title.told(measure, 'less', names(less), others, than)}${carried}`
  if (one.untold.length + one.open.length + one.unsayable.length > 0)
    return w.title.untold(measure, others, one.open.length === others)
  if (one.failed.length > 0) return w.title.failed(measure)
  if (one.described.length > 0) return w.title.described([measure])
  return one.alike.length === others ? w.title.alike(measure) : w.title.refused([measure])
}

function sentenceOf(one: MeasureSummary, others: number, w: SummaryWords, locale: string): string {
  const { measure, reference } = one
  const names = (own: readonly Beside[]) => own.map((beside) => beside.name)
  const lowest = (own: readonly Beside[]) => times(Math.min(...own.map((beside) => beside.low ?? beside.ratio)), locale)
  const highest = (own: readonly Beside[]) =>
    times(Math.max(...own.map((beside) => beside.high ?? beside.ratio)), locale)
  const told = (own: readonly Beside[]) => {
    if (own.length === 0) return []
    if (own.length <= 2)
      return [
        w.few(
          measure,
          own.map((beside) => ({
            name: beside.name,
            times: times(beside.ratio, locale),
            range: rangeOf(beside, locale),
          })),
          reference,
        ),
      ]
    const byRatio = [...own].sort((a, b) => a.ratio - b.ratio)
    const [low, high] = [byRatio[0], byRatio.at(-1)].map((end) => ({
      name: nameIfAny(end),
      times: times(end?.ratio ?? Number.NaN, locale),
    }))
    if (!low || !high) return []
    return [w.many(measure, own.length === others ? null : names(own), [low, high], { reference, count: own.length })]
  }
  const parts = [...told(one.more), ...told(one.less), ...told(one.described)]
  /** The first part of a sentence names the measure and the reference; those after it go without. */
  const say = (own: readonly unknown[], make: (first: boolean) => string) => {
    if (own.length > 0) parts.push(make(parts.length === 0))
  }
  say(one.alike, () => w.alike(measure, names(one.alike), lowest(one.alike), highest(one.alike), reference))
  say(one.untold, (first) => {
    const which = whichUntold(one)
    const range = [lowest(one.untold), highest(one.untold)] as const
    return w.untold(measure, names(one.untold), range, { reference, which, first })
  })
  for (const { name, ratio } of one.failed)
    parts.push(w.failed(measure, name, times(ratio, locale), one.seasons, reference))
  say(one.open, () => w.open(measure, names(one.open), reference))
  say(one.unsayable, (first) => w.unsayable(measure, names(one.unsayable), one.seasons, first ? reference : null))
  say(one.refused, () => w.refused([measure], one.refused))
  const limit = one.limit === null ? '' : `${one.limit === 'one season' ? ';' : ','} ${w.limits[one.limit]}`
  const alone = one.more.length + one.less.length === 1
  const carried = one.carriedBy.map(({ name, crops }) => `; ${w.carried(alone ? null : name, crops)}`).join('')
  const [first, ...rest] = parts
  return first === undefined ? '' : w.upper(`${[`${first}${limit}${carried}`, ...rest].join('; ')}.`)
}

/** "The others" only where every one that is not among them has been named as told just before. */
function whichUntold({ more, less, untold, ...rest }: MeasureSummary): Which {
  if ([rest.described, rest.alike, rest.open, rest.unsayable, rest.refused].some((own) => own.length > 0))
    return 'named'
  if (more.length + less.length > 0) return 'the others'
  return untold.length > 2 ? 'all' : 'named'
}

function priceOf(found: Summary, w: SummaryWords, { locale, currency }: { locale: string; currency: string }) {
  // As of a ratio: ends so far apart say nothing.
  const saying = ({ low, high }: { low: number; high: number }) => low <= 0 || high / low <= widest
  const dear = found.prices.filter((one) => one.price > 0 && saying(one))
  const cheap = found.prices.filter((one) => one.price <= 0)
  const money = (minor: number) => formatMoney(minor, locale, currency)
  const parts = [
    ...(dear.length > 0
      ? [
          w.price(
            dear.map(({ name, price, low, high }) => ({
              name,
              price: money(price),
              low: money(low),
              high: money(high),
            })),
          ),
        ]
      : []),
    ...(cheap.length > 0 ? [w.priceLess(cheap.map((one) => one.name))] : []),
  ]
  return parts.length === 0 ? null : `${w.upper(parts.join('; '))}; ${w.priceSay}.`
}

const rangeOf = ({ low, high }: Beside, locale: string) =>
  low === null || high === null ? null : between(low, high, locale)

/** Ends that two digits would not tell apart have three. */
function between(low: number, high: number, locale: string): string {
  const [from, to] = [times(low, locale), times(high, locale)]
  return from === to ? `${formatNumber(low, locale, 2)}–${formatNumber(high, locale, 2)}` : `${from}–${to}`
}

/** "14", "1.2", "0.63": two digits, and a third where two would say 1 of what is not. */
export function times(ratio: number, locale: string): string {
  const digits = Number(ratio.toPrecision(2)) === 1 && ratio !== 1 ? 3 : 2
  const rounded = Number(ratio.toPrecision(digits))
  const decimals = rounded >= 10 ? 0 : Math.max(0, digits - 1 - Math.floor(Math.log10(rounded)))
  return formatNumber(rounded, locale, decimals)
}
