import { taskNames } from '../diary/tasks.ts'
import { drawBarLedger } from '../drawing/bar-ledger.ts'
import { formatHours, formatKilograms, formatMoney, formatNumber } from '../quantities/formatting.ts'
import { catalogue } from '../words/catalogue.ts'
import type { LoadsCarried } from './loads-carried.ts'
import { metOfTask } from './met.ts'
import { returnPerHour, type WorthOfMethod, worthIsKnown } from './value-and-effort.ts'

const { value: words } = catalogue
const tasks = catalogue.diary.tasks

interface Written {
  readonly locale: string
  readonly currency: string
  readonly labourRateMinorPerHour?: number | null
}

interface Given {
  readonly season: string
  readonly rows: readonly WorthOfMethod[]
  /** By method; nothing was spread where there is no entry. */
  readonly loads: ReadonlyMap<string, LoadsCarried>
}

/** Prices this much lower and higher: no more certain than that. */
const lower = 0.8
const higher = 1.2

/** What keeps the worth of an hour from being said; crops first, since they can be priced on one page. */
function lackingIn(rows: readonly WorthOfMethod[]): keyof typeof words.notKnown {
  if (rows.some((row) => !worthIsKnown(row))) return 'crops'
  return rows.some((row) => row.unpricedInputs > 0) ? 'inputs' : 'hours'
}

/** The answer, its limits, its picture and its table. */
export function valuePage({ season, rows, loads }: Given, written: Written) {
  const { locale, currency } = written
  const money = (minor: number) => formatMoney(Math.round(minor), locale, currency)
  const known = rows.flatMap((row) => {
    const hour = returnPerHour(row, 1)
    return hour === null ? [] : [words.brought(row.name, money(hour))]
  })
  const answer = known.length === 0 ? words.notKnown[lackingIn(rows)] : words.answer(season, listOf(known, locale))
  const wage = written.labourRateMinorPerHour ?? null
  return {
    answer,
    handed: handedOn(rows, answer, { money, locale }),
    known: known.length > 0,
    worth: wage === null || known.length === 0 ? null : words.worth(money(wage)),
    sure: surelySaid(rows, locale),
    table: tableOf(rows, loads, { money, locale }),
    barrow: barrowSaid([...loads.values()], locale),
    picture: pictureOf(rows, { money, locale }),
    codes: codesTable(locale),
  }
}

/** What an hour brought under the method where it brought most, expected again. */
function handedOn(rows: readonly WorthOfMethod[], finding: string, { money, locale }: Telling) {
  const known = rows.flatMap((row) => {
    const value = returnPerHour(row, 1)
    return value === null ? [] : [{ row, value }]
  })
  const [first, ...others] = known
  if (!first) return null
  const most = others.reduce((best, one) => (one.value > best.value ? one : best), first)
  return {
    question: words.title,
    finding,
    assumptions: surelySaid(rows, locale),
    expected: words.expected(most.row.name, money(most.value)),
    figure: { measure: 'minorPerHour' as const, methodId: most.row.methodId, value: most.value },
  }
}

const listOf = (parts: readonly string[], locale: string) =>
  new Intl.ListFormat(locale, { type: 'conjunction' }).format(parts)

const sum = (rows: readonly WorthOfMethod[], of: (row: WorthOfMethod) => number) =>
  rows.reduce((total, row) => total + of(row), 0)

function surelySaid(rows: readonly WorthOfMethod[], locale: string): string[] {
  const kilograms = (grams: number) => formatKilograms(Math.round(grams), locale)
  const unpriced = sum(rows, (row) => row.unpricedG)
  const unknown = sum(rows, (row) => row.unknownEnergyG)
  const without = sum(rows, (row) => row.withoutCodeMinutes)
  const open = sum(rows, (row) => row.openWeeks)
  return [
    words.oneGarden,
    words.prices,
    ...(unpriced > 0 ? [words.unpriced(kilograms(unpriced))] : []),
    ...(unknown > 0 ? [words.unknownEnergy(kilograms(unknown))] : []),
    ...(without > 0 ? [words.withoutCode(formatHours(Math.round(without), locale))] : []),
    ...(open > 0 ? [words.open(open)] : []),
  ]
}

