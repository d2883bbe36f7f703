import { splitExactly } from '../quantities/split-exactly.ts'

type Plantings = readonly { id: string; areaCm2: number; plants: number | null }[]

interface Crate {
  readonly marketableG: number
  readonly unmarketableG: number
  readonly shareRule: string | null
}

/** Divides a shared crate over its plantings by its rule; the parts add up to the gram. */
export function partsOfCrate(
  crate: Crate,
  shares: readonly { plantingId: string; share: number | null }[],
  plantings: Plantings,
) {
  const weights = shares.map((share) => crateWeight(crate.shareRule, share, plantings))
  const [good, bad] = [splitExactly(crate.marketableG, weights), splitExactly(crate.unmarketableG, weights)]
  return shares.map((share, i) => ({
    plantingId: share.plantingId,
    marketableG: good?.[i] ?? 0,
    unmarketableG: bad?.[i] ?? 0,
  }))
}

function crateWeight(rule: string | null, share: { plantingId: string; share: number | null }, plantings: Plantings) {
  const planting = plantings.find((one) => one.id === share.plantingId)
  if (rule === 'given') return share.share ?? 0
  return (rule === 'plants' ? planting?.plants : planting?.areaCm2) ?? 0
}
