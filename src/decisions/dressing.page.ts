import { methodMark } from '../drawing/method-marks.ts'
import { numberIn } from '../lookups/unsaid.ts'
import type { IsoDate } from '../quantities/dates.ts'
import { formatDay, formatHours, formatMoney, formatNumber } from '../quantities/formatting.ts'
import { withSign } from '../quantities/printed-limits.ts'
import type { Band } from '../soil/bands.ts'
import { limitSaid } from '../soil/limits.page.ts'
import type { HeldLimit, SpreadingLimit } from '../soil/limits.ts'
import { catalogue } from '../words/catalogue.ts'
import type { DaysToSowing } from './days-to-sowing.ts'
import { limitsOver, limitsPassed } from './dressing-limits.ts'
import type { DressingRow } from './dressing-plan.ts'

const words = catalogue.dressing
const inchMm = 25

export interface TestedLast {
  readonly methodId: string
  readonly analyte: 'P' | 'K'
  readonly value: string
  readonly beyond: string | null
  readonly unit: string
  readonly extractant: string | null
  readonly band: Band | null
}

export interface DressingAsked {
  readonly rows: readonly DressingRow[]
  /** Of each method its place among all, for its mark. */
  readonly places: ReadonlyMap<string, number>
  readonly tests: readonly TestedLast[]
  readonly timing: readonly DaysToSowing[]
  readonly orders: readonly {
    readonly product: string
    readonly by: string
    readonly lead: number
    readonly late: boolean
  }[]
  readonly readyHeaps: readonly string[]
  readonly limits: readonly SpreadingLimit[]
  /** On which it goes on: the limits of that day hold. */
  readonly day: IsoDate
  readonly barrowMl: number
  readonly bagMl: number
}

interface Written {
  readonly locale: string
  readonly currency: string
}

/** The whole group's dressing: its sentence, the table that carries it, what it needs and when it went on so far. */
export function dressingPage(asked: DressingAsked, written: Written) {
  const { locale, currency } = written
  const w: Writing = {
    number: (value, decimals) => formatNumber(value, locale, decimals),
    money: (minor) => (minor === null ? null : formatMoney(Math.round(minor), locale, currency)),
    hours: (minutes) => formatHours(minutes, locale),
    day: (day) => formatDay(day, locale),
    limit: (limit) => limitSaid(limit, locale),
  }
  const laid = asked.rows.filter((row) => row.method.product !== null && row.depthMm !== 0)
  return {
    answer: laid.length === 0 ? words.nothing : words.answer(wholeOf(laid, w)),
    most: mostPhosphorus(laid, w),
    orders: asked.orders.map(({ product, by, lead, late }) => {
      const said = { product, day: w.day(by), lead: String(lead) }
      return late ? words.orderLate(said) : words.orderBy(said)
    }),
    heaps: asked.readyHeaps.map((heap) => words.heapReady(heap)),
    warnings: warningsOf(laid, asked, w),
    sure: sureSaid(laid),
    rows: asked.rows.map((row) => shownRow(row, asked, w)),
    sizes: words.sizes({ barrow: w.number(asked.barrowMl / 1000, 0), bag: w.number(asked.bagMl / 1000, 0) }),
    perKg: perKgSaid(laid),
    need: needTable(asked, w),
    timing: timingTable(asked.timing, w),
    range: rangeSaid(asked.timing),
    heaviestBarrow: heaviest(laid, asked.barrowMl, w),
    decision: laid.map((row) => decisionOf(row, w)).join(' '),
  }
}

interface Writing {
  readonly number: (value: number, decimals: number) => string
  readonly money: (minor: number | null) => string | null
  readonly hours: (minutes: number) => string
  readonly day: (day: string) => string
  readonly limit: (limit: HeldLimit) => string
}

/** Null where one part of it is not known: a sum of the rest would look like all. */
function sumOver(rows: readonly DressingRow[], of: (row: DressingRow) => number | null): number | null {
  return rows.reduce<number | null>((sum, row) => {
    const part = of(row)
    return sum === null || part === null ? null : sum + part
  }, 0)
}

