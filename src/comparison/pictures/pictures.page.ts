import { drawIntervals, type IntervalRow } from '../../drawing/intervals.ts'
import { drawSplitGap } from '../../drawing/split-gap.ts'
import { asShown } from '../../lookups/unsaid.ts'
import { formatNumber } from '../../quantities/formatting.ts'
import { wordsFor } from '../../words/locales.ts'
import { widest } from '../findings/summary.ts'
import { type Picture, type PictureTold, pictureOf, signedIn, withInterval, wordsIn, writeIn } from './picture.ts'

/** A figure with its interval; an end left out or null: there is none, an infinite one: open to that side. */
interface FigureOf {
  readonly value: number | null
  readonly low?: number | null
  readonly high?: number | null
}

interface MethodYield extends FigureOf {
  readonly method: string
  /** Why there is no interval, where there is none. */
  readonly noInterval?: string
}

/** Yield by method, in kg per m2 of bed, in the order given. */
export function yieldsPicture(yields: readonly MethodYield[], told: PictureTold): Picture {
  const words = wordsIn(told.locale)
  const { title, how, howWithout, axis } = words.yields
  const rows = yields.map(({ method, noInterval = words.noInterval, ...own }) => ({
    label: method,
    noInterval,
    ...own,
  }))
  return intervalsPicture(rows, {
    ...told,
    title,
    axis,
    scale: 'linear',
    first: words.head.method,
    how: yields.some(hasInterval) ? how : howWithout,
  })
}

/** Two methods: the ratio is that of B to A. */
export interface PairNames {
  readonly methodA: string
  readonly methodB: string
}

export interface CropRatios extends PairNames {
  readonly crops: readonly { readonly crop: string; readonly ratio: number | null }[]
  /** Of all crops on one mix; null where it cannot be had. */
  readonly pooled: (FigureOf & { readonly noInterval?: string }) | null
}

/** Matched ratios crop by crop, the highest first and those without one last, with the pooled one below. */
export function cropRatiosPicture({ methodA, methodB, crops, pooled }: CropRatios, told: PictureTold): Picture {
  const words = wordsIn(told.locale)
  const { title, how, axis, pooled: name } = words.cropRatios
  const bySize = [...crops].sort((a, b) => (b.ratio ?? -1) - (a.ratio ?? -1))
  const rows: LabelledRow[] = bySize.map(({ crop, ratio }) => ({ label: crop, value: ratio, noInterval: '' }))
  if (pooled) rows.push({ label: name, kind: 'pooled', noInterval: words.oneSeason, ...pooled })
  return intervalsPicture(rows, {
    ...told,
    title: title(methodB, methodA),
    how,
    axis: axis(methodB, methodA),
    scale: 'log',
    first: words.head.crop,
  })
}

export interface SeasonRatios extends PairNames {
  readonly seasons: readonly { readonly season: string; readonly ratio: number | null }[]
  readonly pooled: FigureOf | null
  readonly next: { readonly low: number; readonly high: number } | null
  /** Of the intervals; 0.95 where an earlier release kept none. */
  readonly level?: number
}

/** Season by season, then their mean with its interval and what a season more could bring. */
export function seasonRatiosPicture(of: SeasonRatios, told: PictureTold): Picture {
  const { methodA, methodB, seasons, pooled, next, level = 0.95 } = of
  const words = wordsIn(told.locale)
  const known = seasons.filter((one) => one.ratio !== null).length
  const noInterval = wordsFor(told.locale).findings.cannotTell(known)
  const w = words.overSeasons
  const how = w.how(formatNumber(100 * level, told.locale, level === 0.95 ? 0 : 1))
  const rows: LabelledRow[] = seasons.map(({ season, ratio }) => ({ label: season, value: ratio, noInterval: '' }))
  if (pooled && saysNothing(pooled)) rows.push({ label: w.pooled, kind: 'pooled', value: pooled.value, noInterval })
  else if (pooled) rows.push({ label: w.pooled, kind: 'pooled', noInterval: words.oneSeason, ...pooled })
  if (next && !saysNothing(next)) rows.push({ label: w.predicted, kind: 'predicted', value: null, ...next })
  return intervalsPicture(rows, {
    ...told,
    title: w.title(methodB, methodA),
    how,
    axis: words.cropRatios.axis(methodB, methodA),
    scale: 'log',
    first: words.head.season,
  })
}

/**
 * An interval whose ends lie more than so many times apart is a figure without meaning: that it cannot be told is said.
 */
const saysNothing = ({ low, high }: Pick<FigureOf, 'low' | 'high'>) =>
  typeof low === 'number' && typeof high === 'number' && high / low > widest

interface EveryWayRatios extends PairNames {
  /** `first` marks the way of the page itself: the question’s rules, the address’s, or the plain ones. */
  readonly ways: readonly { readonly way: string; readonly ratio: number | null; readonly first?: boolean }[]
}

