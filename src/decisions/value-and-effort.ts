import type { TrialRecord } from '../comparison/record/trial-record.ts'
import type { MethodTotals } from '../comparison/totals/figures.ts'
import { methodsOfBeds, methodTotals } from '../comparison/totals/method-totals.ts'
import { metOfTask } from './met.ts'

/** What a crop is worth and holds; null where the group has not said and no source is kept. */
interface CropWorth {
  readonly name: string
  readonly priceMinorPerKg: number | null
  readonly energyKcalPer100g: number | null
  /** Of what is weighed: peel, pods, outer leaves. */
  readonly refusePercent: number | null
}

/** One method in one season, in whole sums: figures are quotients of these. */
export interface WorthOfMethod {
  readonly methodId: string
  readonly name: string
  readonly areaCm2: number
  readonly marketableG: number
  /** Minor units, of the crops with a price; and what was weighed without one. */
  readonly worthMinor: number
  readonly unpricedG: number
  /** kcal, of the crops whose energy is known; and what was weighed of others. */
  readonly energyKcal: number
  readonly unknownEnergyG: number
  readonly inputsMinor: number
  readonly unpricedInputs: number
  readonly minutes: number
  /** Tenths of a metabolic equivalent x minutes, of tasks with a code; and the minutes of those without. */
  readonly metTenthMinutes: number
  readonly withoutCodeMinutes: number
  /** Garden-weeks whose hours or weights are open. */
  readonly openWeeks: number
}

/**
 * What a method's ground gave in money and food and what it took in effort. Value = marketable weight x price;
 * energy = marketable weight x (1 - refuse) x kcal of the edible part; effort = hours x the task's equivalent.
 */
export function worthOfMethods(record: TrialRecord, seasonId: string, crops: readonly CropWorth[]): WorthOfMethod[] {
  const plain = methodTotals(record, seasonId)
  const strained = methodTotals(withEffort(record), seasonId)
  const coded = methodTotals(withCode(record), seasonId)
  const grown = grownBy(record, seasonId, crops)
  return record.methods.flatMap(({ id, name }) => {
    const totals = plain.get(id)
    if (!totals || totals.bedAreaCm2 === 0) return []
    const own = grown.get(id) ?? nothingGrown()
    return [
      {
        methodId: id,
        name,
        areaCm2: totals.bedAreaCm2,
        ...own,
        inputsMinor: totals.costMinor,
        unpricedInputs: totals.unpriced,
        minutes: minutesOf(totals),
        metTenthMinutes: minutesOf(strained.get(id)),
        withoutCodeMinutes: minutesOf(totals) - minutesOf(coded.get(id)),
        openWeeks: 2 * totals.weeks - totals.hoursClosed - totals.weightsClosed,
      },
    ]
  })
}

const minutesOf = (totals: MethodTotals | undefined) =>
  totals === undefined ? 0 : totals.minutesWithoutHarvest + totals.minutesOfHarvest

const codes = new Map(Object.entries(metOfTask))
const codeOf = (task: string) => codes.get(task) ?? null

const withCode = (record: TrialRecord): TrialRecord => ({
  ...record,
  labour: record.labour.filter((entry) => codeOf(entry.task) !== null),
})

/** The same record with every minute as strenuous as its task: what is divided over beds is divided alike. */
const withEffort = (record: TrialRecord): TrialRecord => ({
  ...record,
  labour: record.labour.flatMap((entry) => {
    const code = codeOf(entry.task)
    return code === null ? [] : [{ ...entry, personMinutes: entry.personMinutes * code.tenths }]
  }),
})

const nothingGrown = () => ({ marketableG: 0, worthMinor: 0, unpricedG: 0, energyKcal: 0, unknownEnergyG: 0 })

function grownBy(record: TrialRecord, seasonId: string, crops: readonly CropWorth[]) {
  const methodOf = methodsOfBeds(record, seasonId)
  const byName = new Map(crops.map((crop) => [crop.name, crop]))
  const sums = new Map<string, ReturnType<typeof nothingGrown>>()
  for (const { seasonId: of, bedId, crop: name, marketableG } of record.plantings) {
    const methodId = of === seasonId ? methodOf.get(bedId) : undefined
    if (methodId === undefined || marketableG === 0) continue
    const sum = sums.get(methodId) ?? nothingGrown()
    sums.set(methodId, sum)
    const crop = byName.get(name)
    sum.marketableG += marketableG
    if (crop?.priceMinorPerKg == null) sum.unpricedG += marketableG
    else sum.worthMinor += (marketableG * crop.priceMinorPerKg) / 1000
    if (crop?.energyKcalPer100g == null) sum.unknownEnergyG += marketableG
    // A crop without a share of refuse is eaten whole.
    else sum.energyKcal += (marketableG * crop.energyKcalPer100g * (100 - (crop.refusePercent ?? 0))) / 10_000
  }
  return sums
}

/** Too much of the harvest has no price for its worth to be said: more than a tenth of its weight. */
export const worthIsKnown = ({ unpricedG, marketableG }: WorthOfMethod): boolean => 10 * unpricedG <= marketableG

/** What an hour brought after inputs, at so many times the prices; null without hours or prices. */
export function returnPerHour(worth: WorthOfMethod, timesPrice: number): number | null {
  if (worth.minutes === 0 || worth.unpricedInputs > 0 || !worthIsKnown(worth)) return null
  return (60 * (timesPrice * worth.worthMinor - worth.inputsMinor)) / worth.minutes
}
