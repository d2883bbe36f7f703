import { daysBetween, type IsoDate } from '../quantities/dates.ts'

/** A planting as far as the ground it takes goes. */
export interface InBed {
  readonly id: string
  readonly areaCm2: number
  readonly how: string
  readonly sownOn: IsoDate | null
  readonly plantedOn: IsoDate | null
  readonly clearedOn: IsoDate | null
  /** As it is planned, until it is cleared. */
  readonly standsUntil?: IsoDate | null
  readonly interplanted: number
}

export interface CourseSpan {
  readonly from: IsoDate
  readonly to: IsoDate
}

/** Days on which nothing stood, first and day after the last; `days` between them. */
export interface Empty {
  readonly kind: 'empty'
  readonly from: IsoDate
  readonly to: IsoDate
  readonly days: number
}

export interface Standing<P extends InBed> {
  readonly kind: 'planting'
  readonly planting: P
  readonly from: IsoDate
  /** Null where it is not known when it goes. */
  readonly until: IsoDate | null
  /** What was cleared last before it came, where nothing stood any more on its first day. */
  readonly after: readonly P[]
  readonly emptyDays: number | null
  /** What stood in the bed already on its first day, or came on that day before it in the list. */
  readonly beside: readonly P[]
}

interface BedCourse<P extends InBed> {
  readonly steps: readonly (Empty | Standing<P>)[]
  /** Of the fullest day in the span; what is interplanted takes no room of its own. */
  readonly fullestCm2: number
}

/** The day from which a planting takes room in its bed: planted out, where it was raised elsewhere. */
export function inBedFrom({ how, sownOn, plantedOn }: Pick<InBed, 'how' | 'sownOn' | 'plantedOn'>): IsoDate {
  const day = how === 'transplanted' ? (plantedOn ?? sownOn) : (sownOn ?? plantedOn)
  if (day === null) throw new RangeError('The record holds no planting that was neither sown nor planted.')
  return day
}

/** The day on which it was cleared, or is meant to go; null where neither is known. */
export const endOf = ({ clearedOn, standsUntil }: Pick<InBed, 'clearedOn' | 'standsUntil'>): IsoDate | null =>
  clearedOn ?? standsUntil ?? null

/**
 * What follows what in one bed over a span of days, with the ground that lies empty before, between and after. A
 * planting whose end is not known stands to the end of the span. A day on which one is cleared is free for the next.
 */
export function bedCourse<P extends InBed>(plantings: readonly P[], span: CourseSpan): BedCourse<P> {
  const held = plantings
    .map((planting) => ({ planting, from: inBedFrom(planting), until: endOf(planting) }))
    .filter((one) => one.from <= span.to && (one.until === null || one.until > span.from))
    .sort((a, b) => (a.from < b.from ? -1 : a.from > b.from ? 1 : a.planting.id < b.planting.id ? -1 : 1))
  const steps: (Empty | Standing<P>)[] = []
  let freeFrom: IsoDate | null = span.from
  held.forEach(({ planting, from, until }, i) => {
    if (freeFrom !== null && freeFrom < from) steps.push(emptyBetween(freeFrom, from))
    const earlier = held.slice(0, i)
    const beside = earlier.filter((one) => one.until === null || one.until > from)
    const last = beside.length > 0 ? null : latest(earlier.map((one) => one.until))
    const after = last === null ? [] : earlier.filter((one) => one.until === last)
    steps.push({
      kind: 'planting',
      planting,
      from,
      until,
      after: after.map((one) => one.planting),
      emptyDays: last === null ? null : daysBetween(last, from),
      beside: beside.map((one) => one.planting),
    })
    freeFrom = freeFrom === null || until === null ? null : latest([freeFrom, until])
  })
  if (freeFrom !== null && freeFrom < span.to) steps.push(emptyBetween(freeFrom, span.to))
  return { steps, fullestCm2: fullest(held) }
}

const emptyBetween = (from: IsoDate, to: IsoDate): Empty => ({
  kind: 'empty',
  from,
  to,
  days: daysBetween(from, to),
})

const latest = (days: readonly (IsoDate | null)[]) =>
  days.reduce((most, day) => (day !== null && (most === null || day > most) ? day : most), null)

/** A bed is fullest on a day on which something starts in it. */
function fullest(held: readonly { planting: InBed; from: IsoDate; until: IsoDate | null }[]): number {
  const roomy = held.filter((one) => !one.planting.interplanted)
  const on = (day: string) =>
    roomy
      .filter((one) => one.from <= day && (one.until === null || one.until > day))
      .reduce((sum, one) => sum + one.planting.areaCm2, 0)
  return Math.max(0, ...roomy.map((one) => on(one.from)))
}