function wholeOf(rows: readonly DressingRow[], w: Writing) {
  const volumeMl = rows.reduce((sum, row) => sum + (row.volumeMl === null ? 0 : row.volumeMl), 0)
  const mass = sumOver(rows, (row) => row.massG)
  const minutes = sumOver(rows, (row) => row.minutes)
  return {
    goesOn: words.and([
      ...(volumeMl > 0 ? [`${w.number(volumeMl / 1_000_000, 2)} m³`] : []),
      ...rows.filter((row) => row.volumeMl === null).map((row) => layerSaid(row, w)),
    ]),
    mass: mass === null ? null : `${w.number(mass / 1_000_000, 2)} t`,
    cost: w.money(sumOver(rows, (row) => row.costMinor)),
    hours: minutes === null ? null : w.hours(minutes),
  }
}

function mostPhosphorus(rows: readonly DressingRow[], w: Writing): string | null {
  const known = rows.flatMap((row) =>
    row.seasonsOfPhosphorus === null ? [] : [{ row, times: row.seasonsOfPhosphorus }],
  )
  const most = known.toSorted((a, b) => b.times - a.times)[0]
  return most && most.times > 1 ? words.most(most.row.method.name, w.number(most.times, most.times < 10 ? 1 : 0)) : null
}

/** By kind of source: limits are of manure or of compost, the advice on thickness is compost's. */
function warningsOf(rows: readonly DressingRow[], { tests, limits, day }: DressingAsked, w: Writing): string[] {
  return rows.flatMap(({ method, broughtGPerM2, depthMm }) => {
    const { product, name } = method
    const high = tests
      .filter((one) => one.methodId === method.methodId && one.band === 'high')
      .map((one) => one.analyte)
    const over = product === null ? [] : limitsPassed(broughtGPerM2, limitsOver(product.source, limits, day))
    return [
      ...over.map(({ limit, gPerM2 }) => words.overLimit(name, w.number(10 * gPerM2, 0), w.limit(limit))),
      ...(product?.kind === 'compost' && depthMm !== null && depthMm > inchMm ? [words.overInch(name)] : []),
      ...(high.length > 0 ? [words.testHigh(name, [...new Set(high)].join(', '))] : []),
    ]
  })
}

function sureSaid(rows: readonly DressingRow[]): string[] {
  const named = (of: (row: DressingRow) => boolean) =>
    [...new Set(rows.filter(of).flatMap((row) => row.method.product?.name ?? []))].join(', ')
  const published = named((row) => row.method.product?.made.published !== null)
  const unweighed = named((row) => row.massG === null)
  return [
    words.restsOn,
    ...(published === '' ? [] : [words.published(published)]),
    ...(unweighed === '' ? [] : [words.unknownMass(unweighed)]),
  ]
}

/** With as many decimals as it has, two at most: what is printed is what was typed. */
function centimetres(mm: number, w: Writing): string {
  const hundredths = Math.round(10 * mm)
  return `${w.number(hundredths / 100, hundredths % 10 === 0 ? (hundredths % 100 === 0 ? 0 : 1) : 2)} cm`
}

function shownRow(row: DressingRow, { places }: DressingAsked, w: Writing) {
  const { method } = row
  const place = numberIn(places, method.methodId)
  return {
    name: method.name,
    mark: { place, path: methodMark(place, { x: 8, y: 8, reach: 5.5 }) },
    gardens: method.gardens.join(', '),
    layer: layerSaid(row, w),
    notes: [
      ...(row.settledMm !== null && row.settledMm > 0 ? [words.settled(`${w.number(row.settledMm / 10, 1)} cm`)] : []),
      ...(row.fromHeaps.length > 0
        ? [
            words.fromHeaps(
              row.fromHeaps.map((one) => words.heapPart(w.number(one.volumeMl / 1_000_000, 2), one.name)).join(', '),
            ),
          ]
        : []),
    ],
    figures: nothingGoesOn(row)
      ? Array(8).fill('–')
      : [
          row.volumeMl === null ? null : w.number(row.volumeMl / 1_000_000, 2),
          row.massG === null ? null : w.number(row.massG / 1_000_000, 2),
          row.barrows === null ? null : w.number(row.barrows, 0),
          row.bags === null ? null : w.number(row.bags, 0),
          row.minutes === null ? null : w.number(row.minutes / 60, 1),
          w.money(row.costMinor),
          w.money(row.costMinorPerM2),
          w.money(row.costMinorPerKg),
        ],
  }
}

