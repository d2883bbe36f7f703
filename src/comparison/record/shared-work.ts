import { type AreaFrom, areaOver, type Span } from '../../gardens/areas-held.ts'
import { splitExactly } from '../../quantities/split-exactly.ts'

export interface Ground {
  readonly seasons: readonly (Span & { readonly id: string })[]
  readonly beds: readonly { readonly id: string; readonly gardenId: string; readonly areas: readonly AreaFrom[] }[]
  readonly plantings: readonly { readonly id: string; readonly bedId: string }[]
}

interface SharedWork {
  readonly seasonId: string
  readonly minutes: number
  readonly rule: string
}

/** Divides shared minutes over gardens by their rule; the parts add up to the minute. By area: as it lay in the season of the work. */
export function partsOfWork(
  { seasonId, minutes, rule }: SharedWork,
  shares: readonly { gardenId: string; share: number | null }[],
  ground: Ground,
) {
  const weights = shares.map((share) => {
    if (rule === 'given') return share.share ?? 0
    return rule === 'equal' ? 1 : areaOf(share.gardenId, seasonId, ground)
  })
  const parts = splitExactly(minutes, weights)
  return shares.map((share, i) => ({ gardenId: share.gardenId, minutes: parts?.[i] ?? 0 }))
}

const areaOf = (gardenId: string, seasonId: string, { seasons, beds }: Ground): number => {
  const own = beds.filter((bed) => bed.gardenId === gardenId)
  return own.reduce((sum, bed) => sum + areaIn(bed, seasonId, seasons), 0)
}

function areaIn({ areas }: Ground['beds'][number], seasonId: string, seasons: Ground['seasons']): number {
  const season = seasons.find((one) => one.id === seasonId)
  return season ? areaOver(areas, season) : 0
}

interface Where {
  readonly seasonId: string
  readonly gardenId: string | null
  readonly bedId: string | null
  readonly plantingId: string | null
}

/** The beds on which something was done: of a whole garden those that had ground in that season. */
export function bedsAt({ seasonId, ...where }: Where, { seasons, beds, plantings }: Ground): string[] {
  if (where.gardenId) {
    const own = beds.filter((bed) => bed.gardenId === where.gardenId && areaIn(bed, seasonId, seasons) > 0)
    return own.map((bed) => bed.id)
  }
  const bedId = where.bedId ?? plantings.find((planting) => planting.id === where.plantingId)?.bedId
  return bedId ? [bedId] : []
}
