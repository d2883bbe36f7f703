import { type Answer, answer, type Refusal, refused } from '../../statistics/answer.ts'
import { meanOf, sdOf } from '../../statistics/moments.ts'
import type { TrialRecord } from '../record/trial-record.ts'
import { weighedOf } from '../record/weighed-of.ts'

export interface ErrorOfMeasuring {
  readonly pairs: number
  /** Of one reading, on the logarithmic scale: exp(sdLog) - 1 is it as a share. */
  readonly sdLog: number
  /** Mean logarithm of second over first reading: what the two people differ by on the whole. */
  readonly meanLog: number
}

/**
 * How far one reading of a weight lies from another of the same: the standard deviation of the logarithms of second
 * over first, over the square root of 2, since each of the two readings has the error. The within-subject standard
 * deviation of Bland & Altman 1996 (BMJ 312:1654, from memory) for two readings each, on logarithms since an error of
 * scales and of hands grows with what is weighed; a difference of the two people as a whole is apart. Refused under two
 * pairs. Example: 10 and 11 kg, 20 and 20 kg: logarithms 0.0953 and 0, SD 0.0674, over the root of 2 0.0477.
 */
export function errorOfMeasuring(pairs: readonly (readonly [number, number])[]): Answer<ErrorOfMeasuring> | Refusal {
  const weighed = pairs.filter(([first, second]) => first > 0 && second > 0)
  if (weighed.length < 2) return refused('too few', String(weighed.length))
  const logs = weighed.map(([first, second]) => Math.log(second / first))
  return answer({ pairs: weighed.length, sdLog: sdOf(logs) / Math.SQRT2, meanLog: meanOf(logs) })
}

/** First and second reading of each planting and week that was weighed by two people in these seasons, in grams. */
export function readingsOf(record: TrialRecord, seasonIds: readonly string[]): [number, number][] {
  const plantings = new Map(record.plantings.map((one) => [one.id, one]))
  return (record.readTwice ?? []).flatMap(({ plantingId, isoWeek, weighedG }): [number, number][] => {
    const planting = plantings.get(plantingId)
    if (!planting || !seasonIds.includes(planting.seasonId)) return []
    const first = weighedOf(planting)
      .filter((one) => one.isoWeek === isoWeek)
      .reduce((sum, one) => sum + one.marketableG + one.unmarketableG, 0)
    return first > 0 ? [[first, weighedG]] : []
  })
}
