import { nameIfAny } from '../../lookups/unsaid.ts'
import { ifOnly } from '../matched/if-only.ts'
import { perKgGap } from '../matched/per-kg-gap.ts'
import { whyTheGap } from '../matched/why-the-gap.ts'
import type { TrialRecord } from '../record/trial-record.ts'
import { labourByTask } from '../totals/labour-by-task.ts'
import { gardensThatFailed, lossesByCause } from '../totals/losses-by-cause.ts'
import { methodTotals, sumOfSeasons } from '../totals/method-totals.ts'
import { type FigureRow, rowsOf } from './figure-rows.ts'

/** The methods beside the reference, and for how many pairs the interval of each is widened. */
export interface Compared {
  readonly referenceId: string
  readonly others: readonly { readonly id: string; readonly name: string; readonly comparisons: number }[]
}

const density = 'kg/m2'

/** The parts of each gap, over all crops and crop by crop; of one season. */
export function gapFigures(record: TrialRecord, seasonId: string, { referenceId, others }: Compared): FigureRow[] {
  return others.flatMap((other) => {
    const gap = whyTheGap(record, seasonId, { methodA: referenceId, methodB: other.id })
    if (gap.kind === 'refused') return []
    const { intensity, mix, growth, onlyB } = gap
    const whole = { gap: gap.crudeB - gap.crudeA, intensity, mix, growth, onlyB, onlyA: -gap.onlyA }
    return [
      ...rowsOf([other.name, 'all crops'], density, whole),
      ...gap.byKey.flatMap(({ key, ...parts }) => rowsOf([other.name, key], density, parts)),
    ]
  })
}

/** The gap in hours and in cost per kg, and the share of each side's hours or cost that it rests on; of one season. */
export function perKgFigures(record: TrialRecord, seasonId: string, { referenceId, others }: Compared): FigureRow[] {
  return (['minutes', 'costMinor'] as const).flatMap((of) =>
    others.flatMap((other) => {
      const gap = perKgGap(record, seasonId, { methodA: referenceId, methodB: other.id }, of)
      if (gap.kind === 'refused') return []
      const what = [other.name, of === 'minutes' ? 'hours' : 'cost']
      const parts = { gap: gap.crudeB - gap.crudeA, mix: gap.mixEffect, rate: gap.rateEffect }
      const { coveredA, coveredB } = gap
      return [
        ...rowsOf(what, of === 'minutes' ? 'h/kg' : 'minor/kg', parts),
        ...rowsOf(what, '1', { coveredA, coveredB }),
      ]
    }),
  )
}

/** All methods at once: as it was, and as if only one thing had differed; of one season. */
export function ifOnlyFigures(record: TrialRecord, seasonId: string, { referenceId, others }: Compared): FigureRow[] {
  const ids = [referenceId, ...others.map((other) => other.id)]
  const found = ifOnly(record, seasonId, ids)
  if (found.kind === 'refused') return []
  const { crude, standardised, crops } = found
  return ids.flatMap((id, i) => [
    ...rowsOf([nameOf(record, id)], density, {
      crude: crude[i],
      ...Object.fromEntries(Object.entries(standardised).map(([factor, values]) => [factor, values[i]])),
    }),
    ...rowsOf([nameOf(record, id)], '1', { crops: crops.length }),
  ])
}

/** Losses by cause and whether it lay outside the method, what they come to, and gardens that lost a planting whole. */
export function lossFigures(
  record: TrialRecord,
  seasonIds: readonly string[],
  { referenceId, others }: Compared,
): FigureRow[] {
  const found = lossesByCause(record, seasonIds).flatMap((one) => {
    const method = nameOf(record, one.methodId)
    const { plantings, failed, lostShare, kgPerM2Standing, kgPerM2Planted } = one
    return [
      ...one.causes.flatMap(({ cause, outsideMethod, count, areaPermille, nextDoor }) =>
        rowsOf([method, cause, outsideMethod ? 'outside' : 'of the method'], '1', {
          count,
          share: areaPermille / 1000 / one.plantedAreaCm2,
          alsoNextDoor: nextDoor.yes,
        }),
      ),
      ...rowsOf([method, 'all', 'all'], '1', { plantings, failed, lostShare }),
      ...rowsOf([method, 'all', 'all'], density, { kgPerM2Standing, kgPerM2Planted }),
    ]
  })
  const gardens = others.flatMap((other) => {
    const apart = gardensThatFailed(record, seasonIds, { methodA: referenceId, methodB: other.id })
    if (apart.kind === 'refused') return []
    const { difference, low, high } = apart
    return rowsOf([other.name, 'gardens that lost a planting whole', 'all'], '1', { difference, low, high })
  })
  return [...found, ...gardens]
}

/** Person-hours per m2 of bed by task, of all tasks, and of them those of establishing. */
export function labourFigures(record: TrialRecord, seasonIds: readonly string[]): FigureRow[] {
  const totals = sumOfSeasons(seasonIds.map((id) => methodTotals(record, id)))
  return labourByTask(record, seasonIds).flatMap(({ methodId, byTask }) => {
    const area = totals.get(methodId)?.bedAreaCm2 ?? 1
    const perM2 = (minutes: number) => ((minutes / area) * 10_000) / 60
    const all = Object.values(byTask)
    const sum = (of: 'minutes' | 'establishing') => perM2(all.reduce((total, task) => total + task[of], 0))
    const method = nameOf(record, methodId)
    return [
      ...Object.entries(byTask).flatMap(([task, { minutes }]) =>
        rowsOf([method, task], 'h/m2', { hours: perM2(minutes) }),
      ),
      ...rowsOf([method, 'all'], 'h/m2', { hours: sum('minutes'), establishing: sum('establishing') }),
    ]
  })
}

const nameOf = (record: TrialRecord, id: string) => nameIfAny(record.methods.find((one) => one.id === id))
