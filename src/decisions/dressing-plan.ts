import type { LoadMeasure } from '../inputs/measures.ts'
import { nutrientsIn } from '../inputs/nutrients.ts'
import { numberIn } from '../lookups/unsaid.ts'
import type { HeldLimit, SourceKind } from '../soil/limits.ts'
import type { MadeUp } from '../soil/made-up-of.ts'
import { amountOf, type DressingAmount, type DressingTyped } from './dressing-amount.ts'
import { type LayerBy, layable, type NeededLayer, neededLayer, perMillimetre } from './needed-layer.ts'
import type { Offtake } from './offtake.ts'

export interface DressingProduct {
  readonly inputId: string
  readonly name: string
  readonly kind: string
  readonly unit: string
  readonly source: SourceKind
  readonly ownMade: boolean
  readonly rawManure: number
  readonly made: MadeUp
  /** Of one of its unit; null where it has no price. */
  readonly minorPerUnit: number | null
  /** What one load's carriage came to, the last time. */
  readonly carriageMinor: number
  /** Person-minutes for a m3 of it, and the way from the heap to the ground for which they were written. */
  readonly minutesPerM3: number | null
  readonly wayMm: number | null
}

/** Own heaps: batches that lie there and are not spread. */
export interface OwnHeap {
  readonly inputId: string
  readonly name: string
  readonly kind: string
  readonly volumeMl: number
  readonly made: MadeUp
}

export interface DressedMethod {
  readonly methodId: string
  readonly name: string
  readonly gardens: readonly string[]
  readonly areaCm2: number
  /** From the heap to its gardens, by area; null where a garden has none written. */
  readonly wayMm: number | null
  readonly product: DressingProduct | null
  readonly typed: DressingTyped
  /** As it went on last, as a person would type it; null where nothing did. */
  readonly lastTime: string | null
  /** What the last season with weights carried off its ground, and its kilograms. */
  readonly last: (Offtake & { readonly season: string; readonly areaCm2: number; readonly grams: number }) | null
  readonly stillFoundGPerM2: number
  /** What the laboratory of its last test calls high. */
  readonly high: readonly LayerBy[]
  readonly limits: readonly HeldLimit[]
}

export interface DressingTerms {
  readonly measures: readonly LoadMeasure[]
  readonly barrowMl: number
  readonly bagMl: number
  /** What of a fresh layer is left of its depth after settling, by kind. */
  readonly leftOfDepth: Readonly<Record<string, number>>
}

interface PerM2 {
  readonly nitrogen: number | null
  readonly phosphorus: number | null
  readonly potassium: number | null
}

export interface DressingRow extends DressingAmount {
  readonly method: DressedMethod
  /** Of other batches of the same kind that lie there, taken before anything is bought. */
  readonly fromHeaps: readonly { readonly name: string; readonly volumeMl: number }[]
  /** What is left to buy; null where its volume is not known and no heap serves. */
  readonly toBuyMl: number | null
  readonly settledMm: number | null
  readonly barrows: number | null
  readonly bags: number | null
  readonly minutes: number | null
  readonly costMinor: number | null
  readonly costMinorPerM2: number | null
  readonly costMinorPerKg: number | null
  readonly broughtGPerM2: PerM2
  readonly takenGPerM2: PerM2 | null
  /** The layer of this product worked back from need, by its own analysis; null without a product. */
  readonly needed: NeededLayer | null
  readonly neededSettledMm: number | null
  /** How many such seasons' phosphorus it brings. */
  readonly seasonsOfPhosphorus: number | null
}

/** At 3 km an hour with a full barrow and back: from memory; changed by the group's own minutes. */
const mmPerMinute = 50_000

/**
 * The dressing of every method, each with one product. Own heaps of its kind are taken first, in the order of the
 * methods, with their own analysis; the rest is bought. Carrying: own minutes for a m3, changed by the walk there and
 * back for each barrow where the way differs from that for which they were written.
 * Example: 3 cm on 48 m2 are 1.44 m3; at 40 min a m3 written for 20 m and a way of 70 m, 17 barrows of 85 l walk 100 m
 * more each: 57.6 + 34 minutes.
 */
export function dressingPlan(methods: readonly DressedMethod[], heaps: readonly OwnHeap[], terms: DressingTerms) {
  const left = new Map(heaps.map((heap) => [heap.inputId, heap.volumeMl]))
  return methods.map((method) => rowOf(method, { heaps, left, terms }))
}

interface Taking {
  readonly heaps: readonly OwnHeap[]
  readonly left: Map<string, number>
  readonly terms: DressingTerms
}

