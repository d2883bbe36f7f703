import { drawCourse } from '../drawing/course.ts'
import { theOne } from '../lookups/held.ts'
import { firstOf, lastOf } from '../lookups/nth.ts'
import type { IsoDate } from '../quantities/dates.ts'
import { formatNumber } from '../quantities/formatting.ts'
import { catalogue } from '../words/catalogue.ts'
import {
  type GardenLedger,
  kgPerHaOf,
  type LedgerEntry,
  type LedgerRows,
  type LedgerSeason,
  ledgerOf,
  type SpreadOn,
  type Sum,
} from './ledger.ts'
import { perHaSaid } from './limits.page.ts'
import { overLimits, type SpreadingLimit } from './limits.ts'
import type { MadeUp } from './made-up-of.ts'
import type { Nutrient } from './nutrients.ts'

const words = catalogue.ledger

interface Named {
  readonly id: string
  readonly name: string
}

interface LedgerAsked extends Omit<LedgerRows, 'gardens' | 'seasons' | 'spreadings'> {
  readonly gardens: readonly Named[]
  readonly seasons: readonly Named[]
  readonly spreadings: readonly (SpreadOn & { readonly appliedOn: IsoDate; readonly made: MadeUp })[]
  readonly greenManures: readonly { readonly gardenId: string | null; readonly crop: string }[]
}

const mostOver = 3

interface Asked {
  /** Null where one of those typed cannot be read. */
  readonly limits: readonly SpreadingLimit[] | null
  readonly locale: string
}

/** What came and what left of one nutrient: the sentence, the table that carries it, its course; null: no ground. */
export function nutrientLedgerPage(rows: LedgerAsked, nutrient: Nutrient, asked: Asked) {
  const { limits, locale } = asked
  const ledger = ledgerOf(rows).filter(({ seasons }) => seasons.length > 0)
  if (ledger.length === 0) return null
  const all = gardensOver(ledger, rows, nutrient)
  const span = words.span(firstOf(rows.seasons).name, lastOf(rows.seasons).name)
  const inputs = inputsUsed(rows.spreadings)
  const over = limits ? overLimits(rows, ledger, limits) : []
  const write = (value: number, decimals = 1) => formatNumber(value, locale, decimals)
  const saidOver = over.map(({ gardenId, seasonId, kgPerHa, limit }) =>
    words.over({
      garden: nameOf(rows.gardens, gardenId),
      season: nameOf(rows.seasons, seasonId),
      source: catalogue.limits.ofSource[limit.source],
      nutrient: words.nutrients[limit.nutrient],
      kg: write(kgPerHa, 0),
      limit: perHaSaid(limit.mostMgPerM2, locale),
      rule: limit.rule ?? catalogue.limits.typed,
    }),
  )
  const name = words.nutrients[nutrient]
  return {
    answer: answerOf(all, { nutrient: name, span, write }),
    over: saidOver.slice(0, mostOver),
    overMore: saidOver.length > mostOver ? words.overMore(saidOver.length - mostOver) : null,
    sure: [
      words.sure,
      ...all.flatMap(({ garden, unknown }) =>
        unknown.length > 0 ? [words.unknownOf(garden, unknown.join(', '))] : [],
      ),
      ...(inputs.some((one) => one.isPublished)
        ? [words.publishedUsed(inputs.filter((one) => one.isPublished).length)]
        : []),
    ],
    table: {
      caption: words.caption(name, span),
      head: headOf(['garden', 'brought', 'found', 'taken', 'left', 'perHa']),
      rows: all.map(({ garden, brought, found, taken, leftMgPerM2 }) => [
        garden,
        sumShown(brought, write),
        asideShown(found, write),
        sumShown(taken, write),
        leftMgPerM2 === null ? words.unknown : write(leftMgPerM2 / 1000),
        leftMgPerM2 === null ? words.unknown : write(kgPerHaOf(leftMgPerM2), 0),
      ]),
    },
    picture: pictureOf(ledger, rows, { nutrient, write }),
    seasons: seasonTable(ledger, rows, { nutrient, write, caption: words.caption(name, span) }),
    made: madeTable(inputs, write),
    greenManures: greenSaid(rows),
  }
}

