import { splitExactly } from '../../quantities/split-exactly.ts'

export interface Ground {
  readonly beds: readonly { id: string; gardenId: string; areaCm2: number }[]
  readonly plantings: readonly { id: string; bedId: string; areaCm2: number; plants: number | null }[]
}

/** Divides shared minutes over gardens by their rule; the parts add up to the minute. */
export function partsOfWork(
  minutes: number,
  rule: string,
  shares: readonly { gardenId: string; share: number | null }[],
  ground: Ground,
) {
  const parts = splitExactly(
    minutes,
    shares.map((share) => gardenWeight(rule, share, ground)),
  )
  return shares.map((share, i) => ({ gardenId: share.gardenId, minutes: parts?.[i] ?? 0 }))
}

function gardenWeight(rule: string, share: { gardenId: string; share: number | null }, { beds }: Ground): number {
  if (rule === 'given') return share.share ?? 0
  if (rule === 'equal') return 1
  return beds.filter((bed) => bed.gardenId === share.gardenId).reduce((sum, bed) => sum + bed.areaCm2, 0)
}

interface Where {
  readonly gardenId: string | null
  readonly bedId: string | null
  readonly plantingId: string | null
}

export function bedsAt(where: Where, { beds, plantings }: Ground): string[] {
  if (where.gardenId) return beds.filter((bed) => bed.gardenId === where.gardenId).map((bed) => bed.id)
  const bedId = where.bedId ?? plantings.find((planting) => planting.id === where.plantingId)?.bedId
  return bedId ? [bedId] : []
}
