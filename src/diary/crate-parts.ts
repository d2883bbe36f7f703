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
    // A crate that cannot be divided gives nothing to a part: its whole stands beside.
    marketableG: good?.[i] ?? 0,
    // The same.
    unmarketableG: bad?.[i] ?? 0,
  }))
}

function crateWeight(rule: string | null, share: { plantingId: string; share: number | null }, plantings: Plantings) {
  const planting = plantings.find((one) => one.id === share.plantingId)
  // A part given by hand is never null; the column is, for the other rules.
  if (rule === 'given') return share.share ?? 0
  // A planting without plants counted weighs nothing in a division by plants.
  return (rule === 'plants' ? planting?.plants : planting?.areaCm2) ?? 0
}
