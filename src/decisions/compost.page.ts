import { drawCourse } from '../drawing/course.ts'
import type { IsoDate } from '../quantities/dates.ts'
import {
  formatArea,
  formatDay,
  formatHours,
  formatKilograms,
  formatMoney,
  formatNumber,
} from '../quantities/formatting.ts'
import { limitSaid } from '../soil/limits.page.ts'
import type { SpreadingLimit } from '../soil/limits.ts'
import { catalogue } from '../words/catalogue.ts'
import { buildUp, type CompostPlan, compostPlan, firstSeasonNitrogen, type MainNutrient } from './compost-plan.ts'
import { densities, type Product } from './compost-start.ts'
import { limitsOver, limitsPassed } from './dressing-limits.ts'
import type { Offtake } from './offtake.ts'

const words = catalogue.deciding.compost
const inchMm = 25

export interface CompostAsked {
  readonly product: Product | null
  readonly today: IsoDate
  readonly limits: readonly SpreadingLimit[]
  readonly garden: string
  readonly plan: CompostPlan
  readonly seasons: number
  readonly wantedOn: IsoDate | null
  readonly densityIsOwn: boolean
  readonly minutesPerM3: number | null
  readonly offtake: (Offtake & { season: string; areaCm2: number }) | null
  /** Longest time from order to delivery so far, and the day to order by. */
  readonly order: { readonly leadDays: number; readonly by: string } | null
}

interface Written {
  readonly locale: string
  readonly currency: string
}

/** What a layer of compost takes, costs and carries, and what of it stays; null where the plan has no ground. */
export function compostPage(asked: CompostAsked, written: Written) {
  const own = compostPlan(asked.plan)
  if (own.kind === 'refused') return null
  const heavier =
    asked.densityIsOwn || (asked.product && asked.product.kind !== 'compost')
      ? null
      : compostPlan({ ...asked.plan, densityKgPerM3: densities.high })
  const number = (value: number, decimals: number) => formatNumber(value, written.locale, decimals)
  const depth = `${number(asked.plan.depthMm, Number.isInteger(asked.plan.depthMm) ? 0 : 1)} mm`
  const money = (minor: number | null) =>
    minor === null ? null : formatMoney(Math.round(minor), written.locale, written.currency)
  const volume = `${number(own.volumeMl / 1_000_000, 2)} m³`
  const phosphorus = own.phosphorus ? `${number(own.phosphorus.perM2, 1)} g` : null
  const balance = balanceOf(own, asked, written)
  const layer = { garden: asked.garden, depth, volume, product: asked.product?.name ?? words.compostName }
  return {
    answer: words.answer({ ...layer, cost: money(own.costMinor), phosphorus }),
    volumeMl: own.volumeMl,
    rows: rowsOf(own, asked, written),
    heavier: heavier?.kind === 'answer' ? rowsOf(heavier, asked, written) : null,
    overLimits: limitsPassed(
      { nitrogen: own.nitrogen?.perM2 ?? null, phosphorus: own.phosphorus?.perM2 ?? null },
      limitsOver(asked.product?.source ?? 'compost', asked.limits, asked.wantedOn ?? asked.today),
    ).map(({ limit, gPerM2 }) => words.overLimit(number(10 * gPerM2, 0), limitSaid(limit, written.locale))),
    overInch: asked.plan.depthMm > inchMm ? depth : null,
    balance,
    picture: pictureOf(own, asked, written),
    order:
      asked.order === null || asked.wantedOn === null
        ? null
        : {
            lead: asked.order.leadDays,
            by: formatDay(asked.order.by, written.locale),
            late: asked.order.by < asked.today,
            wanted: formatDay(asked.wantedOn, written.locale),
          },
    decision: words.decision(layer),
    expected: words.expected(money(own.costMinor), phosphorus),
  }
}

type Plan = Extract<ReturnType<typeof compostPlan>, { kind: 'answer' }>
type Row = { readonly key: keyof typeof words.rows; readonly value: string | null }