interface PerM2 {
  readonly mgPerM2: number
  readonly unknown: readonly string[]
}

interface GardenOver {
  readonly garden: string
  readonly brought: PerM2
  readonly found: PerM2
  readonly taken: PerM2
  readonly leftMgPerM2: number | null
  readonly unknown: readonly string[]
}

/** Each garden over all its seasons: what came on each m2 as it lay in its season. */
function gardensOver(ledger: readonly GardenLedger[], { gardens }: LedgerAsked, nutrient: Nutrient): GardenOver[] {
  return ledger.map(({ gardenId, seasons }) => {
    const over = (of: 'brought' | 'found' | 'taken') => overSeasons(seasons, nutrient, of)
    const [brought, taken] = [over('brought'), over('taken')]
    return {
      garden: nameOf(gardens, gardenId),
      brought,
      found: over('found'),
      taken,
      leftMgPerM2: lastOf(seasons).nutrients[nutrient].gatheredMgPerM2,
      unknown: [...new Set([...brought.unknown, ...taken.unknown])],
    }
  })
}

function overSeasons(seasons: readonly LedgerSeason[], nutrient: Nutrient, of: 'brought' | 'found' | 'taken'): PerM2 {
  const sums = seasons.map((one) => ({ bedAreaCm2: one.bedAreaCm2, sum: one.nutrients[nutrient][of] }))
  return {
    mgPerM2: sums.reduce((total, { bedAreaCm2, sum }) => total + (10_000 * sum.knownMg) / bedAreaCm2, 0),
    unknown: [...new Set(sums.flatMap(({ sum }) => sum.unknown))],
  }
}

type Writing = (value: number, decimals?: number) => string

function answerOf(all: readonly GardenOver[], said: { nutrient: string; span: string; write: Writing }): string {
  const known = all.flatMap((one) => (one.leftMgPerM2 === null ? [] : [{ ...one, left: one.leftMgPerM2 }]))
  const most = known.toSorted((a, b) => b.left - a.left)[0]
  if (!most) return words.notKnown(said.nutrient)
  const { nutrient, span, write } = said
  return most.left > 0
    ? words.most({ garden: most.garden, span, nutrient, more: write(most.left / 1000) })
    : words.drawnDown({ span, nutrient })
}

const nameOf = (named: readonly Named[], id: string) => theOne(named, (one) => one.id === id).name

const headOf = (keys: readonly (keyof typeof words.columns)[]) =>
  keys.map((key) => ({ name: words.columns[key], figure: key !== 'garden' && key !== 'season' }))

function sumShown({ mgPerM2, unknown }: PerM2, write: Writing) {
  if (unknown.length === 0) return write(mgPerM2 / 1000)
  const text = mgPerM2 === 0 ? words.unknown : words.atLeast(write(mgPerM2 / 1000))
  return { text, note: words.without(unknown.join(', ')) }
}

interface Shown {
  readonly nutrient: Nutrient
  readonly write: Writing
}

/** The same without saying once more what has no figure. */
function asideShown(sum: PerM2, write: Writing): string {
  const shown = sumShown(sum, write)
  return typeof shown === 'string' ? shown : shown.text
}

