import { methodMark } from '../drawing/method-marks.ts'
import { numberIn } from '../lookups/unsaid.ts'
import type { IsoDate } from '../quantities/dates.ts'
import { formatDay, formatHours, formatMoney, formatNumber } from '../quantities/formatting.ts'
import { limitSaid } from '../soil/limits.page.ts'
import type { SpreadingLimit } from '../soil/limits.ts'
import { catalogue } from '../words/catalogue.ts'
import type { DaysToSowing } from './days-to-sowing.ts'
import { limitsOver, limitsPassed } from './dressing-limits.ts'
import { layersTable, needTable, type Writers, withNeeded } from './dressing-need.page.ts'
import { dressingPicture } from './dressing-picture.page.ts'
import type { DressingRow } from './dressing-plan.ts'
import { layable } from './needed-layer.ts'
import type { TestedLast } from './tested-last.ts'

const words = catalogue.dressing
const inchMm = 25

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
  const w: Writers = {
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
    picture: dressingPicture(laid, locale),
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
    layers: layersTable(asked.rows, w),
    withNeeded: withNeeded(asked.rows),
    need: needTable(asked.rows, asked.tests, w),
    timing: timingTable(asked.timing, w),
    range: rangeSaid(asked.timing),
    heaviestBarrow: heaviest(laid, asked.barrowMl, w),
    decision: laid.map((row) => decisionOf(row, w)).join(' '),
  }
}

/** Null where one part of it is not known: a sum of the rest would look like all. */
function sumOver(rows: readonly DressingRow[], of: (row: DressingRow) => number | null): number | null {
  return rows.reduce<number | null>((sum, row) => {
    const part = of(row)
    return sum === null || part === null ? null : sum + part
  }, 0)
}

function wholeOf(rows: readonly DressingRow[], w: Writers) {
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

function mostPhosphorus(rows: readonly DressingRow[], w: Writers): string | null {
  const known = rows.flatMap((row) =>
    row.seasonsOfPhosphorus === null ? [] : [{ row, times: row.seasonsOfPhosphorus }],
  )
  const most = known.toSorted((a, b) => b.times - a.times)[0]
  if (!most || most.times <= 1) return null
  const mm = most.row.needed && layable(most.row.needed)
  return words.most({
    method: most.row.method.name,
    times: w.number(most.times, most.times < 10 ? 1 : 0),
    needed: mm === null ? null : mm === 0 ? words.noneNeeded : `${w.number(mm, 1)} mm`,
  })
}

/** By kind of source: limits are of manure or of compost, the advice on thickness is compost's. */
function warningsOf(rows: readonly DressingRow[], { tests, limits, day }: DressingAsked, w: Writers): string[] {
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
function centimetres(mm: number, w: Writers): string {
  const hundredths = Math.round(10 * mm)
  return `${w.number(hundredths / 100, hundredths % 10 === 0 ? (hundredths % 100 === 0 ? 0 : 1) : 2)} cm`
}

function shownRow(row: DressingRow, { places }: DressingAsked, w: Writers) {
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

function layerSaid({ method, depthMm, unitThousandths }: DressingRow, w: Writers): string {
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

const decisionOf = (row: DressingRow, w: Writers) => `${row.method.name}: ${layerSaid(row, w)}.`

function perKgSaid(rows: readonly DressingRow[]): string | null {
  const seasons = [
    ...new Set(rows.flatMap((row) => (row.costMinorPerKg === null ? [] : (row.method.last?.season ?? [])))),
  ]
  return seasons.length === 0 ? null : words.perKgSay(seasons.join(', '))
}

function timingTable(timing: readonly DaysToSowing[], w: Writers) {
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

function heaviest(rows: readonly DressingRow[], barrowMl: number, w: Writers): string | null {
  const densities = rows.flatMap((row) => row.method.product?.made.densityKgPerM3 ?? [])
  return densities.length === 0 ? null : w.number((Math.max(...densities) * barrowMl) / 1_000_000, 0)
}
