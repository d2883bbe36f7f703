import { daysBetween, type IsoDate } from '../quantities/dates.ts'

interface Planting {
  readonly id: string
  readonly bedId: string
  readonly how: string
  readonly sownOn: string | null
  readonly plantedOn: string | null
}

interface Rows<P extends Planting> {
  readonly beds: readonly { readonly id: string }[]
  readonly plantings: readonly P[]
  readonly spreadings: readonly {
    readonly bedId: string | null
    readonly plantingId: string | null
    readonly day: string
    readonly input: string
  }[]
}

interface SownAfter<P> {
  readonly planting: P
  /** The day from which it stood in its bed. */
  readonly date: string
  readonly days: number
  readonly input: string
}

/** The day from which a planting takes room in its bed: what was raised elsewhere comes in when it is planted out. */
export const inBedFrom = (one: Pick<Planting, 'how' | 'sownOn' | 'plantedOn'>): string =>
  (one.how === 'transplanted' ? (one.plantedOn ?? one.sownOn) : (one.sownOn ?? one.plantedOn)) ?? ''

/**
 * From each spreading to what next came into the ground that it lay on: every planting of the first day on which one
 * came in, that day or later, bed by bed; of two spreadings of one input before the same sowing the later counts. What
 * was spread for one planting waits for that planting alone; where it stood in its bed already it was fed, and nothing
 * is said. How long compost or manure lies before sowing decides how well seed comes up as often as the method does:
 * common practice, no source.
 */
export function spreadToSowing<P extends Planting>({ beds, plantings, spreadings }: Rows<P>): SownAfter<P>[] {
  const dated = plantings.filter((one) => inBedFrom(one) !== '')
  const found = spreadings.flatMap(({ bedId, plantingId, day, input }) => {
    const ground = plantingId
      ? [dated.filter((one) => one.id === plantingId)]
      : beds
          .filter((bed) => bedId === null || bed.id === bedId)
          .map((bed) => dated.filter((one) => one.bedId === bed.id))
    return ground.flatMap((there) => {
      const later = there.filter((one) => inBedFrom(one) >= day)
      const next = later.map(inBedFrom).sort()[0]
      return later
        .filter((one) => inBedFrom(one) === next)
        .map((planting) => {
          const date = inBedFrom(planting)
          return { planting, date, days: daysBetween(day as IsoDate, date as IsoDate), input }
        })
    })
  })
  const later = (a: SownAfter<P>) => (b: SownAfter<P>) =>
    b.planting === a.planting && b.input === a.input && b.days < a.days
  return found.filter((one) => !found.some(later(one)))
}