/** The sums from season's end to season's end, a line a garden. */
function pictureOf(ledger: readonly GardenLedger[], { gardens, seasons }: LedgerAsked, { nutrient, write }: Shown) {
  const begun = ledger.filter((one) => firstOf(one.seasons).nutrients[nutrient].gatheredMgPerM2 !== null)
  const series = begun.map((one) => ({
    label: nameOf(gardens, one.gardenId),
    points: [
      { x: seasons.findIndex(({ id }) => id === firstOf(one.seasons).seasonId), y: 0 },
      ...one.seasons.map(({ seasonId, nutrients }) => {
        const mg = nutrients[nutrient].gatheredMgPerM2
        return { x: 1 + seasons.findIndex(({ id }) => id === seasonId), y: mg === null ? null : mg / 1000 }
      }),
    ],
  }))
  const ticks = [words.start, ...seasons.map(({ name }) => name)].map((label, at) => ({ at, label }))
  return {
    id: 'ledger-gathered',
    title: words.pictureTitle(words.symbols[nutrient]),
    how: words.pictureHow,
    drawing: drawCourse({ series, ticks, axis: words.pictureAxis, write, fromZero: true, pegs: true }),
    head: [words.columns.garden, ...seasons.map(({ name }) => name)],
    rows: ledger.map((one) => [
      nameOf(gardens, one.gardenId),
      ...seasons.map(({ id }) => {
        const mg = one.seasons.find(({ seasonId }) => seasonId === id)?.nutrients[nutrient].gatheredMgPerM2
        return mg === null || mg === undefined ? words.unknown : write(mg / 1000)
      }),
    ]),
  }
}

function seasonTable(
  ledger: readonly GardenLedger[],
  { gardens, seasons }: LedgerAsked,
  { nutrient, write, caption }: Shown & { readonly caption: string },
) {
  const perM2 = ({ knownMg, unknown }: Sum, bedAreaCm2: number) => ({
    mgPerM2: (10_000 * knownMg) / bedAreaCm2,
    unknown,
  })
  const cell = (sum: Sum, bedAreaCm2: number) => sumShown(perM2(sum, bedAreaCm2), write)
  const gathered = ({ gatheredMgPerM2: mg }: LedgerEntry) => (mg === null ? words.unknown : write(mg / 1000))
  return {
    caption,
    captionUnseen: true,
    head: headOf(['garden', 'season', 'brought', 'found', 'taken', 'gathered']),
    rows: ledger.flatMap((one) =>
      one.seasons.map(({ seasonId, bedAreaCm2, nutrients }) => {
        const entry = nutrients[nutrient]
        return [
          nameOf(gardens, one.gardenId),
          nameOf(seasons, seasonId),
          cell(entry.brought, bedAreaCm2),
          asideShown(perM2(entry.found, bedAreaCm2), write),
          cell(entry.taken, bedAreaCm2),
          gathered(entry),
        ]
      }),
    ),
  }
}

interface InputUsed {
  readonly name: string
  readonly made: MadeUp
  readonly isPublished: boolean
}

/** Each input once. */
const inputsUsed = (spreadings: LedgerAsked['spreadings']): InputUsed[] =>
  [...new Map(spreadings.map((one) => [one.name, one])).values()].map(({ name, made }) => ({
    name,
    made,
    isPublished: made.published !== null,
  }))

function madeTable(inputs: readonly InputUsed[], write: Writing) {
  const w = words.madeColumns
  const percent = (mgPerKg: number | null) => (mgPerKg === null ? words.unknown : write(mgPerKg / 10_000, 2))
  const sourceOf = ({ published, nitrogenMgPerKg, phosphorusMgPerKg, potassiumMgPerKg }: MadeUp) => {
    if (published) return words.sources[published.source]
    const any = [nitrogenMgPerKg, phosphorusMgPerKg, potassiumMgPerKg].some((one) => one !== null)
    return any ? words.sources.own : words.sources.none
  }
  return {
    caption: words.madeHeading,
    captionUnseen: true,
    head: [w.input, w.moisture, w.nitrogen, w.phosphorus, w.potassium, w.source].map((name, i) => ({
      name,
      figure: i > 0 && i < 5,
    })),
    rows: inputs.map(({ name, made }) => [
      name,
      made.moisturePermille === null ? words.unknown : write(made.moisturePermille / 10),
      percent(made.nitrogenMgPerKg),
      percent(made.phosphorusMgPerKg),
      percent(made.potassiumMgPerKg),
      sourceOf(made),
    ]),
  }
}

function greenSaid({ greenManures, gardens }: LedgerAsked): string[] {
  return gardens.flatMap(({ id, name }) => {
    const crops = [...new Set(greenManures.filter((one) => one.gardenId === id).map(({ crop }) => crop))]
    return crops.length === 0 ? [] : [words.greenManure(crops.join(', '), name)]
  })
}
