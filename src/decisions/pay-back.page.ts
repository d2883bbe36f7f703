import { drawCourse } from '../drawing/course.ts'
import { nth } from '../lookups/nth.ts'
import { formatMoney, formatNumber } from '../quantities/formatting.ts'
import { decimalsOf } from '../quantities/money.ts'
import { catalogue } from '../words/catalogue.ts'
import { type EarnedBack, earnedBack, levelsOf, nextSettled } from './earned-back.ts'
import type { LabourBeside, Worked } from './labour-of-methods.ts'
import { type BoughtThing, thingCost } from './pay-back.ts'
import type { StepOfTwo, StepsOfMethods } from './steps-of-methods.ts'
import type { HandedToLog } from './to-log.ts'

const words = catalogue.deciding.payBack

interface Written {
  readonly locale: string
  readonly currency: string
  readonly labourRateMinorPerHour?: number | null
}

interface Names {
  readonly own: string
  readonly other: string
}

/** When what a method took more had come back: the answer, what it rests on, how sure it is, its pictures. */
export function earnedBackPage(
  { beside, steps, ...pair }: { beside: LabourBeside; steps: StepsOfMethods; own: string; other: string },
  names: Names,
  written: Written,
) {
  const wage = written.labourRateMinorPerHour ?? null
  const hours = (minutes: number) => `${formatNumber(minutes / 60, written.locale, 2)} h`
  const money = (minor: number) => formatMoney(Math.round(minor), written.locale, written.currency)
  const priced = steps.unpriced === 0
  const inHours = sentence(earnedBack(steps.hours), words.inHours, { names, figure: hours, written })
  const inMoney = priced
    ? sentence(earnedBack(steps.inputs), words.inInputs, { names, figure: money, written })
    : words.unpriced(steps.unpriced)
  const together =
    priced && steps.together && wage !== null
      ? sentence(earnedBack(steps.together), words.inBoth(money(wage)), { names, figure: money, written })
      : null
  const any = steps.hours.length > 0
  return {
    names,
    answer: any ? (together ?? inHours) : words.noSeason,
    more: any ? (together ? [inHours, inMoney] : [inMoney]) : [],
    sure: surelySaid(beside, steps),
    establishing: establishingSaid(beside, hours),
    handed: handedOn(beside, steps, { pair, names, hours }),
    pictures: any
      ? [
          pictureOf('hours', steps.hours, { names, figure: hours, shown: (one) => one / 60, written }),
          ...(priced
            ? [pictureOf('inputs', steps.inputs, { names, figure: money, shown: inUnits(written.currency), written })]
            : []),
        ]
      : [],
  }
}

interface Handing {
  readonly pair: { readonly own: string; readonly other: string }
  readonly names: Names
  readonly hours: (minutes: number) => string
}

/** What is expected of the next settled season, in hours a m2, as Compare counts them. */
function handedOn(
  beside: LabourBeside,
  { hours: steps }: StepsOfMethods,
  { pair, names, hours }: Handing,
): Omit<HandedToLog, 'finding' | 'question' | 'from'> {
  const next = nextSettled(steps)
  const assumptions = [words.rests, ...surelySaid(beside, { hours: steps })]
  if (!next) return { assumptions }
  const { value, range } = next
  return {
    assumptions,
    expected: words.expected[value > 0 ? 'more' : 'less'](names.own, names.other, hours(Math.abs(value))),
    figure: {
      measure: 'hoursPerBed',
      methodId: pair.own,
      besideMethodId: pair.other,
      value: value / 60,
      range: range && { low: range.low / 60, high: range.high / 60 },
    },
  }
}

const inUnits = (currency: string) => (minor: number) => minor / 10 ** decimalsOf(currency)

interface Saying {
  readonly names: Names
  readonly figure: (value: number) => string
  readonly written: Written
}

