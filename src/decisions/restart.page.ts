import { drawBandedCourses } from '../drawing/banded-courses.ts'
import { formatHours, formatKilograms, formatMoney, formatNumber } from '../quantities/formatting.ts'
import { decimalsOf } from '../quantities/money.ts'
import { catalogue } from '../words/catalogue.ts'
import {
  breakEvenHoeing,
  burdenWeighed,
  covering,
  gainOfCovering,
  hoeing,
  type RestartCase,
  type WeedBurden,
} from './restart.ts'
import {
  type ChanceBand,
  decidedBy,
  middleOf,
  type RestartAsked,
  type RestartChances,
  restartChances,
} from './restart-chances.ts'
import type { HandedToLog } from './to-log.ts'

const words = catalogue.deciding.restart

interface Written {
  readonly locale: string
  readonly currency: string
}

interface Asked extends RestartAsked {
  readonly bed: string
  readonly ground: { readonly gardenId: string } | { readonly bedId: string }
  /** What is assumed, a line each. */
  readonly lines: readonly string[]
  readonly left: readonly ('wage' | 'pricePerKg' | 'materials')[]
}

/** The answer in sentences, what it leaves out, its picture with its table, and what would turn it. */
export function restartPage(asked: Asked, written: Written) {
  const chances = restartChances(asked)
  const middle = middleOf(asked)
  const needs = breakEvenHoeing(middle, asked.worth)
  const hours = (minutes: number) => formatHours(Math.round(minutes), written.locale)
  const answer = answerSaid(needs, middle, hours)
  return {
    answer,
    between: betweenSaid(needs, chances, hours),
    chance: words.chance(of100(chances.coveringLess), howOften(chances.coveringLess), seasonsSaid(asked, written)),
    after: afterSaid(chances, written),
    decides: decidesSaid(chances),
    leavesOut: leavesOutSaid(asked),
    picture: pictureOf(chances, asked, written),
    middle: middleRows(middle, asked, written),
    moved: chances.moved.map(({ key, low, high }) => ({
      name: words.rows[key],
      low: words.of100(of100(low)),
      high: words.of100(of100(high)),
    })),
    handed: handedOn(asked, needs, hours),
  }
}

/** Covering is what would be decided; what it takes is what the record can be held against. */
function handedOn(
  { bed, ground, lines, assumptions }: Asked,
  needs: number | null,
  hours: (minutes: number) => string,
): Omit<HandedToLog, 'finding' | 'question' | 'from'> {
  const { low, middle, high } = assumptions.coverMinutes
  return {
    decision: words.decision(bed),
    assumptions: lines,
    expected: needs === null ? '' : words.expected(hours(needs)),
    figure: {
      measure: 'workOnGround',
      ...ground,
      value: middle / 60,
      range: { low: low / 60, high: high / 60 },
    },
  }
}

const of100 = (share: number) => Math.round(100 * share)
const seasonsSaid = ({ seasons }: Asked, { locale }: Written) =>
  formatNumber(seasons, locale, Number.isInteger(seasons) ? 0 : 1)

function answerSaid(needs: number | null, middle: RestartCase, hours: (minutes: number) => string): string {
  if (needs === null) return words.answer.never
  return needs === 0 ? words.answer.always : words.answer.pays(hours(needs), hours(middle.hoeMinutes))
}

function betweenSaid(needs: number | null, { breakEvenMinutes }: RestartChances, hours: (minutes: number) => string) {
  if (needs === null || breakEvenMinutes === null) return null
  const { low, high } = breakEvenMinutes
  return low === high ? null : words.answer.between(hours(low), hours(high))
}

/** In words, so that 61 of 100 is not read as an answer. */
function howOften(share: number): string {
  const { how } = words
  if (share >= 0.95) return how.nearlyAlways
  if (share >= 0.75) return how.mostly
  if (share >= 0.55) return how.oftener
  if (share > 0.45) return how.even
  if (share > 0.25) return how.seldomer
  return share > 0.05 ? how.seldom : how.hardlyEver
}

