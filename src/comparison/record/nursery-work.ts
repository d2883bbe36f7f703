import type { Nurseries } from './nursery.ts'
import type { SpreadingRecord } from './trial-record.ts'

interface Part {
  readonly gardenId: string | null
  readonly bedIds: readonly string[]
  readonly minutes: number
  readonly someBeds: boolean
  readonly writtenFor: readonly string[] | null
}

/** Work on a nursery is that of the beds that received what was raised there; the rest stays with its own ground. */
export function partsOfNursery<P extends Part>(part: P, seasonId: string, nursery: Nurseries) {
  const divided = nursery.divided(seasonId, part.bedIds, part.minutes)
  if (!divided) return [{ ...part, ofNursery: false }]
  const { rest, parts } = divided
  const received = { gardenId: null, someBeds: true, writtenFor: null, ofNursery: true }
  return [
    ...(rest.amount > 0 ? [{ ...part, bedIds: rest.bedIds, minutes: rest.amount, ofNursery: false }] : []),
    ...parts.map(({ bedId, amount }) => ({ ...part, ...received, bedIds: [bedId], minutes: amount })),
  ]
}

/** What was spread on a nursery, likewise. */
export const nurseryCosts = (spreadings: readonly SpreadingRecord[], nursery: Nurseries): SpreadingRecord[] =>
  spreadings.flatMap((one) => {
    const of = (minor: number | null | undefined) =>
      nursery.divided(one.seasonId, one.bedIds, minor === null || minor === undefined ? 0 : minor)
    const [cost, cash] = [of(one.costMinor), of(one.cashMinor)]
    if (!cost || !cash) return [one]
    const part = (bedIds: readonly string[], costMinor: number, cashMinor: number | undefined): SpreadingRecord => {
      const priced = { ...one, bedIds, costMinor: one.costMinor === null ? null : costMinor }
      return one.cashMinor === null || one.cashMinor === undefined || cashMinor === undefined
        ? priced
        : { ...priced, cashMinor }
    }
    const parts = cost.parts.map(({ bedId, amount }, i) => ({
      ...part([bedId], amount, cash.parts[i]?.amount),
      gardenId: null,
      ofNursery: true,
    }))
    return cost.rest.bedIds.length === 0
      ? parts
      : [part(cost.rest.bedIds, cost.rest.amount, cash.rest.amount), ...parts]
  })