function rowsOf(plan: Plan, asked: CompostAsked, { locale, currency }: Written): Row[] {
  const money = (minor: number | null) => (minor === null ? null : formatMoney(Math.round(minor), locale, currency))
  const grams = (value: number) => `${formatNumber(value, locale, value > 0 && value < 10 ? 1 : 0)} g`
  const carried = (of: Plan[MainNutrient]) =>
    of === null ? null : words.carried(`${formatNumber(of.grams / 1000, locale, 1)} kg`, grams(of.perM2))
  const firstSeason = plan.nitrogen && {
    low: grams(plan.nitrogen.perM2 * firstSeasonNitrogen.low),
    high: grams(plan.nitrogen.perM2 * firstSeasonNitrogen.high),
  }
  const minutes = asked.minutesPerM3 === null ? null : (asked.minutesPerM3 * plan.volumeMl) / 1_000_000
  return [
    { key: 'volume', value: `${formatNumber(plan.volumeMl / 1_000_000, locale, 2)} m³` },
    { key: 'mass', value: plan.freshG === null ? null : `${formatNumber(plan.freshG / 1000, locale, 0)} kg` },
    { key: 'cost', value: money(plan.costMinor) },
    { key: 'costPerM2', value: money(plan.costMinorPerM2) },
    { key: 'hours', value: minutes === null ? words.hoursUnknown : formatHours(minutes, locale) },
    { key: 'nitrogen', value: carried(plan.nitrogen) },
    { key: 'firstSeason', value: firstSeason && words.range(firstSeason.low, firstSeason.high) },
    { key: 'phosphorus', value: carried(plan.phosphorus) },
    { key: 'potassium', value: carried(plan.potassium) },
  ]
}

/** What the same layer every season would leave in the ground; null where nothing is known of it. */
function pictureOf(plan: Plan, { offtake, seasons }: CompostAsked, { locale }: Written) {
  if (offtake === null) return null
  const per = { phosphorus: offtake.phosphorusG, potassium: offtake.potassiumG }
  const known = (['phosphorus', 'potassium'] as const).flatMap((nutrient) => {
    const on = plan[nutrient]?.perM2
    return on === undefined ? [] : [{ nutrient, left: on - (10_000 * per[nutrient]) / offtake.areaCm2 }]
  })
  if (known.length === 0) return null
  const w = words.pictured
  const at = Array.from({ length: seasons + 1 }, (_, season) => season)
  const write = (value: number, decimals: number) => formatNumber(value, locale, decimals)
  const series = known.map(({ nutrient, left }) => ({
    label: words.nutrients[nutrient],
    points: at.map((x) => ({ x, y: left * x })),
  }))
  const ticks = at.filter((x) => x === 0 || x === seasons || seasons <= 10).map((x) => ({ at: x, label: String(x) }))
  return {
    id: 'layer-gathers',
    title: w.title,
    how: w.how,
    drawing: drawCourse({ series, ticks, axis: w.axis, write, fromZero: true, pegs: true }),
    head: [w.season, ...series.map(({ label }) => label)],
    rows: at.map((x) => [String(x), ...known.map(({ left }) => `${write(left * x, 1)} g`)]),
  }
}

/** Each nutrient of the layer against what the latest season's harvests carried off the same garden. */
function balanceOf(plan: Plan, { offtake, plan: { depthMm }, seasons, garden }: CompostAsked, { locale }: Written) {
  if (offtake === null) return null
  const squareMetres = offtake.areaCm2 / 10_000
  const off = { nitrogen: offtake.nitrogenG, phosphorus: offtake.phosphorusG, potassium: offtake.potassiumG }
  const grams = (value: number) => `${formatNumber(value, locale, 1)} g`
  const nutrients = ['nitrogen', 'phosphorus', 'potassium'] as const
  return {
    garden,
    season: offtake.season,
    area: formatArea(offtake.areaCm2, locale),
    unknown: offtake.unknownG > 0 ? formatKilograms(Math.round(offtake.unknownG), locale) : null,
    seasons,
    rows: nutrients.flatMap((nutrient) => {
      const on = plan[nutrient]?.perM2
      if (on === undefined) return []
      const offtakeGPerM2 = off[nutrient] / squareMetres
      const found = buildUp({ supplyGPerM2: on, offtakeGPerM2, depthMm, seasons })
      if (found.kind === 'refused') return []
      // Of nitrogen only what goes on and off is said: the rest is held in humus, washed out or lost to the air.
      const said = nutrient !== 'nitrogen'
      const stays = said && found.surplusGPerM2 > 0
      return [
        {
          nutrient,
          on: grams(on),
          off: grams(offtakeGPerM2),
          lasts: said ? formatNumber(found.seasonsCarried, locale, 1) : null,
          replacing: said ? `${formatNumber(found.replacingMm, locale, 1)} mm` : null,
          after: stays ? grams(found.afterSeasonsGPerM2) : null,
        },
      ]
    }),
  }
}
