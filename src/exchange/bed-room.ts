import { endOf, inBedFrom } from '../seasons/bed-course.ts'

export interface InBed {
  readonly areaCm2: number
  readonly interplanted: number
  readonly how: string
  readonly sownOn: string | null
  readonly plantedOn: string | null
  readonly clearedOn: string | null
  readonly standsUntil?: string | null
}

/**
 * Whether one planting more fits in its bed beside those that stand: on the days on which something starts, what stands
 * together is no larger than the bed (as the database counts, `plantings_fit`). What is interplanted takes no room.
 */
export function fitsIn(bedCm2: number, standing: readonly InBed[], more: InBed): boolean {
  if (more.interplanted === 1) return true
  const all = [...standing.filter((one) => one.interplanted === 0), more]
  return all.every((start) => {
    const day = inBedFrom(start)
    const there = all.filter((one) => inBedFrom(one) <= day && (endOf(one) ?? '9999') > day)
    return there.reduce((sum, one) => sum + one.areaCm2, 0) <= bedCm2
  })
}
