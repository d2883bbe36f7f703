import { numberIn } from '../lookups/unsaid.ts'
import { formatArea, formatDay, formatHours, formatMoney, formatNumber } from '../quantities/formatting.ts'
import { catalogue } from '../words/catalogue.ts'
import { costOf, type DeliveryRow, leftOf, type SpreadingRow } from './load.ts'
import { coverOf, type LoadMeasure, millilitresOf } from './measures.ts'
import { areaOfPlace, type Place, placeOfRow } from './place.ts'
import { countedIn, seasonSums } from './season-sums.ts'

/** Ground covered and ground there may differ by this much before the page asks whether the depth is right. */
const coversTooMuch = 1.25

interface InputsRows {
  readonly deliveries: readonly DeliveryRow[]
  readonly spreadings: readonly SpreadingRow[]
  readonly places: readonly Place[]
  readonly measures: readonly (LoadMeasure & { readonly id: string })[]
  readonly seasons: readonly { id: string; name: string; closedAt: Date | null }[]
  readonly plantings: readonly { id: string; seasonId: string }[]
  /** Person-minutes of carrying and spreading that were written down for a load. */
  readonly carried: ReadonlyMap<string, number>
}

interface Written {
  readonly locale: string
  readonly currency: string
}

/** What is there, what was spread and what it carried, in the group's words and units. */
export function inputsPage(rows: InputsRows, written: Written) {
  const { locale } = written
  const amount = (thousandths: number, unit: string) =>
    `${formatNumber(thousandths / 1000, locale, thousandths % 1000 ? 2 : 0)} ${unit}`
  const money = (minor: number | null) => (minor === null ? null : formatMoney(minor, locale, written.currency))
  const day = (date: string | null) => (date === null ? null : formatDay(date, locale))
  return {
    stands: stands(rows.deliveries, amount),
    deliveries: rows.deliveries.map((one) => ({
      id: one.id,
      inputId: one.inputId,
      inputName: one.inputName,
      ownMade: one.ownMade,
      rawManure: one.rawManure,
      usefulLifeSeasons: one.usefulLifeSeasons,
      ordered: day(one.orderedOn),
      came: day(one.deliveredOn),
      quantity: amount(one.quantityThousandths, one.unit),
      spread: amount(one.spreadThousandths, one.unit),
      left: one.deliveredOn === null ? null : amount(leftOf(one), one.unit),
      price: money(one.priceMinor),
      delivery: money(one.deliveryPriceMinor),
      carried: rows.carried.has(one.id) ? formatHours(numberIn(rows.carried, one.id), locale) : null,
    })),
    spreadings: rows.spreadings.map((one) => {
      const place = placeOfRow(rows.places, one)
      return {
        id: one.id,
        inputName: one.input.name,
        seasonName: one.seasonName,
        phase: one.phase === null ? catalogue.inputs.byArea : (phaseNames.get(one.phase) ?? one.phase),
        place,
        day: formatDay(one.appliedOn, locale),
        quantity: amount(one.quantityThousandths, one.input.unit),
        depth: depthSaid(one, place, rows.measures, written),
      }
    }),
    seasons: seasonRows(rows, written),
    measures: rows.measures.map(({ id, name, volumeMl, massG }) => ({
      id,
      name,
      litres: volumeMl === null ? null : `${formatNumber(volumeMl / 1000, locale, volumeMl % 1000 ? 1 : 0)} L`,
      mass: massG === null ? null : `${formatNumber(massG / 1000, locale, massG % 1000 ? 1 : 0)} kg`,
    })),
    placeChoices: placeChoices(rows),
    anyCame: rows.deliveries.some((one) => one.deliveredOn !== null),
    // The last one that came is most often the one that is spread.
    spreadable: rows.deliveries.toReversed().flatMap((one) =>
      one.deliveredOn === null || leftOf(one) === 0
        ? []
        : [
            {
              value: one.id,
              label: `${one.inputName}, ${formatDay(one.deliveredOn, locale)}, ${amount(leftOf(one), one.unit)}`,
            },
          ],
    ),
    awaited: rows.deliveries.flatMap((one) =>
      one.deliveredOn === null
        ? [{ value: one.id, label: `${one.inputName}, ${amount(one.quantityThousandths, one.unit)}` }]
        : [],
    ),
    seasonChoices: [
      { value: '', label: catalogue.inputs.byDay },
      ...rows.seasons.map(({ id, name }) => ({ value: id, label: name })).reverse(),
    ],
    phaseChoices: [{ value: '', label: catalogue.inputs.byGround }, ...phaseChoices],
  }
}

