import type { FirstTable } from '../matched/first-table.ts'
import type { FigureKey } from '../totals/figures.ts'
import type { Level, StepReason } from './certainty.ts'
import type { Finding, OfPair } from './findings.ts'
import type { PriceOfAnHour } from './price-of-an-hour.ts'
import { seasonsToSettle } from './seasons-to-settle.ts'
import { turnedBy } from './yield-finding.ts'

type SummaryMeasure = 'weight' | 'work' | 'cost'

/** A garden, or a method where it lies on several, beside the reference. */
export interface Beside {
  readonly name: string
  readonly ratio: number
  /** Null where there is none. */
  readonly low: number | null
  readonly high: number | null
}

/**
 * What is found of one measure: who is told from the reference, who is not and in what range, who cannot be compared.
 */
export interface MeasureSummary {
  readonly measure: SummaryMeasure
  readonly reference: string
  readonly more: readonly Beside[]
  readonly less: readonly Beside[]
  readonly alike: readonly Beside[]
  readonly untold: readonly Beside[]
  /** Told apart but for open weeks, which could turn it: not told while they are open. */
  readonly open: readonly Beside[]
  /** Its interval is wider than ten times: so many seasons cannot tell. */
  readonly unsayable: readonly Beside[]
  /** One season: a ratio and no interval. */
  readonly described: readonly Beside[]
  readonly refused: readonly string[]
  readonly limit: 'these people' | 'own crops' | 'few seasons' | 'one season' | null
  /** Crops that carry what was told of the weight: without any one of them it could not be. */
  readonly carriedBy: readonly { readonly name: string; readonly crops: readonly string[] }[]
  /**
   * A season off which nothing came on one side: all seasons together, without an interval; no ratio where A gave
   * nothing.
   */
  readonly failed: readonly Beside[]
  readonly seasons: number
}

export interface Summary {
  readonly reference: string
  /** How many stand beside the reference. */
  readonly others: number
  /** The places of `measures` of which the title speaks: what was told first. */
  readonly title: readonly SummaryMeasure[]
  readonly measures: readonly MeasureSummary[]
  readonly sure: {
    readonly levels: readonly Level[]
    readonly because: StepReason | null
    readonly wholeSeasons: { readonly work: number; readonly cost: number }
    readonly methods: readonly Level[]
    readonly oneGarden: boolean
  }
  readonly rests: {
    readonly seasons: number
    readonly crops: number
    /** Fewer in some pairs. */
    readonly fewerCrops: boolean
    /** Matched in single seasons, and none of them in all that are looked at. */
    readonly singly: boolean
    readonly plantings: number
    readonly closed: number
    readonly weeks: number
  }
  readonly prices: readonly (PriceOfAnHour & { readonly name: string })[]
  /**
   * Seasons like these until a quarter more or less would be seen; gardens a method, drawn, until methods could be
   * told.
   */
  readonly settle: {
    readonly seasons: number | 'over sixty' | 'not by seasons' | null
    readonly gardens: number
  } | null
}

interface Summarised {
  readonly table: FirstTable
  readonly found: readonly Finding[]
  readonly reference: string
  readonly seasons: number
  readonly prices?: readonly (PriceOfAnHour & { readonly methodB: string })[]
}

/** An interval whose ends lie further apart than this says nothing. */
export const widest = 10

/** From four gardens a method on, drawn at random, a layout is not marked down for being small (about-methods.ts). */
const gardensToSettle = 4

/**
 * What a comparison says in a few sentences, as codes and figures: the same on every page that says it. A measure is
 * told only where its interval, at a level that allows for all the pairs beside each other (Bonferroni), leaves out 1;
 * else its range is given. Where the layout carries an answer about the methods, that is the answer and the one about
 * the plots is not said.
 */