interface Telling {
  readonly money: (minor: number) => string
  readonly locale: string
}

const perM2 = (amount: number, { areaCm2 }: WorthOfMethod) => (10_000 * amount) / areaCm2
const metHours = (row: WorthOfMethod) => perM2(row.metTenthMinutes, row) / 600

/** The heaviest barrow, and how many of that weight were carried on in all. */
function barrowSaid(loads: readonly LoadsCarried[], locale: string): string | null {
  const known = loads.flatMap((one) => one.heaviest ?? [])
  const [first, ...others] = known
  if (!first) return null
  const { input, barrowG, barrowMl } = others.reduce((most, one) => (one.barrowG > most.barrowG ? one : most), first)
  const grams = loads.reduce((total, one) => total + one.grams, 0)
  const number = (value: number) => formatNumber(value, locale, 0)
  return words.barrow(input, number(barrowG / 1000), number(barrowMl / 1000), number(Math.ceil(grams / barrowG)))
}

function carriedSaid(row: WorthOfMethod, loads: Given['loads'], locale: string): string {
  const own = loads.get(row.methodId)
  if (own === undefined) return formatNumber(0, locale, 1)
  if (own.grams === 0) return words.notSaid
  const figure = formatNumber(perM2(own.grams, row) / 1000, locale, 1)
  return own.unweighed > 0 ? words.atLeast(figure) : figure
}

function tableOf(rows: readonly WorthOfMethod[], loads: Given['loads'], { money, locale }: Telling) {
  const number = (value: number, decimals: number) => formatNumber(value, locale, decimals)
  const { head } = words
  return {
    caption: words.caption,
    head: Object.entries(head).map(([key, name]) => ({ name, figure: key !== 'method' })),
    rows: rows.map((row) => {
      const [hour, low, high] = [1, lower, higher].map((times) => returnPerHour(row, times))
      return [
        row.name,
        worthIsKnown(row) ? money(perM2(row.worthMinor, row)) : words.notSaid,
        `${number(perM2(row.energyKcal, row), 0)} kcal`,
        `${number(perM2(row.minutes, row) / 60, 2)} h`,
        number(metHours(row), 1),
        carriedSaid(row, loads, locale),
        hour == null ? words.notSaid : money(hour),
        low == null || high == null ? words.notSaid : `${money(low)} – ${money(high)}`,
      ]
    }),
  }
}

function pictureOf(rows: readonly WorthOfMethod[], { money, locale }: Telling) {
  const { picture: w } = words
  const most = Math.max(...rows.map((row) => perM2(row.worthMinor, row)), 1e-9)
  const hardest = Math.max(...rows.map(metHours), 1e-9)
  const barsOf = (of: (row: WorthOfMethod) => { value: number | null; figure: string }) =>
    rows.map((row) => ({ label: row.name, ...of(row) }))
  const worth = {
    heading: w.value,
    rows: barsOf((row) => {
      const own = worthIsKnown(row) ? perM2(row.worthMinor, row) : null
      return own === null ? { value: null, figure: words.notSaid } : { value: own / most, figure: money(own) }
    }),
  }
  const effort = {
    heading: w.effort,
    rows: barsOf((row) => ({ value: metHours(row) / hardest, figure: formatNumber(metHours(row), locale, 1) })),
  }
  const priced = rows.some(worthIsKnown)
  return {
    id: 'value-and-effort',
    title: priced ? w.title : w.effortAlone,
    how: w.how,
    drawing: drawBarLedger({ groups: priced ? [worth, effort] : [effort] }),
    head: [words.head.method, w.value, w.effort],
    rows: rows.map((row) => [
      row.name,
      worthIsKnown(row) ? money(perM2(row.worthMinor, row)) : words.notSaid,
      formatNumber(metHours(row), locale, 1),
    ]),
  }
}

function codesTable(locale: string) {
  return {
    caption: words.codesCaption,
    head: [
      { name: words.codes.task, figure: false },
      { name: words.codes.code, figure: true },
      { name: words.codes.met, figure: true },
    ],
    rows: taskNames.map((task) => {
      const met = metOfTask[task]
      return [tasks[task], met?.code ?? words.noCode, met ? formatNumber(met.tenths / 10, locale, 1) : '']
    }),
  }
}
