import type { IsoDate } from '../quantities/dates.ts'
import { type AreaFrom, areaOn } from './areas-held.ts'

/** A bed of the garden, as far as its ground goes. */
interface BedKnown {
  readonly id: string
  readonly blockId: string | null
  readonly areas: readonly AreaFrom[]
}

interface From {
  readonly fromDay: IsoDate
}

/** What is done to the ground of a garden on a day. Areas in cm2. */
export type GroundAct =
  | (From & { readonly act: 'added'; readonly name: string; readonly areaCm2: number })
  | (From & { readonly act: 'resized'; readonly bedId: string; readonly areaCm2: number })
  | (From & { readonly act: 'parted'; readonly bedId: string; readonly name: string; readonly areaCm2: number })
  | (From & { readonly act: 'joined'; readonly bedId: string; readonly otherId: string })
  | (From & { readonly act: 'given up'; readonly bedId: string })

/** What an act comes to: a bed that begins on its day, and areas that hold from it. */
export interface GroundRows {
  readonly kind: 'rows'
  readonly bed: {
    readonly name: string
    readonly areaCm2: number
    readonly thereSince: IsoDate
    readonly blockId: string | null
  } | null
  readonly areas: readonly { readonly bedId: string; readonly fromDay: IsoDate; readonly areaCm2: number }[]
}

export interface GroundRefused {
  readonly kind: 'refused'
  readonly field: 'bedId' | 'otherId' | 'areaCm2' | 'fromDay'
  /**
   * `not there`: the bed had no ground before that day. `later`: its area changes on that day or after it already,
   * which would be undone. `too large`: the part is no less than the bed. `alike`: nothing would change. `itself`: a
   * bed is joined to itself.
   */
  readonly code: 'not there' | 'later' | 'too large' | 'alike' | 'itself'
}

/**
 * The one rule for a change of a garden's ground: what is known of its beds and what was typed, to the rows that it
 * writes. An area holds from its day and no change reaches back, so that an earlier season keeps the ground that it
 * had.
 */
export function groundChange(beds: readonly BedKnown[], typed: GroundAct): GroundRows | GroundRefused {
  const { fromDay } = typed
  if (typed.act === 'added') return rows({ ...begun(typed), blockId: null }, [])
  const bed = known(beds, typed.bedId, fromDay, 'bedId', typed.act === 'parted')
  if (bed.kind === 'refused') return bed
  if (typed.act === 'given up') return rows(null, [{ bedId: typed.bedId, fromDay, areaCm2: 0 }])
  if (typed.act === 'resized') {
    if (typed.areaCm2 === bed.areaCm2) return refused('areaCm2', 'alike')
    return rows(null, [{ bedId: typed.bedId, fromDay, areaCm2: typed.areaCm2 }])
  }
  if (typed.act === 'parted') {
    const areaCm2 = bed.areaCm2 - typed.areaCm2
    if (areaCm2 <= 0) return refused('areaCm2', 'too large')
    return rows({ ...begun(typed), blockId: bed.blockId }, [{ bedId: typed.bedId, fromDay, areaCm2 }])
  }
  if (typed.otherId === typed.bedId) return refused('otherId', 'itself')
  const other = known(beds, typed.otherId, fromDay, 'otherId')
  if (other.kind === 'refused') return other
  return rows(null, [
    { bedId: typed.otherId, fromDay, areaCm2: 0 },
    { bedId: typed.bedId, fromDay, areaCm2: bed.areaCm2 + other.areaCm2 },
  ])
}

const begun = ({ name, areaCm2, fromDay }: From & { readonly name: string; readonly areaCm2: number }) => ({
  name,
  areaCm2,
  thereSince: fromDay,
})

const rows = (bed: GroundRows['bed'], areas: GroundRows['areas']): GroundRows => ({ kind: 'rows', bed, areas })

const refused = (field: GroundRefused['field'], code: GroundRefused['code']): GroundRefused => ({
  kind: 'refused',
  field,
  code,
})

interface Known {
  readonly kind: 'bed'
  readonly areaCm2: number
  readonly blockId: string | null
}

function known(
  beds: readonly BedKnown[],
  id: string,
  fromDay: IsoDate,
  field: 'bedId' | 'otherId',
  /** A bed is parted into as many as are wanted, all from one day. */
  sameDay = false,
): Known | GroundRefused {
  const bed = beds.find((one) => one.id === id)
  if (!bed) return refused(field, 'not there')
  if (bed.areas.some(({ from }) => from !== null && (from > fromDay || (from === fromDay && !sameDay))))
    return refused('fromDay', 'later')
  const areaCm2 = areaOn(bed.areas, fromDay)
  return areaCm2 === 0 ? refused(field, 'not there') : { kind: 'bed', areaCm2, blockId: bed.blockId }
}
