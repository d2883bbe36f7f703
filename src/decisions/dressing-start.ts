import { type AreaFrom, areaAtLast } from '../gardens/areas-held.ts'
import type { DeliveryRow, SpreadingRow } from '../inputs/load.ts'
import { densityOf, type LoadMeasure, millilitresOf } from '../inputs/measures.ts'
import { placeOfRow } from '../inputs/place.ts'
import { theOne } from '../lookups/held.ts'
import { lastOf } from '../lookups/nth.ts'
import { thousandthsAsTyped } from '../quantities/as-typed.ts'
import { type MadeUp, madeUpOf } from '../soil/made-up-of.ts'
import { type CompostRows, carryingTime, laidKinds, lastLayer, productsOf } from './compost-start.ts'
import type { DressingProduct, OwnHeap } from './dressing-plan.ts'

interface DressingRows extends Omit<CompostRows, 'gardens' | 'spreadings'> {
  readonly gardens: readonly { readonly id: string; readonly name: string; readonly compostDistanceMm: number | null }[]
  readonly methods: readonly { readonly id: string; readonly name: string }[]
  readonly assignments: readonly {
    readonly seasonId: string
    readonly gardenId: string
    readonly bedId: string | null
    readonly methodId: string
  }[]
  readonly spreadings: readonly (SpreadingRow & { readonly deliveryId: string })[]
}

interface MethodGround {
  readonly methodId: string
  readonly name: string
  /** Of the method among all of them: its mark. */
  readonly place: number
  readonly bedIds: ReadonlySet<string>
  readonly gardens: readonly string[]
  readonly areaCm2: number
  readonly wayMm: number | null
}

/** Each method with the beds that lie under it in the latest season that has methods; beds given up are none. */
export function groundOfMethods(rows: DressingRows): MethodGround[] {
  const season = rows.seasons.findLast(({ id }) => rows.assignments.some((one) => one.seasonId === id))
  const laid = rows.assignments.filter((one) => one.seasonId === season?.id)
  const methodOf = (bed: { id: string; gardenId: string }) =>
    laid.find((one) => one.bedId === bed.id) ?? laid.find((one) => one.bedId === null && one.gardenId === bed.gardenId)
  return rows.methods.flatMap(({ id, name }, place) => {
    const beds = rows.beds.filter((bed) => methodOf(bed)?.methodId === id && areaAtLast(bed.areas) > 0)
    if (beds.length === 0) return []
    const gardens = rows.gardens.filter((garden) => beds.some((bed) => bed.gardenId === garden.id))
    return [
      {
        methodId: id,
        name,
        place,
        bedIds: new Set(beds.map((bed) => bed.id)),
        gardens: gardens.map((garden) => garden.name),
        areaCm2: beds.reduce((sum, bed) => sum + areaAtLast(bed.areas), 0),
        wayMm: wayTo(beds, rows),
      },
    ]
  })
}

/** The way from the heap, the mean over the ground; null where one garden has none written. */
function wayTo(beds: readonly { gardenId: string; areas: readonly AreaFrom[] }[], { gardens }: DressingRows) {
  const ways = beds.map((bed) => ({
    cm2: areaAtLast(bed.areas),
    mm: theOne(gardens, ({ id }) => id === bed.gardenId).compostDistanceMm,
  }))
  const all = ways.reduce((sum, { cm2 }) => sum + cm2, 0)
  return ways.reduce<number | null>(
    (sum, { cm2, mm }) => (sum === null || mm === null ? null : sum + (cm2 * mm) / all),
    0,
  )
}

/** Every product that is laid on ground, the latest first, with the price and hours of its own loads. */
export function dressingProducts(rows: DressingRows): DressingProduct[] {
  return productsOf(rows.deliveries).map(({ inputId, name, kind, source }) => {
    const loads = rows.deliveries.filter((one) => one.inputId === inputId)
    const load = lastOf(loads)
    const priced = loads.findLast((one) => one.priceMinor !== null)
    return {
      inputId,
      name,
      kind,
      source,
      unit: load.unit,
      ownMade: load.ownMade,
      rawManure: load.rawManure,
      made: weighedMade({ ...load, name }, rows.measures),
      minorPerUnit:
        priced && priced.priceMinor !== null ? (1000 * priced.priceMinor) / priced.quantityThousandths : null,
      carriageMinor: priced === undefined ? 0 : priced.deliveryPriceMinor,
      minutesPerM3: carryingTime(loads, rows),
      wayMm: wayOfHours(loads, rows),
    }
  })
}

/** What a product is made of; a bale that was measured and weighed tells its density too. */
function weighedMade(load: Parameters<typeof madeUpOf>[0], measures: readonly LoadMeasure[]): MadeUp {
  const made = madeUpOf(load)
  return { ...made, densityKgPerM3: made.densityKgPerM3 ?? densityOf(load.unit, measures) }
}

/** The way for which a product's hours were written: the mean over what was spread of loads that have hours. */
function wayOfHours(loads: readonly DeliveryRow[], { spreadings, places, gardens, carried }: DressingRows) {
  const timed = new Set(loads.flatMap(({ id }) => (carried.has(id) ? [id] : [])))
  const ways = spreadings.flatMap((one) => {
    const gardenId = timed.has(one.deliveryId) ? placeOfRow(places, one)?.gardenId : undefined
    const garden = gardens.find(({ id }) => id === gardenId)
    return garden ? [{ weight: one.quantityThousandths, mm: garden.compostDistanceMm }] : []
  })
  if (ways.length === 0) return null
  const all = ways.reduce((sum, { weight }) => sum + weight, 0)
  return ways.reduce<number | null>(
    (sum, { weight, mm }) => (sum === null || mm === null ? null : sum + (weight * mm) / all),
    0,
  )
}

/** Batches of the group's own that have come and are not spread, as far as their volume is known. */
export function ownHeaps({ deliveries, measures }: DressingRows): OwnHeap[] {
  const heaps = new Map<string, OwnHeap>()
  for (const load of deliveries) {
    const left = load.quantityThousandths - load.spreadThousandths
    if (!load.ownMade || load.deliveredOn === null || left <= 0 || !laidKinds.includes(load.kind)) continue
    const made = weighedMade({ ...load, name: load.inputName }, measures)
    const volumeMl = millilitresOf(left, { unit: load.unit, densityKgPerM3: made.densityKgPerM3, measures })
    if (volumeMl === null) continue
    const before = heaps.get(load.inputId)
    const all = before === undefined ? volumeMl : before.volumeMl + volumeMl
    heaps.set(load.inputId, { inputId: load.inputId, name: load.inputName, kind: load.kind, volumeMl: all, made })
  }
  return [...heaps.values()]
}

/** What lay on a method's ground last, and how much in that season, as a person would type it. */
export function dressedLast(rows: DressingRows, { bedIds }: MethodGround) {
  const here = rows.spreadings.filter(
    (one) => laidKinds.includes(one.input.kind) && placeOfRow(rows.places, one)?.bedIds.some((id) => bedIds.has(id)),
  )
  const last = here.at(-1)
  const product = productsOf(rows.deliveries).find((one) => one.name === last?.input.name)
  if (last === undefined || product === undefined) return null
  const layer = lastLayer(rows, { product, bedIds })
  if (layer) return { inputId: product.inputId, amount: `${layer.depthMm / 10} cm` }
  const counted = here.filter((one) => one.seasonId === last.seasonId && one.input.name === last.input.name)
  const thousandths = counted.reduce((sum, one) => sum + one.quantityThousandths, 0)
  return { inputId: product.inputId, amount: `${thousandthsAsTyped(thousandths)} ${last.input.unit}` }
}
