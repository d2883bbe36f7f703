import type { IsoDate } from '../quantities/dates.ts'

/** A planting by its days: the first on which it takes room in its bed, and the one on which that is free again. */
export interface OverDays {
  readonly from: IsoDate
  readonly until: IsoDate | null
  readonly areaCm2: number
  readonly interplanted: number
}

export const isInBedOn = ({ from, until }: OverDays, day: string): boolean =>
  from <= day && (until === null || until > day)

/**
 * What a planting was put into on purpose: those of its bed that take room of their own and stood there on its first
 * day. Radish between carrots, or a relay (the second crop sown into the first while that still stands).
 */
export const hostsOf = <T extends OverDays>(one: OverDays, inBed: readonly T[]): readonly T[] =>
  one.interplanted === 0 ? [] : inBed.filter((other) => other.interplanted === 0 && isInBedOn(other, one.from))

/**
 * The room that a planting takes in its bed on a day, in cm2. What is interplanted takes none as long as something
 * stands that it was put into; when the last of that is gone, it takes its own. What was put into nothing takes none.
 */
export function roomOn(one: OverDays, inBed: readonly OverDays[], day: string): number {
  if (!isInBedOn(one, day)) return 0
  if (one.interplanted === 0) return one.areaCm2
  const hosts = hostsOf(one, inBed)
  return hosts.length === 0 || hosts.some((host) => isInBedOn(host, day)) ? 0 : one.areaCm2
}