function afterSaid({ breakEvenSeasons: { low, middle } }: RestartChances, { locale }: Written): string {
  const seasons = (value: number) => formatNumber(value, locale, 1)
  if (low === null) return words.after.never
  return middle === null ? words.after.late(seasons(low)) : words.after.from(seasons(low), seasons(middle))
}

function decidesSaid(chances: RestartChances): string {
  const key = decidedBy(chances)
  const moved = chances.moved.find((one) => one.key === key)
  return key && moved ? words.decides(words.named[key], of100(moved.low), of100(moved.high)) : words.decidesNothing
}

function leavesOutSaid({ worth, left }: Asked): string[] {
  const { leavesOut } = words
  return [
    ...(worth.kind === 'hours' ? [leavesOut.money] : left.includes('materials') ? [leavesOut.materials] : []),
    ...(worth.kind === 'hours' && worth.minutesPerKg === null ? [leavesOut.noOwn] : []),
    leavesOut.edge,
  ]
}

function pictureOf(chances: RestartChances, { worth }: Asked, { locale, currency }: Written) {
  const { picture: w } = words
  const money = worth.kind === 'money'
  const shown = (value: number) => (money ? value / 10 ** decimalsOf(currency) : value / 60)
  const write = (value: number, decimals: number) => formatNumber(value, locale, decimals)
  const figure = (value: number) =>
    money ? formatMoney(Math.round(value), locale, currency) : formatHours(Math.round(value), locale)
  const band = ({ low, high }: ChanceBand) => w.band(figure(low), figure(high))
  const pointsOf = (way: 'hoeing' | 'covering') =>
    chances.course.map(({ season, ...ways }) => {
      const { low, middle, high } = ways[way]
      return { x: season, low: shown(low), middle: shown(middle), high: shown(high) }
    })
  const said = (season: number) => write(season, Number.isInteger(season) ? 0 : 1)
  return {
    id: 'restart-course',
    title: money ? w.money : w.hours,
    how: w.how,
    drawing: drawBandedCourses({
      series: [
        { label: w.hoe, points: pointsOf('hoeing') },
        { label: w.cover, points: pointsOf('covering') },
      ],
      ticks: chances.course.map(({ season }) => ({ at: season, label: season === 0 ? w.now : w.season(said(season)) })),
      axis: money ? w.axisMoney(currency) : w.axisHours,
      write,
    }),
    head: [w.head.season, w.head.hoeing, w.head.hoeingBand, w.head.covering, w.head.coveringBand],
    rows: chances.course.map((one) => [
      said(one.season),
      figure(one.hoeing.middle),
      band(one.hoeing),
      figure(one.covering.middle),
      band(one.covering),
    ]),
  }
}

function middleRows(middle: RestartCase, { worth }: Asked, { locale, currency }: Written) {
  const { middleRows: w } = words
  const [hoe, cover] = [hoeing(middle), covering(middle)]
  const hours = (minutes: number) => formatHours(Math.round(minutes), locale)
  const weight = (burden: WeedBurden) => formatKilograms(Math.round(burden.lostG / 100) * 100, locale)
  const gain = gainOfCovering(middle, worth)
  const inAll = (value: number) =>
    worth.kind === 'money' ? formatMoney(Math.round(value), locale, currency) : hours(value)
  const materials = worth.kind === 'money' ? worth.materialsMinor : 0
  return [
    { name: w.hoeing, hours: hours(hoe.minutes), all: inAll(burdenWeighed(hoe, worth)) },
    { name: w.covering, hours: hours(cover.minutes), all: inAll(burdenWeighed(cover, worth) + materials) },
    { name: w.spared, hours: hours(cover.sparedMinutes), all: null },
    { name: w.lostHoeing, hours: weight(hoe), all: null },
    { name: w.lostCovering, hours: weight(cover), all: null },
    { name: w.gain, hours: null, all: inAll(gain) },
  ]
}