/** Every way of counting, lowest ratio first; ways without a ratio last. */
export function everyWayPicture({ methodA, methodB, ways }: EveryWayRatios, told: PictureTold): Picture {
  const words = wordsIn(told.locale)
  const w = words.everyWay
  const ordered = [...ways].sort((a, b) => (a.ratio ?? Infinity) - (b.ratio ?? Infinity) || 0)
  const rows = ordered.map(({ way, ratio, first = false }) => {
    return { label: way, value: ratio, noInterval: '', strong: first }
  })
  return intervalsPicture(rows, {
    ...told,
    title: w.title(methodB, methodA),
    how: w.how,
    axis: words.cropRatios.axis(methodB, methodA),
    scale: 'log',
    first: words.head.way,
  })
}

interface LabelledRow extends FigureOf {
  readonly label: string
  readonly kind?: 'single' | 'pooled' | 'predicted'
  readonly strong?: boolean
  readonly noInterval?: string
}

interface Said extends PictureTold {
  readonly title: string
  readonly how: string
  readonly axis: string
  readonly scale: 'linear' | 'log'
  readonly first: string
}

function intervalsPicture(rows: readonly LabelledRow[], said: Said): Picture {
  const { locale, scale, axis, title, how, first } = said
  const [words, write] = [wordsIn(locale), writeIn(locale)]
  const drawn = rows.map(({ noInterval, ...row }): IntervalRow => {
    return { ...row, figure: withInterval(row, { locale, none: asShown(noInterval) }) }
  })
  const reference = scale === 'log' ? { value: 1, label: words.alike } : null
  const end = (value: number | null | undefined) =>
    typeof value === 'number' && Number.isFinite(value) ? write(value, 2) : '–'
  const intervals = rows.some(hasInterval)
  return pictureOf(said, {
    title,
    how,
    drawing: drawIntervals({ rows: drawn, scale, reference, axis, write }),
    head: [
      first,
      scale === 'log' ? words.head.ratio : words.head.figure,
      ...(intervals ? [words.head.low, words.head.high] : []),
    ],
    rows: rows.map((row) => [row.label, end(row.value), ...(intervals ? [end(row.low), end(row.high)] : [])]),
  })
}

const hasInterval = ({ low, high }: FigureOf) => typeof low === 'number' || typeof high === 'number'

const partKeys = ['intensity', 'mix', 'growth', 'onlyB', 'onlyA'] as const

type Parts = { readonly [K in (typeof partKeys)[number]]: number | null }

export interface GapPictured extends PairNames {
  /** kg per m2 of bed, B less A, each part with the sign with which it adds to the gap. */
  readonly total: Parts
  /** A part left out is none of that crop's; null is not known. */
  readonly crops: readonly (Partial<Parts> & { readonly crop: string })[]
}

/** Why two methods differ: the parts of the gap, all together and crop by crop, what added most first. */
export function gapPicture({ methodA, methodB, total, crops: unordered }: GapPictured, told: PictureTold): Picture {
  const words = wordsIn(told.locale)
  const w = words.gap
  const signed = signedIn(told.locale)
  // A part that is not there is not drawn.
  const used = partKeys.filter((key) => [total, ...unordered].some((one) => one[key] === null || (one[key] ?? 0) !== 0))
  const sum = (parts: Partial<Parts>) =>
    // None of them is unknown here, and one that is not there is none of it.
    used.some((key) => parts[key] === null) ? null : used.reduce((all, key) => all + (parts[key] ?? 0), 0)
  // One that is not known stands where a nought would, between what added and what took.
  const crops = [...unordered].sort((a, b) => Number(sum(b)) - Number(sum(a)))
  const values = (parts: Partial<Parts>) => used.map((key) => (parts[key] === undefined ? 0 : parts[key]))
  const drawing = drawSplitGap({
    parts: used.map((key) => ({
      label: w.parts[key],
      figure: signed(total[key]),
      total: total[key],
      fill: 1 + partKeys.indexOf(key),
    })),
    total: { label: w.together, figure: signed(sum(total)) },
    rows: crops.map((crop) => ({ label: crop.crop, figure: signed(sum(crop)), parts: values(crop) })),
    axis: w.axis(methodB),
    write: writeIn(told.locale),
  })
  const cells = (parts: Partial<Parts>) => [...values(parts).map((one) => signed(one)), signed(sum(parts))]
  return pictureOf(told, {
    title: w.title(methodB, methodA),
    how: w.how,
    drawing,
    head: [words.head.crop, ...used.map((key) => w.parts[key]), words.head.together],
    rows: [...crops.map((crop) => [crop.crop, ...cells(crop)]), [w.together, ...cells(total)]],
  })
}