export function summaryOf(given: Summarised): Summary {
  const { found, reference, table } = given
  const others = [...new Set(found.map((one) => one.methodB))]
  const named = namesOf(found)
  const measures = (['weight', 'work', 'cost'] as const).map((measure) => measureSaid(measure, given, named))
  const rank = (one: MeasureSummary) => (one.more.length + one.less.length > 0 ? 0 : 1)
  const told = [...measures].sort((a, b) => rank(a) - rank(b)).map((one) => one.measure)
  const plots = found.flatMap((one) => ('certainty' in one && !('layout' in one) ? [one.certainty] : []))
  const methods = found.flatMap((one) => ('layout' in one ? [one.certainty] : []))
  return {
    reference: named.get(reference) ?? reference,
    others: others.length,
    title: others.length === 0 ? [] : told.slice(0, 2),
    measures: others.length === 0 ? [] : measures,
    sure: {
      levels: ordered(plots.map((one) => one.plots)),
      because: plots.flatMap((one) => one.steps)[0] ?? null,
      wholeSeasons: { work: fewestSeasons(found, 'hoursPerBed'), cost: fewestSeasons(found, 'costPerKg') },
      methods: ordered(methods),
      oneGarden: table.oneGardenAMethod,
    },
    rests: restsOf(given),
    prices: (given.prices ?? []).map(({ methodB, ...price }) => ({ ...price, name: named.get(methodB) ?? methodB })),
    settle: others.length === 0 ? null : { seasons: settledBy(given), gardens: gardensToSettle },
  }
}

/** A second season is the first step only after one; places are not settled by seasons. */
function settledBy({ found, seasons }: Summarised): number | 'over sixty' | 'not by seasons' | null {
  const by = found.some((one) => 'layout' in one) ? null : seasonsToSettle(found)
  return by === null && (seasons > 1 || found.some((one) => 'layout' in one)) ? 'not by seasons' : by
}

/** A garden where a method lies on one alone and the reference on another; else the method. */
function namesOf(found: readonly Finding[]): ReadonlyMap<string, string> {
  const gardens = new Map<string, readonly string[]>()
  for (const one of found) gardens.set(one.methodA, one.gardensA).set(one.methodB, one.gardensB)
  const all = [...gardens.values()].flat()
  const single = [...gardens.values()].every((own) => own.length === 1) && new Set(all).size === all.length
  return new Map([...gardens].map(([method, own]) => [method, single ? (own[0] ?? method) : method]))
}

type Names = ReadonlyMap<string, string>

interface Judged {
  readonly kind: 'more' | 'less' | 'alike' | 'untold' | 'open' | 'unsayable' | 'described' | 'failed' | 'refused'
  readonly beside: Beside
  readonly seasons: number
  readonly carriedBy?: readonly string[]
}

function measureSaid(measure: SummaryMeasure, given: Summarised, named: Names): MeasureSummary {
  const { found, reference } = given
  const others = [...new Set(found.map((one) => one.methodB))]
  const judged = others.map((methodB) => {
    const own = found.filter((one) => one.methodB === methodB)
    const name = named.get(methodB) ?? methodB
    return measure === 'weight' ? weightOf(own, name) : burdenOf(own, { name, measure, methodB, given })
  })
  const of = (kind: Judged['kind']) => judged.filter((one) => one.kind === kind).map((one) => one.beside)
  const seasons = Math.max(0, ...judged.map((one) => one.seasons))
  return {
    measure,
    reference: named.get(reference) ?? reference,
    seasons,
    more: of('more'),
    less: of('less'),
    alike: of('alike'),
    untold: of('untold'),
    described: of('described'),
    open: of('open'),
    unsayable: of('unsayable'),
    failed: of('failed'),
    carriedBy: judged.flatMap(({ beside, carriedBy: crops = [] }) =>
      crops.length > 0 ? [{ name: beside.name, crops }] : [],
    ),
    refused: of('refused').map((one) => one.name),
    limit: limitOf(measure, judged, seasons),
  }
}

function limitOf(measure: SummaryMeasure, judged: readonly Judged[], seasons: number): MeasureSummary['limit'] {
  const told = judged.filter(isTold)
  if (judged.some((one) => one.kind === 'described')) return 'one season'
  if (told.length === 0) return null
  if (measure === 'work') return 'these people'
  if (measure === 'cost') return 'own crops'
  return seasons > 0 && seasons < 5 ? 'few seasons' : null
}

