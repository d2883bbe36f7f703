import { firstOf, nth } from '../../lookups/nth.ts'
import { numberIn } from '../../lookups/unsaid.ts'
import { type Answer, answer, type Refusal, refused } from '../../statistics/answer.ts'
import { meanOf } from '../../statistics/moments.ts'
import type { TrialRecord } from '../record/trial-record.ts'
import { methodsOfBeds, methodTotals } from '../totals/method-totals.ts'
import { burdenBounds } from './burden-bounds.ts'
import { type Burden, burdenOf, isWhole } from './burdens.ts'
import { closedSeasons } from './closed-seasons.ts'
import { dividedBetween, mostDivided } from './divided-between.ts'
import { type LaidOut, type LaidUnit, laidOut, unitsIn } from './laid-out.ts'
import { type MatchedCrop, matchedOver } from './matched-crops.ts'

interface UnitValue extends LaidUnit {
  readonly seasonId: string
  /**
   * kg per planted m2 on the common mix of the matched crops, 0 where all of them failed; or what a burden comes to.
   */
  readonly rate: number
}

/** The values of every unit in every season that is counted. */
export interface LayoutValues extends LaidOut {
  readonly values: readonly UnitValue[]
  /** Crops that they rest on; none where all that grew is counted. */
  readonly crops: readonly string[]
}

/**
 * Over the crops that stood matched under all the units of these methods and were cleared, on one common mix: that of
 * these seasons, or of the seasons among which each of them is looked at. Seasons with more than a tenth of their weeks
 * open are left out, unless there is no other, and so are those in which no crop stood matched under all of them.
 */
export function layoutValues(
  record: TrialRecord,
  seasonIds: readonly string[],
  methodIds: readonly string[],
  mixOfIds: readonly string[] = seasonIds,
): Answer<LayoutValues> | Refusal {
  const laid = laidOut(record, closedSeasons(record, seasonIds, methodIds), methodIds)
  if (laid.kind === 'refused') return laid
  const among = laidOut(record, closedSeasons(record, mixOfIds, methodIds), methodIds)
  const mixed = new Set([...laid.seasonIds, ...(among.kind === 'answer' ? among.seasonIds : [])])
  const cropsIn = new Map([...mixed].map((id) => [id, cropsOf(laid.cells, id)] as const))
  // A season without any matched crop is a gap: it is left out, and is no reason to say nothing of the others.
  const grown = [...cropsIn.values()].filter((crops) => crops.length > 0)
  const kept = laid.seasonIds.filter((id) => (cropsIn.get(id) ?? []).length > 0)
  const shared = sharedCrops(grown)
  if (shared.length === 0 || kept.length === 0) return refused('nothing in common', 'no crop matched over all units')
  const mix = mixOf(grown, shared)
  const values = kept.flatMap((id) =>
    unitsIn(laid, id).map((unit) => ({
      ...unit,
      seasonId: id,
      rate: rateOf(unit.unitId, cropsIn.get(id) ?? [], mix),
    })),
  )
  return answer({ ...laid, seasonIds: kept, values, crops: shared })
}

/**
 * Hours or costs of every unit, all crops, over the seasons in which enough is known of every unit. Refuses where more
 * than a tenth of what a method has was written for several units together and only divided over them ("only divided"),
 * and where a unit has nothing at all in a season, which has no logarithm.
 */
export function burdenValues(
  record: TrialRecord,
  seasonIds: readonly string[],
  methodIds: readonly string[],
  burden: Burden,
): Answer<LayoutValues> | Refusal {
  const laid = laidOut(record, seasonIds, methodIds)
  if (laid.kind === 'refused') return laid
  const whole = laid.seasonIds.map((id) => ({ id, own: unitSums(laid, id) })).filter(({ own }) => allWhole(own, burden))
  if (whole.length === 0) return refused('too few', 'no whole season')
  const wholeIds = whole.map((one) => one.id)
  const divided = dividedBetween(record, wholeIds, methodIds, { burden, unit: laid.unit })
  if (divided > mostDivided) return refused('only divided', String(divided))
  const values = whole.flatMap(({ id, own }) =>
    own.map(({ sums, ...unit }) => ({ ...unit, seasonId: id, rate: burdenOf(burden, sums) })),
  )
  if (!values.every((one) => Number.isFinite(one.rate) && one.rate > 0)) {
    return refused('zero total', 'a place with nothing in a season')
  }
  return answer({ ...laid, seasonIds: wholeIds, values, crops: [] })
}

/** These values with what open weeks may hold: of one method as little as can be, of all others as much. */
export function burdenValuesAtAnEnd(
  found: LayoutValues,
  burden: Burden,
  least: string,
): Answer<LayoutValues & { readonly openWeeks: number }> | Refusal {
  let openWeeks = 0
  const values: UnitValue[] = []
  for (const one of found.values) {
    const bounds = burdenBounds(found.cells, one.seasonId, one.unitId, burden)
    if (bounds.kind === 'refused') return bounds
    openWeeks += bounds.openWeeks
    values.push({ ...one, rate: one.methodId === least ? bounds.low : bounds.high })
  }
  return answer({ ...found, values, openWeeks })
}

function unitSums(laid: LaidOut, seasonId: string) {
  const totals = methodTotals(laid.cells, seasonId)
  return unitsIn(laid, seasonId).flatMap((unit) => {
    const sums = totals.get(unit.unitId)
    return sums ? [{ ...unit, sums }] : []
  })
}

const allWhole = (own: ReturnType<typeof unitSums>, burden: Burden) => own.every(({ sums }) => isWhole(sums, burden))

type Crops = readonly MatchedCrop[]

function cropsOf(cells: TrialRecord, seasonId: string): Crops {
  const present = new Set(methodsOfBeds(cells, seasonId).values())
  return matchedOver(cells, [seasonId], [...present]).sort((a, b) => (a.name < b.name ? -1 : 1))
}

const sharedCrops = (seasons: readonly Crops[]) =>
  (seasons[0] ?? [])
    .map((crop) => crop.name)
    .filter((name) => seasons.every((own) => own.some((crop) => crop.name === name)))

function mixOf(seasons: readonly Crops[], names: readonly string[]): Map<string, number> {
  const areas = names.map((name) =>
    // A crop that was not grown in a season stood on no ground.
    seasons.reduce((sum, own) => sum + (own.find((crop) => crop.name === name)?.plantedAreaCm2 ?? 0), 0),
  )
  const all = areas.reduce((sum, area) => sum + area, 0)
  return new Map(names.map((name, i) => [name, nth(areas, i) / all]))
}

const rateOf = (unitId: string, crops: Crops, mix: ReadonlyMap<string, number>) =>
  crops
    .filter((crop) => mix.has(crop.name))
    .reduce((sum, crop) => {
      const own = crop.byMethod.get(unitId)
      // A planting that came to nothing counts as nothing, with its area in.
      return sum + numberIn(mix, crop.name) * ((10 * (own?.marketableG ?? 0)) / (own?.plantedAreaCm2 ?? 1))
    }, 0)

/**
 * One value a unit: the mean over its seasons of the logarithm of its rate; null where nothing came off it in some
 * season.
 */
export function onePerUnit(values: readonly UnitValue[]) {
  return [...new Set(values.map((one) => one.unitId))].sort().map((unitId) => {
    const own = values.filter((one) => one.unitId === unitId)
    const { methodId, blockId, gardenId } = firstOf(own)
    const logs = own.map((one) => Math.log(one.rate))
    return { unitId, methodId, blockId, gardenId, value: logs.every(Number.isFinite) ? meanOf(logs) : null }
  })
}
