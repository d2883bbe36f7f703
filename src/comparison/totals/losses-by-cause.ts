import { type Answer, type Refusal, refused } from '../../statistics/answer.ts'
import { type Difference, newcombeDifference } from '../../statistics/newcombe-difference.ts'
import { lossSteps } from '../record/loss-steps.ts'
import type { PlantingRecord, TrialRecord } from '../record/trial-record.ts'
import { methodsOfBeds } from './method-totals.ts'

interface LossesOfCause {
  readonly cause: string
  readonly outsideMethod: boolean
  /** Losses, and the ground that they took in whole cm2 x permille, each on what still stood. */
  readonly count: number
  readonly areaPermille: number
  /** Of the count: also lost next door, not lost there, not grown there, not said. */
  readonly nextDoor: Readonly<Record<'yes' | 'no' | 'not grown' | 'not said', number>>
}

interface LossesOfMethod {
  readonly methodId: string
  readonly plantedAreaCm2: number
  readonly causes: readonly LossesOfCause[]
  /** Plantings, and those of which nothing stood in the end. */
  readonly plantings: number
  readonly failed: number
  /** How often it failed, and how it did where it stood: kg per planted m2 is the second times one minus the first. */
  readonly lostShare: number | null
  readonly kgPerM2Standing: number | null
  readonly kgPerM2Planted: number | null
}

/** Losses of every method by their cause, on the plantings for harvest of these seasons. */
export function lossesByCause(record: TrialRecord, seasonIds: readonly string[]): LossesOfMethod[] {
  return record.methods.flatMap((method) => {
    const own = plantingsUnder(record, seasonIds, method.id)
    return own.length === 0 ? [] : [lossesOf(record, method.id, own)]
  })
}

function plantingsUnder(
  record: TrialRecord,
  seasonIds: readonly string[],
  methodId: string,
): readonly PlantingRecord[] {
  return seasonIds.flatMap((seasonId) => {
    const methodOf = methodsOfBeds(record, seasonId)
    return record.plantings.filter(
      (one) => one.seasonId === seasonId && one.purpose === 'harvest' && methodOf.get(one.bedId) === methodId,
    )
  })
}

function lossesOf(record: TrialRecord, methodId: string, plantings: readonly PlantingRecord[]): LossesOfMethod {
  const causes = new Map<string, LossesOfCause>()
  let [lostPermille, failed] = [0, 0]
  for (const planting of plantings) {
    let left = 1000
    for (const { loss, permille } of lossSteps(record.losses.filter((one) => one.plantingId === planting.id))) {
      left -= permille
      const [cause, outsideMethod] = [loss.cause ?? 'unknown', loss.outsideMethod ?? false]
      const key = `${cause} ${outsideMethod}`
      const none = { yes: 0, no: 0, 'not grown': 0, 'not said': 0 }
      const sum = causes.get(key) ?? { cause, outsideMethod, count: 0, areaPermille: 0, nextDoor: none }
      const said = (loss.alsoNextDoor ?? 'not said') as keyof typeof none
      causes.set(key, {
        ...sum,
        count: sum.count + 1,
        areaPermille: sum.areaPermille + planting.areaCm2 * permille,
        nextDoor: { ...sum.nextDoor, [said]: sum.nextDoor[said] + 1 },
      })
    }
    lostPermille += planting.areaCm2 * (1000 - left)
    failed += left === 0 ? 1 : 0
  }
  const planted = plantings.reduce((sum, one) => sum + one.areaCm2, 0)
  const grams = plantings.reduce((sum, one) => sum + one.marketableG, 0)
  const standing = planted - lostPermille / 1000
  return {
    methodId,
    plantedAreaCm2: planted,
    plantings: plantings.length,
    failed,
    causes: [...causes.values()].sort((a, b) =>
      a.cause === b.cause ? Number(a.outsideMethod) - Number(b.outsideMethod) : a.cause < b.cause ? -1 : 1,
    ),
    lostShare: planted === 0 ? null : lostPermille / 1000 / planted,
    kgPerM2Standing: standing <= 0 ? null : (10 * grams) / standing,
    kgPerM2Planted: planted === 0 ? null : (10 * grams) / planted,
  }
}

/**
 * Whether gardens of one method lost a planting whole more often than those of another: the units are gardens, since
 * one hailstorm fails six plantings at once. Refused where a method has fewer than two gardens.
 */
export function gardensThatFailed(
  record: TrialRecord,
  seasonIds: readonly string[],
  { methodA, methodB }: { readonly methodA: string; readonly methodB: string },
): Answer<Difference> | Refusal {
  const [a, b] = [failedGardens(record, seasonIds, methodA), failedGardens(record, seasonIds, methodB)]
  if (a.n < 2 || b.n < 2) return refused('no error term', `${Math.min(a.n, b.n)} gardens`)
  return newcombeDifference(b, a)
}

function failedGardens(record: TrialRecord, seasonIds: readonly string[], methodId: string) {
  const gardenOf = new Map(record.beds.map((bed) => [bed.id, bed.gardenId]))
  const own = plantingsUnder(record, seasonIds, methodId)
  const gardens = new Set(own.map((one) => gardenOf.get(one.bedId)))
  const total = new Set(record.losses.filter((loss) => loss.sharePermille === 1000).map((loss) => loss.plantingId))
  const failed = new Set(own.filter((one) => total.has(one.id)).map((one) => gardenOf.get(one.bedId)))
  return { events: failed.size, n: gardens.size }
}