const phaseNames = new Map(Object.entries(catalogue.inputs.phases))
const phaseChoices = [...phaseNames].map(([value, label]) => ({ value, label }))

type Amount = (thousandths: number, unit: string) => string

/** For each input, what has come in all, what of it was spread and is left, and what is still to come. */
function stands(deliveries: readonly DeliveryRow[], amount: Amount) {
  const sums = new Map<string, { name: string; unit: string; came: number; spread: number; ordered: number }>()
  for (const one of deliveries) {
    const sum = sums.get(one.inputId) ?? { name: one.inputName, unit: one.unit, came: 0, spread: 0, ordered: 0 }
    sums.set(one.inputId, sum)
    if (one.deliveredOn === null) sum.ordered += one.quantityThousandths
    else sum.came += one.quantityThousandths
    sum.spread += one.spreadThousandths
  }
  return [...sums.values()].map(({ name, unit, came, spread, ordered }) => ({
    name,
    came: amount(came, unit),
    spread: amount(spread, unit),
    left: amount(came - spread, unit),
    ordered: ordered === 0 ? null : amount(ordered, unit),
  }))
}

/**
 * Plantings of seasons that are closed are left out of the list: there are many, and little is spread on them any more.
 */
function placeChoices({ places, seasons, plantings }: InputsRows): Place[] {
  const closed = new Set(seasons.filter((season) => season.closedAt !== null).map((season) => season.id))
  const old = new Set(plantings.filter((one) => closed.has(one.seasonId)).map((one) => one.id))
  return places.filter((place) => place.kind !== 'planting' || !old.has(place.id))
}

/**
 * The depth that was written with what it covers and costs per m2 there, or the depth if it lies evenly over the
 * ground.
 */
function depthSaid(one: SpreadingRow, place: Place | null, measures: readonly LoadMeasure[], written: Written) {
  const { locale, currency } = written
  const volumeMl = millilitresOf(one.quantityThousandths, countedIn(one.input, measures))
  const mm = (depth: number) => `${formatNumber(depth, locale, 0)} mm`
  const groundCm2 = place === null ? null : areaOfPlace(place, one.appliedOn)
  if (one.depthMm !== null && volumeMl === null) return { kind: 'no volume' as const, depth: mm(one.depthMm) }
  if (one.depthMm !== null && volumeMl !== null) {
    const cover = coverOf({ volumeMl, depthMm: one.depthMm, costMinor: costOf(one) })
    return {
      kind: 'stated' as const,
      depth: mm(one.depthMm),
      area: formatArea(cover.areaCm2, locale),
      costPerM2: cover.costMinorPerM2 === null ? null : formatMoney(cover.costMinorPerM2, locale, currency),
      tooMuch: groundCm2 !== null && cover.areaCm2 > coversTooMuch * groundCm2 ? formatArea(groundCm2, locale) : null,
    }
  }
  if (volumeMl === null || groundCm2 === null || groundCm2 === 0) return null
  return { kind: 'evenly' as const, depth: mm((10 * volumeMl) / groundCm2) }
}

function seasonRows({ seasons, spreadings, measures }: InputsRows, { locale, currency }: Written) {
  const kilograms = (grams: number | null) => (grams === null ? null : `${formatNumber(grams / 1000, locale, 1)} kg`)
  return seasonSums(seasons, spreadings, measures).map((one) => ({
    name: one.season,
    unpriced: one.unpriced,
    spreadings: one.spreadings,
    cost: formatMoney(one.costMinor, locale, currency),
    nutrients: [
      { sum: kilograms(one.nitrogenG), known: one.nitrogenKnown },
      { sum: kilograms(one.phosphorusG), known: one.phosphorusKnown },
      { sum: kilograms(one.potassiumG), known: one.potassiumKnown },
    ],
  }))
}