function rowOf(method: DressedMethod, { heaps, left, terms }: Taking): DressingRow {
  const { product, areaCm2, typed } = method
  const amount = amountOf(typed, {
    unit: product === null ? 'm3' : product.unit,
    densityKgPerM3: product?.made.densityKgPerM3 ?? null,
    measures: terms.measures,
    areaCm2,
  })
  const taken = takenFromHeaps(product, amount.volumeMl, { heaps, left, terms })
  const fromHeapsMl = taken.reduce((sum, one) => sum + one.volumeMl, 0)
  const toBuy = amount.volumeMl === null || amount.volumeMl === 0 ? 1 : 1 - fromHeapsMl / amount.volumeMl
  const costMinor = costOfDressing(product, amount, toBuy)
  const brought = broughtBy(product, amount, { taken, toBuy, areaCm2 })
  const takenGPerM2 = method.last && takenOf(method.last)
  const barrows = amount.volumeMl === null ? null : Math.ceil(amount.volumeMl / terms.barrowMl)
  const needed = product === null ? null : neededLayer({ ...method, perMm: perMillimetre(product), takenGPerM2 })
  const proposedMm = needed && layable(needed)
  const settled = (mm: number | null) =>
    product === null || mm === null ? null : mm * (terms.leftOfDepth[product.kind] ?? 1)
  const share = (cm2: number) => (costMinor === null ? null : (10_000 * costMinor) / cm2)
  // A method that was never dressed got none.
  const grams = method.last?.grams ?? 0
  const off = takenGPerM2?.phosphorus ?? null
  return {
    ...amount,
    method,
    fromHeaps: taken.map(({ name, volumeMl }) => ({ name, volumeMl })),
    toBuyMl: amount.volumeMl === null ? null : amount.volumeMl - fromHeapsMl,
    settledMm: settled(amount.depthMm),
    needed,
    neededSettledMm: settled(proposedMm),
    barrows,
    bags: amount.volumeMl === null ? null : Math.ceil((amount.volumeMl - fromHeapsMl) / terms.bagMl),
    minutes: minutesOf(method, amount.volumeMl, barrows),
    costMinor,
    costMinorPerM2: share(areaCm2),
    costMinorPerKg: costMinor === null || grams === 0 ? null : (1000 * costMinor) / grams,
    broughtGPerM2: brought,
    takenGPerM2,
    seasonsOfPhosphorus: brought.phosphorus === null || off === null || off === 0 ? null : brought.phosphorus / off,
  }
}

interface TakenHeap {
  readonly name: string
  readonly volumeMl: number
  readonly made: MadeUp
}

/** The product's own batches first, then others of its kind; a heap is used up once. */
function takenFromHeaps(
  product: DressingProduct | null,
  wantedMl: number | null,
  { heaps, left }: Taking,
): TakenHeap[] {
  if (product === null || wantedMl === null) return []
  const fitting = heaps.filter((heap) => heap.kind === product.kind)
  const inOrder = [...fitting].sort(
    (a, b) => Number(b.inputId === product.inputId) - Number(a.inputId === product.inputId),
  )
  let wanted = wantedMl
  return inOrder.flatMap(({ inputId, name, made }) => {
    const there = numberIn(left, inputId)
    const volumeMl = Math.min(wanted, there)
    left.set(inputId, there - volumeMl)
    wanted -= volumeMl
    return volumeMl > 0 ? [{ name, volumeMl, made }] : []
  })
}

/** Only what is bought has a price; a carriage is paid once for what comes. */
function costOfDressing(product: DressingProduct | null, { unitThousandths }: DressingAmount, toBuy: number) {
  if (product === null || unitThousandths === 0 || toBuy <= 0) return 0
  if (product.minorPerUnit === null || unitThousandths === null) return null
  return Math.round((product.minorPerUnit * unitThousandths * toBuy) / 1000) + product.carriageMinor
}

interface Parts {
  readonly taken: readonly TakenHeap[]
  readonly toBuy: number
  readonly areaCm2: number
}

/** Each part by its own analysis; null for each nutrient of which one part is not known. */
function broughtBy(
  product: DressingProduct | null,
  { massG }: DressingAmount,
  { taken, toBuy, areaCm2 }: Parts,
): PerM2 {
  const boughtG = massG === null ? null : massG * toBuy
  const parts = [
    ...(product === null || toBuy <= 0 ? [] : [nutrientsIn(boughtG, product.made)]),
    ...taken.map(({ volumeMl, made }) =>
      nutrientsIn(made.densityKgPerM3 === null ? null : (volumeMl * made.densityKgPerM3) / 1000, made),
    ),
  ]
  const perM2 = (of: 'nitrogenG' | 'phosphorusG' | 'potassiumG') => {
    const known = parts.flatMap((part) => part[of] ?? [])
    return known.length < parts.length ? null : (10_000 * known.reduce((sum, one) => sum + one, 0)) / areaCm2
  }
  return { nitrogen: perM2('nitrogenG'), phosphorus: perM2('phosphorusG'), potassium: perM2('potassiumG') }
}

const takenOf = (last: NonNullable<DressedMethod['last']>): PerM2 => ({
  nitrogen: (10_000 * last.nitrogenG) / last.areaCm2,
  phosphorus: (10_000 * last.phosphorusG) / last.areaCm2,
  potassium: (10_000 * last.potassiumG) / last.areaCm2,
})

function minutesOf({ product, wayMm }: DressedMethod, volumeMl: number | null, barrows: number | null): number | null {
  if (volumeMl === 0) return 0
  if (!product || product.minutesPerM3 === null || volumeMl === null || barrows === null) return null
  const own = (product.minutesPerM3 * volumeMl) / 1_000_000
  const further = wayMm === null || product.wayMm === null ? 0 : wayMm - product.wayMm
  return Math.max(0, own + (2 * barrows * further) / mmPerMinute)
}