const nothingGoesOn = ({ method, depthMm }: Pick<DressingRow, 'method' | 'depthMm'>) =>
  method.product === null || depthMm === 0

function layerSaid({ method, depthMm, unitThousandths }: DressingRow, w: Writing): string {
  const { product } = method
  if (product === null || nothingGoesOn({ method, depthMm })) return words.noProduct
  if (depthMm !== null) return words.fresh(centimetres(depthMm, w), product.name)
  const count = unitThousandths === null ? null : unitThousandths / 1000
  return words.load(
    count === null ? catalogue.deciding.unknown : w.number(count, Number.isInteger(count) ? 0 : 1),
    product.unit,
    product.name,
  )
}

const decisionOf = (row: DressingRow, w: Writing) => `${row.method.name}: ${layerSaid(row, w)}.`

function perKgSaid(rows: readonly DressingRow[]): string | null {
  const seasons = [
    ...new Set(rows.flatMap((row) => (row.costMinorPerKg === null ? [] : (row.method.last?.season ?? [])))),
  ]
  return seasons.length === 0 ? null : words.perKgSay(seasons.join(', '))
}

function needTable({ rows, tests }: DressingAsked, w: Writing) {
  const c = words.needColumns
  const grams = (value: number | null | undefined) =>
    value === null || value === undefined ? catalogue.deciding.unknown : `${w.number(value, 1)} g`
  const depth = (mm: number | null) => (mm === null ? catalogue.deciding.unknown : `${w.number(mm, 1)} mm`)
  return {
    caption: words.needHeading,
    captionUnseen: true,
    head: [
      { name: c.method, figure: false },
      ...[c.takenP, c.takenK, c.replacesP, c.replacesK, c.nitrogen, c.phosphorus, c.potassium].map((name) => ({
        name,
        figure: true,
      })),
      { name: c.tests, figure: false },
    ],
    rows: rows.map((row) => [
      row.method.name,
      grams(row.takenGPerM2?.phosphorus),
      grams(row.takenGPerM2?.potassium),
      depth(row.replacing.phosphorusMm),
      depth(row.replacing.potassiumMm),
      grams(row.broughtGPerM2.nitrogen),
      grams(row.broughtGPerM2.phosphorus),
      grams(row.broughtGPerM2.potassium),
      testsSaid(tests.filter((one) => one.methodId === row.method.methodId)),
    ]),
  }
}

function testsSaid(tests: readonly TestedLast[]): string {
  if (tests.length === 0) return words.noTest
  return tests
    .map(({ analyte, value, beyond, unit, extractant, band }) =>
      words.testSaid({
        analyte,
        value: `${withSign(value, beyond)} ${unit}${extractant === null ? '' : `, ${extractant}`}`,
        band: band === null ? null : catalogue.soil.bands[band],
      }),
    )
    .join('; ')
}

function timingTable(timing: readonly DaysToSowing[], w: Writing) {
  const c = words.timingColumns
  if (timing.length === 0) return null
  return {
    caption: words.timingHeading,
    captionUnseen: true,
    head: [
      { name: c.garden, figure: false },
      { name: c.season, figure: false },
      { name: c.on, figure: false },
      ...[c.days, c.stands, c.roots].map((name) => ({ name, figure: true })),
    ],
    rows: timing.map(({ garden, season, input, spreadOn, days, stands, roots }) => [
      garden,
      season,
      { text: w.day(spreadOn), note: input },
      days === null ? catalogue.deciding.unknown : String(days),
      stands === null ? '' : words.ofSown(w.number(stands.standing, 0), w.number(stands.sown, 0)),
      roots === null ? '' : `${w.number((100 * roots.badGrams) / roots.grams, 0)} %`,
    ]),
  }
}

function rangeSaid(timing: readonly DaysToSowing[]): string | null {
  const days = timing.flatMap((one) => one.days ?? [])
  return days.length < 2 ? null : words.timingRange(String(Math.min(...days)), String(Math.max(...days)))
}

function heaviest(rows: readonly DressingRow[], barrowMl: number, w: Writing): string | null {
  const densities = rows.flatMap((row) => row.method.product?.made.densityKgPerM3 ?? [])
  return densities.length === 0 ? null : w.number((Math.max(...densities) * barrowMl) / 1_000_000, 0)
}