/** The answer of the layout where there is one, else that of the plots. */
function weightOf(own: readonly Finding[], name: string): Judged {
  const none = { name, ratio: Number.NaN, low: null, high: null }
  for (const one of own) {
    if ('layout' in one) return toldOf({ ...one, name, turned: one.weeksOpen || turnedBy(one.missing) })
    if (one.code === 'seen' || one.code === 'not seen') {
      const judged = toldOf({ ...one, name, turned: one.restsOn.soFar || turnedBy(one.missing) })
      return { ...judged, ...(isTold(judged) ? { carriedBy: one.without.carriedBy } : {}) }
    }
    if (one.code === 'alike') {
      const beside = { name, ratio: one.ratio, low: one.low, high: one.high }
      return { kind: 'alike', beside, seasons: one.seasons }
    }
    if (one.code === 'failed season' && one.ratio !== null) {
      const beside = { name, ratio: one.ratio, low: null, high: null }
      return { kind: 'failed', beside, seasons: one.seasons }
    }
    if (one.code === 'one season') {
      const beside = { name, ratio: one.ratio, low: null, high: null }
      return { kind: 'described', beside, seasons: 1 }
    }
  }
  return { kind: 'refused', beside: none, seasons: 0 }
}

const isTold = ({ kind }: Judged) => kind === 'more' || kind === 'less'

interface OfBurden {
  readonly name: string
  readonly measure: 'work' | 'cost'
  readonly methodB: string
  readonly given: Summarised
}

const burdenKeys = { work: 'hoursPerBed', cost: 'costPerKg' } as const

function burdenOf(own: readonly Finding[], { name, measure, methodB, given }: OfBurden): Judged {
  const key = burdenKeys[measure]
  for (const one of own)
    if ('burden' in one && one.burden === key) return toldOf({ ...one, name, turned: turnedBy(one.missing) })
  const ratio = given.seasons === 1 ? ratioIn(given, key, methodB) : null
  if (ratio === null) return { kind: 'refused', beside: { name, ratio: Number.NaN, low: null, high: null }, seasons: 0 }
  return { kind: 'described', beside: { name, ratio, low: null, high: null }, seasons: 1 }
}

/** Null where a side is not whole. */
function ratioIn({ table, reference }: Summarised, key: FigureKey, methodB: string): number | null {
  const [a, b] = [reference, methodB].map((name) =>
    table.methods.find((one) => one.method === name)?.figures.find((one) => one.key === key),
  )
  if (!a?.value || !b?.value || a.limit !== null || b.limit !== null) return null
  return b.value / a.value
}

interface Intervalled {
  readonly name: string
  readonly ratio: number
  readonly low: number
  readonly high: number
  readonly seasons: number
  readonly turned: boolean
}

function toldOf({ name, ratio, low, high, seasons, turned }: Intervalled): Judged {
  const untold = high / low > widest ? 'unsayable' : 'untold'
  const kind = low > 1 ? 'more' : high < 1 ? 'less' : untold
  const apart = kind === 'more' || kind === 'less'
  return { kind: apart && turned ? 'open' : kind, beside: { name, ratio, low, high }, seasons }
}

const levels: readonly Level[] = ['very low', 'low', 'moderate', 'high']
const ordered = (own: readonly Level[]) => levels.filter((level) => own.includes(level))

function fewestSeasons(found: readonly (Finding & OfPair)[], key: 'hoursPerBed' | 'costPerKg'): number {
  const own = found.flatMap((one) => ('burden' in one && one.burden === key ? [one.seasons] : []))
  return own.length === 0 ? 0 : Math.min(...own)
}

/** No crop could be taken over all the seasons, though single ones have some. */
function matchedSingly(found: readonly Finding[]): boolean {
  const weights = found.filter((one) => !('burden' in one) && !('divided' in one))
  return (
    // Where it was not counted there was none unlike.
    weights.length > 0 && weights.every((one) => one.code === 'nothing matched' && Number(one.unlikeSeasons ?? 0) > 0)
  )
}

function restsOf({ table, found, seasons }: Summarised): Summary['rests'] {
  const sum = (of: (one: FirstTable['methods'][number]['totals']) => number) =>
    table.methods.reduce((all, one) => all + of(one.totals), 0)
  const crops = found.flatMap((one) => ('crops' in one ? [one.crops] : []))
  const most = Math.max(table.matched.length, ...crops)
  return {
    seasons,
    crops: most,
    fewerCrops: crops.some((one) => one < most),
    singly: most > 0 && matchedSingly(found),
    plantings: sum((one) => one.plantings),
    closed: sum((one) => Math.min(one.hoursClosed, one.weightsClosed)),
    weeks: sum((one) => one.weeks),
  }
}
