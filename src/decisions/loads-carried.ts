import { bedsIn } from '../comparison/record/ground.ts'
import type { TrialRecord } from '../comparison/record/trial-record.ts'
import { methodsOfBeds } from '../comparison/totals/method-totals.ts'
import { gramsOf, type LoadMeasure, millilitresOf } from '../inputs/measures.ts'
import { nth } from '../lookups/nth.ts'
import { splitExactly } from '../quantities/split-exactly.ts'
import { laidKinds } from './compost-start.ts'

/** A spreading as it was written, with the beds that it went on. */
export interface LoadSpread {
  readonly seasonId: string
  readonly bedIds: readonly string[]
  readonly quantityThousandths: number
  readonly input: {
    readonly name: string
    readonly kind: string
    readonly unit: string
    readonly densityKgPerM3: number | null
  }
}

export interface LoadsCarried {
  readonly grams: number
  /** Layers whose weight nobody can say: no bale or load of them was weighed. */
  readonly unweighed: number
  /** The product of which a full barrow weighs most, of those whose volume and weight are known. */
  readonly heaviest: { readonly input: string; readonly barrowG: number; readonly barrowMl: number } | null
}

/** A builder's barrow struck full: from memory; the group's own measure of that name comes first. */
const usualBarrowMl = 85_000

/**
 * What was carried onto the ground of each method in a season, in whole grams: what went on beds of several methods is
 * divided over them by area, exactly. A barrow weighs its volume times the density of what is in it.
 * Example: 1.2 m3 at 593 kg/m3 are 711.6 kg, and a barrow of 85 l of it 50.4 kg.
 */
export function loadsCarried(
  record: TrialRecord,
  seasonId: string,
  { spread, measures }: { readonly spread: readonly LoadSpread[]; readonly measures: readonly LoadMeasure[] },
): ReadonlyMap<string, LoadsCarried> {
  const methodOf = methodsOfBeds(record, seasonId)
  const beds = bedsIn(record, seasonId).filter((bed) => methodOf.has(bed.id))
  const own = measures.find((one) => one.name.trim().toLowerCase() === 'barrow')?.volumeMl
  const barrowMl = own ?? usualBarrowMl
  const carried = new Map<string, LoadsCarried>()
  for (const { seasonId: of, bedIds, quantityThousandths, input } of spread) {
    const ground = of === seasonId ? beds.filter((bed) => bedIds.includes(bed.id)) : []
    const counted = { ...input, measures }
    const grams = gramsOf(quantityThousandths, counted)
    if (ground.length === 0 || (grams === null && !laidKinds.includes(input.kind))) continue
    const areas = ground.map((bed) => bed.areaCm2)
    const parts = grams === null ? null : (splitExactly(Math.round(grams), areas) ?? null)
    const volumeMl = millilitresOf(quantityThousandths, counted)
    const barrow =
      grams !== null && volumeMl !== null && volumeMl > 0
        ? { input: input.name, barrowMl, barrowG: (barrowMl * grams) / volumeMl }
        : null
    for (const [place, bed] of ground.entries()) {
      const methodId = methodOf.get(bed.id)
      if (methodId === undefined) continue
      const before = carried.get(methodId) ?? { grams: 0, unweighed: 0, heaviest: null }
      const isHeavier = barrow !== null && barrow.barrowG > (before.heaviest === null ? 0 : before.heaviest.barrowG)
      carried.set(methodId, {
        grams: before.grams + (parts === null ? 0 : nth(parts, place)),
        unweighed: before.unweighed + (parts === null && place === 0 ? 1 : 0),
        heaviest: isHeavier ? barrow : before.heaviest,
      })
    }
  }
  return carried
}
