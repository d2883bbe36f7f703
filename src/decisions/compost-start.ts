import { type AreaFrom, areaAtLast, lyingOver, type Span, sumOfAreas } from '../gardens/areas-held.ts'
import type { DeliveryRow, SpreadingRow } from '../inputs/load.ts'
import { type LoadMeasure, millilitresOf } from '../inputs/measures.ts'
import { type Place, placeOfRow } from '../inputs/place.ts'
import { type SourceKind, sourceKindOf } from '../soil/limits.ts'
import { madeUpOf } from '../soil/made-up-of.ts'
import { type Offtake, offtakeOf } from './offtake.ts'

/** 1000 and 1600 lb in a cubic yard: the low and high end of usual figures for compost. */
export const densities = { low: 593, high: 949 } as const

const smallLayerMm = 10

/** Where nothing was ever bought or made: a compost of which nothing is known. */
const unknownCompost = {
  name: 'compost',
  kind: 'compost',
  unit: 'm3',
  moisturePermille: null,
  densityKgPerM3: null,
  nitrogenMgPerKg: null,
  phosphorusMgPerKg: null,
  potassiumMgPerKg: null,
}

/** Kinds of input that are laid on ground in a layer. */
export const laidKinds = ['compost', 'manure', 'mulch']

export interface Product {
  readonly inputId: string
  readonly name: string
  readonly kind: string
  /** Rules differ by it: raw or partly rotted is manure, whatever its kind. */
  readonly source: SourceKind
}

export interface CompostRows {
  readonly gardens: readonly { id: string; name: string }[]
  readonly beds: readonly { id: string; gardenId: string; areas: readonly AreaFrom[] }[]
  readonly seasons: readonly (Span & { readonly id: string; readonly name: string; readonly closed?: boolean })[]
  readonly deliveries: readonly DeliveryRow[]
  readonly spreadings: readonly SpreadingRow[]
  readonly places: readonly Place[]
  readonly measures: readonly LoadMeasure[]
  readonly carried: ReadonlyMap<string, number>
  readonly plantings: readonly Harvested[]
  readonly crops: Parameters<typeof offtakeOf>[1]
}

interface Harvested {
  readonly seasonId: string
  readonly bedId: string
  readonly crop: string
  readonly marketableG: number
  readonly unmarketableG: number
}

/** The garden asked for; otherwise the one that had compost last; otherwise the first with beds. */
export function gardenFor(rows: CompostRows, asked: string | undefined) {
  const withBeds = rows.gardens.filter((garden) => rows.beds.some((bed) => bed.gardenId === garden.id))
  const last = [...rows.spreadings].reverse().find((one) => one.input.kind === 'compost')
  const bedIds = last ? (placeOfRow(rows.places, last)?.bedIds ?? []) : []
  const latest = rows.beds.find((bed) => bedIds.includes(bed.id))?.gardenId
  return (
    withBeds.find((garden) => garden.id === asked) ?? withBeds.find((garden) => garden.id === latest) ?? withBeds[0]
  )
}

/** What the group has had that is laid on ground, the latest first, each once. */
export function productsOf(deliveries: readonly DeliveryRow[]): Product[] {
  const laid = deliveries.filter((one) => laidKinds.includes(one.kind)).toReversed()
  const first = new Map(laid.toReversed().map((one) => [one.inputId, one]))
  return [...new Set(laid.map((one) => one.inputId))].flatMap((inputId) => {
    const one = first.get(inputId)
    if (!one) return []
    return [{ inputId, name: one.inputName, kind: one.kind, source: sourceKindOf(one) }]
  })
}

/** The product asked for; otherwise the latest compost, then the latest of anything; null where there is none. */
export const productFor = (products: readonly Product[], asked: string | undefined): Product | null =>
  products.find((one) => one.inputId === asked) ?? products.find((one) => one.kind === 'compost') ?? products[0] ?? null

