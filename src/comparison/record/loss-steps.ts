import type { LossRecord } from './trial-record.ts'

/**
 * What each loss of one planting took, in whole permille of its area: its share of what still stood, one after another.
 */
export function lossSteps<T extends Pick<LossRecord, 'sharePermille'>>(losses: readonly T[]) {
  let left = 1000
  return losses.map((loss) => {
    const before = left
    left = Math.round((left * (1000 - loss.sharePermille)) / 1000)
    return { loss, permille: before - left }
  })
}