function sentence(found: EarnedBack, by: string, { names, figure, written }: Saying): string {
  const { own, other } = names
  const { says } = words
  const seasons = (count: number) => formatNumber(count, written.locale, 1)
  if (found.kind === 'no season') return words.noSeason
  if (found.kind === 'never more') return says.neverMore(by, own, other)
  if (found.kind === 'earned back')
    return says.earnedBack(by, own, { season: found.season, after: seasons(found.after) })
  const owing = figure(found.owing)
  if (found.kind === 'not within') {
    if (found.saved === null) return says.notSettled(by, own, owing)
    const saved = figure(Math.abs(found.saved))
    return found.saved > 0
      ? says.tooLittle(by, { own, owing, saved })
      : says.savesNothing(by, { own, other, owing, saved })
  }
  const said = says.notYet(by, { own, owing, saved: figure(found.saved), seasons: seasons(found.seasons) })
  const { low, high } = found
  if (low === null) return `${said} ${says.oneSeason}`
  return `${said} ${high === null ? says.mayBeNever(seasons(low)) : says.between(seasons(low), seasons(high))}`
}

/** The limits that stand beside the answer. */
function surelySaid(beside: LabourBeside, { hours }: Pick<StepsOfMethods, 'hours'>): string[] {
  return [
    words.cannotKnow,
    ...(hours.length > 0 && beside.settledSeasons.length < 2 ? [words.fewSeasons] : []),
    ...(beside.otherEstablishingToo ? [words.tooEstablishing] : []),
    ...(beside.openWeeks > 0 ? [words.openWeeks(beside.openWeeks)] : []),
  ]
}

function establishingSaid(beside: LabourBeside, hours: (minutes: number) => string): string | null {
  const { establishing, extra, establishingSeasons } = beside
  if (!(establishing.minutes > 0)) return null
  const seasons = establishingSeasons.join(', ')
  const more = minutesPerM2(extra)
  const written = hours(minutesPerM2(establishing))
  return more > 0 ? words.establishingMore(seasons, written, hours(more)) : words.establishingNoMore(seasons, written)
}

const minutesPerM2 = ({ minutes, areaCm2 }: Worked) => (10_000 * minutes) / areaCm2

interface Pictured extends Saying {
  readonly shown: (value: number) => number
}

/** What was taken more, summed from season's end to season's end; its table says each season too. */
function pictureOf(what: 'hours' | 'inputs', steps: readonly StepOfTwo[], { names, figure, shown, written }: Pictured) {
  const levels = levelsOf(steps)
  const [own, other] = [summed(steps, (step) => step.own), summed(steps, (step) => step.other)]
  const { picture: w } = words
  const ticks = [w.start, ...levels.map((one) => one.season)].map((label, at) => ({ at, label }))
  return {
    id: `earned-back-${what}`,
    title: w.title[what](names.own, names.other),
    how: w.how,
    drawing: drawCourse({
      series: [{ label: names.own, points: [0, ...levels.map((one) => shown(one.level))].map((y, x) => ({ x, y })) }],
      ticks,
      axis: what === 'hours' ? w.axisHours : w.axisMoney(written.currency),
      write: (value, decimals) => formatNumber(value, written.locale, decimals),
      fromZero: true,
      pegs: true,
    }),
    head: [w.head.season, w.head.took(names.own), w.head.took(names.other), w.head.more, w.head.sum],
    rows: steps.map(({ season, more }, i) => [
      season,
      ...[nth(own, i), nth(other, i), more, nth(levels, i).level].map(figure),
    ]),
  }
}

/** From the first season to the end of each. */
function summed(steps: readonly StepOfTwo[], of: (step: StepOfTwo) => number): number[] {
  let sum = 0
  return steps.map((step) => {
    sum += of(step)
    return sum
  })
}

/** The yearly cost of a tool both ways, and of an hour that it saves. */
export function thingPage(thing: BoughtThing, { locale, currency }: { locale: string; currency: string }) {
  const found = thingCost(thing)
  if (found.kind === 'refused') return null
  const money = (minor: number) => formatMoney(Math.round(minor), locale, currency)
  const perHour = found.minorPerHourSaved === null ? null : money(found.minorPerHourSaved)
  const rows: { key: keyof typeof words.thingRows; value: string | null }[] = [
    { key: 'straight', value: money(found.straightMinor) },
    { key: 'recovery', value: money(found.recoveryMinor) },
    { key: 'perHour', value: perHour },
  ]
  return { rows, perHour }
}