/** What the record knows of one product on a garden, and of its loads: price, density and analysis are of one thing. */
export function compostStart(rows: CompostRows, gardenId: string, product: Product | null) {
  const beds = rows.beds.filter((bed) => bed.gardenId === gardenId)
  const areaCm2 = beds.reduce((sum, bed) => sum + areaAtLast(bed.areas), 0)
  const bedIds = new Set(beds.map((bed) => bed.id))
  const loads = rows.deliveries.filter((one) => one.inputId === product?.inputId)
  const priced = loads.findLast((one) => one.priceMinor !== null && volumeOf(one, rows.measures) !== null)
  const load = loads.at(-1)
  const weighed = loads.findLast((one) => one.densityKgPerM3 !== null)
  const volume = priced ? volumeOf(priced, rows.measures) : null
  return {
    areaCm2,
    layer: lastLayer(rows, { product, bedIds }) ?? { season: null, depthMm: smallLayerMm },
    price:
      priced && volume
        ? {
            // Only priced loads come here.
            perM3Minor: Math.round(((priced.priceMinor ?? 0) * 1_000_000) / volume),
            carriageMinor: priced.deliveryPriceMinor,
            day: priced.deliveredOn ?? priced.orderedOn,
          }
        : null,
    made: madeUpOf(load === undefined ? unknownCompost : { ...load, name: load.inputName }),
    densityKgPerM3: weighed?.densityKgPerM3 ?? null,
    minutesPerM3: carryingTime(loads, rows),
  }
}

const volumeOf = (one: DeliveryRow, measures: readonly LoadMeasure[]) =>
  millilitresOf(one.quantityThousandths, { unit: one.unit, densityKgPerM3: one.densityKgPerM3, measures })

interface Layer {
  readonly product: Product | null
  readonly bedIds: ReadonlySet<string>
}

/** The depth of the product in its latest season if it lay evenly; null where its volume is not known. */
export function lastLayer(
  { spreadings, seasons, places, measures, beds }: CompostRows,
  { product, bedIds }: Layer,
): { season: string; depthMm: number } | null {
  const here = spreadings.filter(
    (one) => one.input.name === product?.name && placeOfRow(places, one)?.bedIds.some((id) => bedIds.has(id)),
  )
  const season = seasons.findLast(({ id }) => here.some((one) => one.seasonId === id))
  const volumes = here
    .filter((one) => one.seasonId === season?.id)
    .map(({ quantityThousandths, input }) => millilitresOf(quantityThousandths, { ...input, measures }))
  if (!season || volumes.some((one) => one === null)) return null
  const areaCm2 = sumOfAreas(lyingOver(beds, season).filter((bed) => bedIds.has(bed.id)))
  if (areaCm2 === 0) return null
  // Asked for where none is unknown.
  const all = volumes.reduce<number>((sum, one) => sum + (one ?? 0), 0)
  return { season: season.name, depthMm: Math.max(0.1, Math.round((100 * all) / areaCm2) / 10) }
}

/** Person-minutes for a m3, over the loads for which hours were written. */
export function carryingTime(
  loads: readonly DeliveryRow[],
  { carried, measures }: Pick<CompostRows, 'carried' | 'measures'>,
): number | null {
  const timed = loads.flatMap((one) => {
    const [minutes, volume] = [carried.get(one.id), volumeOf(one, measures)]
    return minutes !== undefined && volume !== null ? [{ minutes, volume }] : []
  })
  const volume = timed.reduce((sum, one) => sum + one.volume, 0)
  return volume === 0 ? null : (1_000_000 * timed.reduce((sum, one) => sum + one.minutes, 0)) / volume
}

/** What the last closed season carried off some beds, the running one before any; null where nothing was weighed. */
export function carriedOff(
  rows: Pick<CompostRows, 'beds' | 'plantings' | 'seasons' | 'crops'>,
  bedIds: ReadonlySet<string>,
) {
  const beds = rows.beds.filter((bed) => bedIds.has(bed.id))
  const weighed = rows.plantings.filter((one) => bedIds.has(one.bedId) && one.marketableG + one.unmarketableG > 0)
  const withWeights = rows.seasons.filter(({ id }) => weighed.some((one) => one.seasonId === id))
  const season = withWeights.findLast((one) => one.closed) ?? withWeights.at(-1)
  if (!season) return null
  const own = weighed.filter((one) => one.seasonId === season.id)
  const off: Offtake = offtakeOf(own, rows.crops)
  return {
    ...off,
    season: season.name,
    areaCm2: sumOfAreas(lyingOver(beds, season)),
    grams: own.reduce((sum, one) => sum + one.marketableG + one.unmarketableG, 0),
  }
}

/** The beds of one garden. */
export const bedsOfGarden = ({ beds }: Pick<CompostRows, 'beds'>, gardenId: string): ReadonlySet<string> =>
  new Set(beds.flatMap((bed) => (bed.gardenId === gardenId ? [bed.id] : [])))
