import { daysBetween, type IsoDate } from '../quantities/dates.ts'

/** An area in cm2 with the day from which it holds; null where it held from the beginning. 0 is ground given up. */
export interface AreaFrom {
  readonly from: IsoDate | null
  readonly areaCm2: number
}

export interface Span {
  readonly startsOn: IsoDate
  readonly endsOn: IsoDate
}

/** An area that never changed. */
export const always = (areaCm2: number): readonly AreaFrom[] => [{ from: null, areaCm2 }]

/** The areas of one piece of ground: as it was when it began, and each change after; by their days. */
export const areasOf = (first: AreaFrom, changes: readonly AreaFrom[]): readonly AreaFrom[] =>
  changes.length === 0 ? [first] : [first, ...changes].sort(byDay)

const byDay = (a: AreaFrom, b: AreaFrom) => {
  if (a.from === b.from) return 0
  return a.from === null || (b.from !== null && a.from < b.from) ? -1 : 1
}

/** The area on a day, in cm2; 0 before the ground was there and after it was given up. `areas` lie by their days. */
export const areaOn = (areas: readonly AreaFrom[], day: string): number =>
  // Before its first day there was no such ground.
  areas.findLast(({ from }) => from === null || from <= day)?.areaCm2 ?? 0

/** The area that holds last of all, in cm2, whenever that begins. */
export const areaAtLast = (areas: readonly AreaFrom[]): number => areaOn(areas, '9999-12-31')

const daysFrom = (from: IsoDate, to: IsoDate) => daysBetween(from, to)

/**
 * The area over a span of days, first and last among them: the mean of its days, in whole cm2. 10 m2 to which 5 m2 come
 * for the last 30 of 300 days are 10.5 m2.
 */
export function areaOver(areas: readonly AreaFrom[], { startsOn, endsOn }: Span): number {
  const inside = areas.filter(({ from }) => from !== null && from > startsOn && from <= endsOn)
  const first = areaOn(areas, startsOn)
  if (inside.length === 0) return first
  const days = daysFrom(startsOn, endsOn) + 1
  const steps = [{ from: startsOn, areaCm2: first }, ...inside.map((one) => ({ ...one, from: one.from ?? startsOn }))]
  const sum = steps.reduce((total, { from, areaCm2 }, i) => {
    const until = steps[i + 1]?.from
    return total + areaCm2 * (until ? daysFrom(from, until) : daysFrom(from, endsOn) + 1)
  }, 0)
  return Math.round(sum / days)
}

interface Dated {
  readonly areas: readonly AreaFrom[]
}

/** The pieces of ground that were there on a day, with the area that they had on it. */
export const lyingOn = <T extends Dated>(ground: readonly T[], day: string): (T & { readonly areaCm2: number })[] =>
  ground.map((one) => ({ ...one, areaCm2: areaOn(one.areas, day) })).filter((one) => one.areaCm2 > 0)

/** The pieces of ground that were there over a span of days or some of it, with the mean of its days. */
export const lyingOver = <T extends Dated>(ground: readonly T[], span: Span): (T & { readonly areaCm2: number })[] =>
  ground.map((one) => ({ ...one, areaCm2: areaOver(one.areas, span) })).filter((one) => one.areaCm2 > 0)

export const sumOfAreas = (ground: readonly { readonly areaCm2: number }[]): number =>
  ground.reduce((sum, one) => sum + one.areaCm2, 0)

/** Whether something may be written down of a place on a day: of a bed only while it is there. */
export const isThereOn = (place: { readonly bedId: string | null } & Dated, day: string): boolean =>
  place.bedId === null || areaOn(place.areas, day) > 0
