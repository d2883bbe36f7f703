import { daysBetween, type IsoDate } from '../quantities/dates.ts'
import { inBedFrom } from '../seasons/bed-course.ts'

interface Planting {
  readonly id: string
  readonly bedId: string
  readonly how: string
  readonly sownOn: IsoDate | null
  readonly plantedOn: IsoDate | null
}

interface Rows<P extends Planting> {
  readonly beds: readonly { readonly id: string }[]
  readonly plantings: readonly P[]
  readonly spreadings: readonly {
    readonly bedId: string | null
    readonly plantingId: string | null
    readonly day: IsoDate
    readonly input: string
  }[]
}

interface SownAfter<P> {
  readonly planting: P
  /** The day from which it stood in its bed. */
  readonly date: IsoDate
  readonly days: number
  readonly input: string
}

/**
 * From each spreading to what next came into the ground that it lay on: every planting of the first day on which one
 * came in, that day or later, bed by bed; of two spreadings of one input before the same sowing the later counts. What
 * was spread for one planting waits for that planting alone; where it stood in its bed already it was fed, and nothing
 * is said. How long compost or manure lies before sowing decides how well seed comes up as often as the method does:
 * common practice, no source.
 */
export function spreadToSowing<P extends Planting>({ beds, plantings, spreadings }: Rows<P>): SownAfter<P>[] {
  const dated = plantings.map((planting) => ({ planting, date: inBedFrom(planting) }))
  const found = spreadings.flatMap(({ bedId, plantingId, day, input }) => {
    const ground = plantingId
      ? [dated.filter((one) => one.planting.id === plantingId)]
      : beds
          .filter((bed) => bedId === null || bed.id === bedId)
          .map((bed) => dated.filter((one) => one.planting.bedId === bed.id))
    return ground.flatMap((there) => {
      const later = there.filter((one) => one.date >= day)
      const next = later.map((one) => one.date).sort()[0]
      return later
        .filter((one) => one.date === next)
        .map(({ planting, date }) => ({ planting, date, days: daysBetween(day, date), input }))
    })
  })
  const later = (a: SownAfter<P>) => (b: SownAfter<P>) =>
    b.planting === a.planting && b.input === a.input && b.days < a.days
  return found.filter((one) => !found.some(later(one)))
}
