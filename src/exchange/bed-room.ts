export interface InBed {
  readonly areaCm2: number
  readonly interplanted: number
  readonly how: string
  readonly sownOn: string | null
  readonly plantedOn: string | null
  readonly clearedOn: string | null
}

/** From when a planting takes room: raised elsewhere, only once it is planted out. As the database counts (`in_bed_from`). */
const fromDay = ({ how, sownOn, plantedOn }: InBed) =>
  (how === 'transplanted' ? (plantedOn ?? sownOn) : (sownOn ?? plantedOn)) ?? ''

/**
 * Whether one planting more fits in its bed beside those that stand: on the days on which something starts, what stands
 * together is no larger than the bed. What is interplanted takes no room.
 */
export function fitsIn(bedCm2: number, standing: readonly InBed[], more: InBed): boolean {
  if (more.interplanted === 1) return true
  const all = [...standing.filter((one) => one.interplanted === 0), more]
  return all.every((start) => {
    const day = fromDay(start)
    const there = all.filter((one) => fromDay(one) <= day && (one.clearedOn === null || one.clearedOn > day))
    return there.reduce((sum, one) => sum + one.areaCm2, 0) <= bedCm2
  })
}
