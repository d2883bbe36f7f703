import type { IsoDate } from '../quantities/dates.ts'
import { endOf, type InBed, inBedFrom } from './bed-course.ts'

interface Placed extends InBed {
  readonly bedId: string
}

/**
 * What comes into the bed of a planting from the day on which that was to be gone, and before the day it is cleared;
 * first come first.
 */
export function comesBefore<P extends Placed>(plantings: readonly P[], one: P, clearedOn: IsoDate): P[] {
  const end = endOf(one) ?? clearedOn
  return plantings
    .filter((next) => next.id !== one.id && next.bedId === one.bedId && !next.interplanted)
    .filter((next) => inBedFrom(next) >= end && inBedFrom(next) < clearedOn)
    .sort((a, b) => (inBedFrom(a) < inBedFrom(b) ? -1 : inBedFrom(a) > inBedFrom(b) ? 1 : a.id < b.id ? -1 : 1))
}
